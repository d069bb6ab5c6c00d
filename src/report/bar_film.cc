// SPDX-License-Identifier: Apache-2.0
#include "report/bar_film.h"

#include "core/input_error.h"
#include "core/text_file.h"
#include "report/chart_texts.h"
#include "report/draw_charts.h"
#include "report/overlay_film.h"
#include "series/fingerprint.h"
#include "series/series_plan.h"
#include "series/swing_json.h"
#include "series/version.h"

#include <filesystem>
#include <optional>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

/// Raised by one whenever films come to look different.
constexpr int kFilmRevision = 1;

OverlayOptions options_of(const SeriesResult& series, const BarResult& bar, bool sound) {
  OverlayOptions options;
  options.title = bar.specimen.id;
  options.stamp = demonstration_stamp(series);
  options.sound = sound;
  options.threads = 1;  // bars are drawn beside one another
  return options;
}

/// The record stands for the clip that it was measured from.
std::string made_from(const BarResult& bar, const OverlayOptions& options) {
  const std::string mark = options.title + "\n" + options.stamp + "\n" +
                           (options.sound ? "sound" : "silent") + "\n" + swing_json(*bar.swing);
  return "swingloss " + std::string(kVersion) + " film " + std::to_string(kFilmRevision) + " " +
         std::to_string(fnv1a(mark)) + "\n";
}

/// One bar's film and the note beside it.
class Film {
 public:
  Film(const SeriesResult& series, std::size_t index, Shelf& shelf)
      : series_(series),
        bar_(series.bars[index]),
        shelf_(shelf),
        film_("overlays/" + stem_of(series, index) + ".mp4"),
        note_("overlays/" + stem_of(series, index) + ".made-from") {}

  [[nodiscard]] const std::string& name() const { return film_; }

  /// What was said when the film was made; nothing where there is none, or another.
  [[nodiscard]] std::optional<std::string> said(bool with_sound) const {
    std::error_code fault;
    const fs::path note(shelf_.path_of(note_));
    if (!fs::is_regular_file(fs::path(shelf_.path_of(film_)), fault) ||
        !fs::is_regular_file(note, fault))
      return {};
    const std::string mark = made_from(bar_, options_of(series_, bar_, with_sound));
    const std::string text = read_file(note.string());
    if (text.rfind(mark, 0) != 0) return {};
    return text.substr(mark.size());
  }

  /// A film without its note is no film: the note goes first and comes last.
  std::string make(bool with_sound) {
    const fs::path film(shelf_.path_of(film_));
    std::error_code fault;
    fs::create_directories(film.parent_path(), fault);
    fs::remove(fs::path(shelf_.path_of(note_)), fault);
    const OverlayOptions options = options_of(series_, bar_, with_sound);
    const std::string clip = path_in_series(series_.folder, bar_.specimen.clip, "clips");
    const OverlayFilm made = write_overlay(*bar_.swing, clip, film.string(), options);
    std::string words;
    for (const Remark& remark : made.remarks) words += remark.text;
    shelf_.put(note_, made_from(bar_, options) + words);
    return words;
  }

  void keep() {
    shelf_.keep(film_);
    shelf_.keep(note_);
  }

 private:
  const SeriesResult& series_;
  const BarResult& bar_;
  Shelf& shelf_;
  std::string film_, note_;
};

}  // namespace

void film_bar(const SeriesResult& series,
              std::size_t index,
              const ReportOptions& options,
              Shelf& shelf,
              BarPictures& pictures) {
  const BarResult& bar = series.bars[index];
  if (!bar.swing || bar.swing->typed_track || bar.specimen.clip.empty()) return;
  Film film(series, index, shelf);
  const bool wanted = options.overlays || options.films.count(bar.specimen.id) > 0;
  std::optional<std::string> said = film.said(wanted && options.sound);
  if (!said && !wanted) said = film.said(true);
  if (!said && wanted) {
    try {
      said = film.make(options.sound);
    } catch (const InputError& error) {
      pictures.film_fault = std::string("The film could not be made. ") + error.what();
    }
  }
  if (!said) return;
  pictures.film = film.name();
  pictures.film_fault = *said;
  film.keep();
}

}  // namespace swingloss
