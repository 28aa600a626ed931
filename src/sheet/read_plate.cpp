#include "sheet/read_tables.h"

namespace layright {

std::vector<Key> plate_keys(TomlReader const& reader, PlateOptions& plate) {
  auto const light = [&reader, &plate](Entry const& entry) -> Outcome {
    if (auto const read = reader.number(plate.light_pct)(entry); !read) return read;
    return plate.light_pct <= 100 ? done() : Outcome(reader.at(entry, "a lightness is at most 100"));
  };
  auto const pull_in = [](std::string const& text) { return parse_pull_in(text); };
  return {{"plate", reader.parsed(plate.from, parse_plate, "\"off\", \"all\", \"light\", \"solid\" or \"own\"")},
          {"pull-in", reader.parsed(plate.pull_in, pull_in, "a length with its unit in quotes, such as \"0.5pt\"")},
          {"thin", reader.parsed(plate.thin, parse_thin, "\"keep\" or \"bare\"")},
          {"fade", reader.parsed(plate.fade, parse_fade, "\"half\" or \"gray\"")},
          {"plate-as", reader.parsed(plate.as, parse_plate_as, "\"spot\", \"page\" or \"file\"")},
          {"plate-first", reader.flag(plate.first)},
          {"register-marks", reader.flag(plate.register_marks)},
          {"none-under-black", reader.flag(plate.none_under_black)},
          {"plate-light-pct", light}};
}

}  // namespace layright
