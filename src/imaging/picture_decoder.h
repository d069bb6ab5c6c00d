// SPDX-License-Identifier: Apache-2.0
/// \file picture_decoder.h
/// Decodes one stream and keeps back every picture that damage may have touched. Internal to
/// imaging.
#pragma once

#include "imaging/demuxer.h"
#include "imaging/libav_handles.h"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace swingloss {

/// Pictures of a Demuxer in the order of showing.
///
/// A decoder that meets damage patches the picture with pieces of its neighbours and goes on,
/// and every later picture up to the next key picture inherits the patch. Such pictures look
/// right and are wrong exactly where something moves. So two ways of decoding are offered:
/// - Fast: on several threads. Everything is handed out, and `suspicious()` tells that damage
/// was
///   met somewhere; then what was handed out so far is sound and the next picture may not be.
/// - Careful: on one thread, where each objection can be put down to one packet. That packet's
///   picture and all coded after it are kept back, up to the next key picture.
/// The careful way hands out the same pictures as the fast one as long as nothing is damaged.
///
/// Damage that leaves the coded data valid cannot be seen: VP9, Motion JPEG and MPEG-4 carry
/// little or no check of their own.
class PictureDecoder {
 public:
  enum class Way { Fast, Careful };

  /// \param threads  for Way::Fast; 0 takes the machine's
  /// \throws InputError when the decoder cannot be set up for this stream
  PictureDecoder(Demuxer demuxer, Way way, int threads);

  /// The next picture, valid until the next call; null at the end.
  const AVFrame* next();

  [[nodiscard]] const Demuxer& source() const { return demuxer_; }
  /// Whether any decoder has objected since this one was made. May be true for another's sake.
  [[nodiscard]] bool suspicious() const;
  /// How many packets could not be decoded cleanly; exact only for Way::Careful.
  [[nodiscard]] int damages() const { return damages_; }

 private:
  /// Sends one more packet, or the end. \return false when there is no more to do
  bool feed();
  void note_damage(std::size_t order);
  void forget_damage_before(const AVFrame& key);
  bool trusted(const AVFrame& frame);

  /// A packet that could not be decoded cleanly and may still spoil pictures to come.
  struct Damage {
    std::size_t order = 0;
    std::int64_t stamp = 0;
  };

  Demuxer demuxer_;
  Way way_;
  CodecHandle codec_;
  PacketHandle packet_;
  FrameHandle frame_;
  /// Time stamps of the packets sent; a packet's (and its picture's) "order" is its place here.
  std::vector<std::int64_t> stamps_;
  std::vector<Damage> open_damage_;
  long objections_before_ = 0;
  bool ended_ = false;
  int damages_ = 0, read_errors_ = 0;
};

}  // namespace swingloss
