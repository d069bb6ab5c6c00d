// SPDX-License-Identifier: Apache-2.0
#include "rig/cautions.h"
#include "series/new_series.h"

namespace swingloss {
namespace {

constexpr const char* kHead = R"(# How to fill in this folder

1. Copy the clips into `clips/`, one a bar, and one or two swings without a bar.
2. `rig.json`: the constants of the pendulum. `swingloss rig rig.json` checks them.
3. `specimens.csv`: a row a bar, in any spreadsheet (save as CSV; `;` and decimal commas are understood, quoted
   ones also between commas).
4. `series.json`: title and settings.
5. `swingloss run .` measures, ranks, and writes everything into `results/`. Run it again whenever something
   changed: finished clips are not measured twice.
)";

constexpr const char* kSpecimens = R"(
## specimens.csv

Only `id` and `material` must be filled in, and either `clip` or `energy_J`. An empty field means: not known.

| column | what goes into it |
| --- | --- |
| `id` | short name of the bar, each once; letters, digits and `. _ - +`, no blanks, for it names files too |
| `material` | what it is made of; tells groups apart |
| `condition` | as-made, annealed, dried, conditioned, or your own word; tells groups apart |
| `orientation` | how it was printed or cut: flat, on-edge, upright, or your own word; tells groups apart |
| `rig` | filmed: the rig file, if it is not the one of `series.json`; typed: name of the instrument |
| `clip` | the film of the blow: a file in `clips/`, or a folder of numbered pictures; each bar its own |
| `photos` | pictures of the broken section, in `photos/`, several with `|` between them: measured and judged, beside the energy |
| `thickness_mm` | size of the section along the notch, h |
| `width_mm` | what remains under the notch, b_N |
| `notch` | your word for it: A, B, none, 0.25 mm |
| `break_type` | `C` complete, `H` hinge, `P` partial, `N` none: the letters of ISO 179-1 and ISO 180 |
| `energy_J` | absorbed energy from another instrument, losses taken off; instead of a clip |
| `energy_u_J` | its standard uncertainty (one sigma) |
| `limit` | `>`: the bar took more than `energy_J` (it did not break, or the scale ended); `<`: less |
| `mass_g` | weight of the bar |
| `made_on`, `tested_on` | dates, as 2024-03-01; any other is remarked on |
| `note` | anything |

Two rows as an example, the first filmed, the second from a machine with a scale to 4 J that did not break it:

```
id,material,condition,orientation,rig,clip,photos,thickness_mm,width_mm,notch,break_type,energy_J,energy_u_J,limit,mass_g,made_on,tested_on,note
K1,Korvel,annealed,flat,,K1.mp4,,4.02,8.01,A,C,,,,6.1,2024-02-01,2024-03-01,
K2,Korvel,annealed,flat,lab machine,,,4.01,8.02,A,N,4,,>,6.1,2024-02-01,2024-03-01,
```
)";

constexpr const char* kMasses = R"(
## masses.csv

Only where bars were weighed or measured while they dried or took up water: a row a weighing.

| column | what goes into it |
| --- | --- |
| `id` | a bar's id, or a name for a piece that was weighed for others |
| `material`, `condition` | for such a piece: the bars it stands for |
| `date` or `day` | when, as 2024-03-01, or days counted from any start |
| `mass_g` | weight |
| `dry_mass_g` | weight when dry, if known; else the first weighing counts as no uptake |
| `thickness_mm` | of the piece, for the diffusion constant |
| `size_mm`, `design_mm` | a length of the piece, and the same on the drawing |
| `note` | anything |

A bar whose `tested_on` lies before its record had settled is counted, and flagged in the ranking.
)";

constexpr const char* kSeries = R"(
## series.json

| field | what goes into it |
| --- | --- |
| `format` | stays as it is |
| `title` | heads the report |
| `rig` | rig file of all bars whose row names no other |
| `standard`, `geometry` | words for the report: "ISO 179-1", "edgewise, notch A"; it says "made like", never "according to" |
| `label` | left out; in demo series it says that the data are invented |
| `free_swings` | clips of swings without a bar, `["free1.mp4"]`: measured first, for the friction and the reduced length of the rig |
| `group_by` | what tells groups apart beside the material: `condition`, `orientation`, both, or `[]` |
| `confidence` | of intervals and verdicts, 0.5 to 0.999 |
| `quantity` | `"strength"` (kJ/m2) or `"energy"` (J); left out: strength if every bar has its section |
| `section_u_mm` | standard uncertainty of `thickness_mm` and of `width_mm` |
| `ruler_mm` | length of the scale card's ruler on your print; without it sizes from photographs may be off by 3 % |
| `within` | margin of "no big difference", as a share: 0.10 asks whether two means lie within 10 % |
| `power` | chance with which "bars needed" would find the difference, 0.80 |
| `break_types` | `"apart"` as ISO 179-1 and ISO 180 ask, or `"pooled"`: partial breaks averaged with the others, and said |
| `base_condition`, `base_orientation` | what effects are counted from; left out: as-made, flat |
| `reference_material` | a material broken on every rig: ties the rigs together, with the tie's own uncertainty |
)";

constexpr const char* kRig = R"(
## rig.json

A quantity is `{ "value": 0.365, "u": 0.0005 }`, with `u` one standard uncertainty, in the unit that ends the
field's name; a plain number is given a customary `u`, and the report says so.

| field | how to get it |
| --- | --- |
| `format` | stays as it is |
| `name`, `note` | name the rig in the report; anything |
| `made_like` | a standard's name, as "ISO 179-1": its limits are then compared |
| `moment_Nm` | m g L: force (N) on a scale under the arm held level, times its distance (m) from the axle |
| `scale_reading_kg`, `scale_radius_m` | instead of it: what the scale shows, and where it carries the arm |
| `mass_kg`, `com_m` | instead of it: mass of arm and hammer, axle to its centre of mass |
| `reduced_length_m` | g T^2 / (4 pi^2) from the period T of small swings |
| `period_small_s`, `period_amplitude_deg` | instead of it: that period, and the amplitude it was timed at |
| `strike_radius_m` | from the axle to the middle of the blow |
| `gravity_m_per_s2` | of your place; 9.81 with u 0.02 covers every place below 1000 m |
| `latitude_deg`, `height_m` | instead of it: where the rig stands |
| `release_angle_deg` | where a latch fixes it, from hanging rest; left out if the arm is let go by hand |
| `capacity_J` | the energy that the rig is sold or built for |
| `zero` | how hanging rest is found: "rest", "motion", "plumb" or "picture" |
| `friction` | written by `swingloss rig rig.json --free free1.mp4 --write rig.json`; not needed where `free_swings` are listed |
)";

std::string cautions_text() {
  std::string text = "\n## Before the arm is lifted\n\n";
  for (const std::string& caution : safety_cautions()) text += "- " + caution + "\n";
  return text;
}

}  // namespace

std::string fields_text() {
  return std::string(kHead) + cautions_text() + kSpecimens + kMasses + kSeries + kRig;
}

}  // namespace swingloss
