#include "command/plate_options.h"

#include <CLI/CLI.hpp>

#include "command/target_options.h"

namespace layright {

void add_plate_options(CLI::App& command, PlateWords& w) {
  command.add_option("--plate", w.plate, "the white plate, made from the art: off, all, light, solid or own")->type_name("WORD");
  command.add_option("--pull-in", w.pull_in, "how far the white stays inside the ink, e.g. 0.5pt")->type_name("LENGTH");
  command.add_option("--thin", w.thin, "lines too fine for the pull-in: keep (a core of white) or bare")->type_name("WORD");
  command.add_option("--fade", w.fade, "soft edges: half (white from half strength on) or gray (as much white as ink)")->type_name("WORD");
  command.add_option("--plate-light-pct", w.light_pct, "of --plate light: how light a color must be")->type_name("N")->check(CLI::Range(0.0, 100.0));
  command.add_flag("--none-under-black", w.none_under_black, "no white under black");
  command.add_option("--plate-as", w.as, "spot (a spot color of the page), page (a page of its own) or file (a second file, OUT-white.pdf)")
      ->type_name("WORD");
  command.add_flag("--plate-first", w.first, "of --plate-as page: before the art's page, not after it");
  command.add_flag("--register-marks", w.register_marks, "crosses at the same places on the art and on a plate that lies apart");
}

Outcome resolve_plate(PlateWords const& w, Target& target) {
  auto& plate = target.plate;
  if (auto o = take_word(w.plate, "--plate", parse_plate, plate.from); !o) return o;
  if (auto o = take_word(w.pull_in, "--pull-in", parse_pull_in, plate.pull_in); !o) return o;
  if (auto o = take_word(w.thin, "--thin", parse_thin, plate.thin); !o) return o;
  if (auto o = take_word(w.fade, "--fade", parse_fade, plate.fade); !o) return o;
  if (auto o = take_word(w.as, "--plate-as", parse_plate_as, plate.as); !o) return o;
  if (w.light_pct >= 0) plate.light_pct = w.light_pct;
  plate.none_under_black = plate.none_under_black || w.none_under_black;
  plate.first = plate.first || w.first;
  plate.register_marks = plate.register_marks || w.register_marks;
  return check_plate_suits(plate, target.press);
}

}  // namespace layright
