// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "fuzz/scratch_file.h"
#include "fuzz/targets.h"
#include "imaging/frame_source.h"
#include "imaging/libav_handles.h"
#include "imaging/sound_track.h"

namespace swingloss::test {

void fuzz_clip(const std::string& bytes) {
  constexpr int kPictures = 8, kPackets = 64;
  const ScratchFile file(bytes);
  read_or_refuse<InputError>([&] {
    ReadOptions options;
    options.threads = 1;
    const auto source = open_clip(file.path(), options);
    for (int i = 0; i < kPictures && source->next(); ++i) continue;
    (void)source->remarks();
  });
  read_or_refuse<InputError>([&] {
    SoundTrack sound(file.path());
    if (sound.stream() == nullptr) return;
    const PacketHandle packet = make_packet();
    for (int i = 0; i < kPackets && sound.next(*packet); ++i) continue;
  });
}

}  // namespace swingloss::test
