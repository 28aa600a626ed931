#include "command/target_options.h"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <fstream>

#include "check/check.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

template <class Map>
Error unknown_name(std::string const& what, std::string const& name, Map const& known) {
  std::vector<std::string> names;
  for (auto const& [n, unused] : known) names.push_back(n);
  std::string message = "there is no " + what + " '" + name + "' in the configuration";
  if (auto const near = nearest_name(name, names); !near.empty()) message += "; did you mean '" + near + "'?";
  else if (names.empty()) message += ", which names none";
  else {
    message += "; it knows";
    for (auto const& n : names) message += " " + n;
  }
  return usage_error(message);
}

Outcome override_sheet(TargetWords const& words, Configuration const& configuration, Unit unit, Target& target) {
  if (!words.sheet.empty()) {
    auto sheet = find_sheet(configuration, words.sheet);
    if (!sheet && configuration.targets.contains(words.sheet))
      return usage_error("'" + words.sheet + "' is a target, not a sheet: say --target " + words.sheet);
    if (!sheet) return usage_error("--sheet: " + sheet.error().message);
    target.sheet = *sheet;
  }
  if (!words.margin.empty()) {
    auto const margin = parse_length(words.margin);
    if (!margin) return usage_error("--margin: " + margin.error().message);
    target.sheet.margins = Margins::all(*margin);
  }
  if (!words.feed.empty()) {
    auto const feed = parse_feed(words.feed);
    if (!feed) return usage_error("--feed: " + feed.error().message);
    target.sheet.feed = *feed;
  }
  if (auto const fits = check_margins(target.sheet, unit); !fits) return fits.error();
  return done();
}

Outcome choose_target(TargetWords const& words, ResolvedTarget& out) {
  auto const& targets = out.configuration.targets;
  out.target.limits = out.configuration.limits;
  out.target.letters = out.configuration.letters;
  if (!words.target.empty()) {
    auto const found = targets.find(words.target);
    if (found == targets.end() && out.configuration.sheets.contains(words.target))
      return usage_error("'" + words.target + "' is a sheet, not a target: say --sheet " + words.target + ", and --reading wrong, right or as-is");
    if (found == targets.end()) return unknown_name("target", words.target, targets);
    out.target = found->second;
    out.reading_said = true;
    return done();
  }
  if (!words.sheet.empty()) return done();
  if (targets.size() == 1) {
    out.target = targets.begin()->second;
    out.reading_said = true;
    out.assumed = "the only target of the configuration";
  } else if (targets.empty()) {
    out.assumed = "no target named: the usual sheet is meant";
  } else {
    out.assumed = "no target named: the usual sheet is meant; --target takes";
    for (auto const& [name, unused] : targets) out.assumed += " " + name;
  }
  return done();
}

Outcome check_ids(std::vector<std::string> const& words, char const* option, std::set<std::string, std::less<>>& into) {
  for (auto const& id : words) {
    if (id.empty()) continue;
    // What a press does not take is told by its page setup, not by a check of the file.
    bool const of_press = id.starts_with("press.") && std::string_view(option) == "--accept";
    if (!of_press && !find_check(id)) return no_check_error(option, id);
    into.insert(id);
  }
  return done();
}

Result<std::string> first_line(std::string const& path) {
  std::ifstream in(path, std::ios::binary);
  std::string line;
  if (!in || !std::filesystem::is_regular_file(path)) return Error{ErrorKind::no_input, "--password-file: " + path + " cannot be read"};
  std::getline(in, line);
  if (!line.empty() && line.back() == '\r') line.pop_back();
  return line;
}

}  // namespace

Error no_check_error(std::string const& option, std::string const& id) {
  std::vector<std::string> ids;
  for (auto const& c : all_checks()) ids.emplace_back(c.id);
  auto const near = nearest_name(id, ids);
  return usage_error(option + ": there is no check '" + id + "'" +
                     (near.empty() ? "; layright checks lists them" : "; did you mean '" + near + "'?"));
}

void add_target_options(CLI::App& command, TargetWords& w) {
  command.add_option("--target", w.target, "a target of the configuration")->type_name("NAME");
  command.add_option("--config", w.config, "else layright.toml here or above, else the user's own")->type_name("FILE");
  command.add_option("--sheet", w.sheet, "8.5x17in, 216x432mm, A4, a PWG 5101.1 name, or a sheet of the configuration")->type_name("SIZE");
  command.add_option("--margin", w.margin, "ink-free on every side, e.g. 0.25in")->type_name("LENGTH");
  command.add_option("--feed", w.feed, "the edge that enters the press first: short-edge or long-edge")->type_name("EDGE");
  command.add_option("--reading", w.reading, "how the print must read: right, wrong (mirrored) or as-is")->type_name("WORD");
  command.add_option("--white", w.white, "white marks: prints (ink) or paper (nothing)")->type_name("WORD");
  command.add_option("--unit", w.unit, "the unit of lengths on screens: in, mm or pt")->type_name("UNIT");
}

void add_size_options(CLI::App& command, PlacementWords& w) {
  command.add_option("--scale", w.scale, "keep (the default), fit, shrink, or 80%; always of the original")->type_name("SCALE");
  command.add_option("--width", w.width, "how wide the art is to be on the goods, seen upright")->type_name("LENGTH");
  command.add_option("--height", w.height, "how high the art is to be on the goods; with --width: inside both")->type_name("LENGTH");
  command.add_option("--turn", w.turn, "auto (the default), 0, 90, 180 or 270 counterclockwise, on the print")->type_name("TURN");
}

void add_placement_options(CLI::App& command, PlacementWords& w) {
  add_size_options(command, w);
  command.add_option("--by", w.by, "what is scaled and placed: ink (the default), trim or page")->type_name("WORD");
  command.add_option("--at", w.at, "where on the printed sheet: center (the default), top, bottom, left, right, top-left, …")->type_name("WORD");
  command.add_option("--offset", w.offset, "right and up on the printed sheet, e.g. 0.5in,-1in")->type_name("X,Y");
  command.add_flag("--allow-outside", w.allow_outside, "even where ink lies outside the live area");
}

void add_reading_options(CLI::App& command, ReadingWords& w) {
  command.add_option("--incoming", w.incoming, "how the art reads now: right, or wrong (mirrored already)")->type_name("WORD");
  command.add_option("--letters", w.letters, "languages of the art, e.g. eng+fra; else the configuration's")->type_name("LIST");
  command.add_flag("--check-letters", w.check_letters, "read the letters even with --incoming");
}

void add_selection_options(CLI::App& command, SelectionWords& w) {
  command.add_option("--pages", w.pages, "only these pages, e.g. 1-3,7")->type_name("LIST");
  command.add_option("--only", w.only, "only these checks")->type_name("CHECK,…")->delimiter(',')->allow_extra_args(false);
  command.add_option("--skip", w.skip, "leave out these checks")->type_name("CHECK,…")->delimiter(',')->allow_extra_args(false);
  command.add_option("--accept", w.accept, "let these holds pass: you have looked")->type_name("CHECK,…")->delimiter(',')->allow_extra_args(false);
  command.add_option("--password-file", w.password_file, "a file whose first line is the password")->type_name("FILE");
}

namespace {

Result<Configuration> found_configuration(std::string const& config) {
  if (!config.empty()) return load_configuration(config);
  std::error_code error;
  auto const here = std::filesystem::current_path(error);
  if (auto const found = error ? std::nullopt : find_configuration(here)) return load_configuration(*found);
  return default_configuration();
}

/// The configuration itself does not know which checks there are.
Outcome known_checks(Configuration const& configuration) {
  for (auto const& [name, profile] : configuration.profiles)
    for (auto const& [id, level] : profile.levels) {
      std::string const where = configuration.path.string() + ": [checks." + name + "]";
      if (!find_check(id)) return no_check_error(where, id);
      if (!level_is_free(id))
        return usage_error(where + ": the level of " + id +
                           " is fixed, because it says that something could not be looked at; accept it with --accept " + id);
    }
  return done();
}

}  // namespace

Result<Configuration> configuration_of(std::string const& config) {
  auto configuration = found_configuration(config);
  if (configuration)
    if (auto const known = known_checks(*configuration); !known) return known.error();
  return configuration;
}

Result<ResolvedTarget> resolve_target(TargetWords const& words) {
  auto configuration = configuration_of(words.config);
  if (!configuration) return configuration.error();
  ResolvedTarget out;
  out.configuration = std::move(*configuration);
  out.unit = out.configuration.unit;
  if (auto o = take_word(words.unit, "--unit", parse_unit, out.unit); !o) return o.error();
  if (auto o = choose_target(words, out); !o) return o.error();
  if (auto o = override_sheet(words, out.configuration, out.unit, out.target); !o) return o.error();
  if (auto o = take_word(words.reading, "--reading", parse_wanted_reading, out.target.reading); !o) return o.error();
  out.reading_said = out.reading_said || !words.reading.empty();
  if (words.white == "prints" || words.white == "paper") out.target.press.prints_white = words.white == "prints";
  else if (!words.white.empty()) return usage_error("--white: '" + words.white + "' is neither prints nor paper");
  return out;
}

std::string reading_not_said(Configuration const& configuration) {
  std::string text = "say how the print must read: --reading wrong (mirrored), right or as-is; or name a target";
  std::string names;
  for (auto const& [name, unused] : configuration.targets) names += (names.empty() ? ": --target " : ", ") + name;
  return text + names;
}

Outcome resolve_placement(PlacementWords const& w, Target& target) {
  auto& options = target.placement;
  if (!w.scale.empty() && (!w.width.empty() || !w.height.empty()))
    return usage_error("--scale and --width or --height contradict each other: give one or the other");
  if (!w.scale.empty()) {
    options.width.reset();
    options.height.reset();
    if (auto o = parse_scale(w.scale, options); !o) return usage_error("--scale: " + o.error().message);
  }
  auto const size = [&](std::string const& text, char const* option, std::optional<Length>& into) -> Outcome {
    if (text.empty()) return done();
    auto const length = parse_length(text);
    if (!length) return usage_error(std::string(option) + ": " + length.error().message);
    if (length->in_points() <= 0) return usage_error(std::string(option) + ": a size must be more than nothing");
    into = *length;
    return done();
  };
  if (!w.width.empty() || !w.height.empty()) {
    options.scale = PlacementOptions::Scale::keep;
    options.width.reset();
    options.height.reset();
  }
  if (auto o = size(w.width, "--width", options.width); !o) return o;
  if (auto o = size(w.height, "--height", options.height); !o) return o;
  if (auto o = take_word(w.turn, "--turn", parse_turn, options.turn); !o) return o;
  if (auto o = take_word(w.by, "--by", parse_place_by, options.by); !o) return o;
  if (auto o = take_word(w.at, "--at", parse_anchor, options.at); !o) return o;
  if (!w.offset.empty()) {
    auto const comma = w.offset.find(',');
    auto const x = parse_length(w.offset.substr(0, comma));
    auto const y = comma == std::string::npos ? Result<Length>(usage_error("")) : parse_length(w.offset.substr(comma + 1));
    if (!x || !y) return usage_error("--offset: '" + w.offset + "' is not two lengths with units; write for instance 0.5in,-1in");
    options.offset_x = *x;
    options.offset_y = *y;
  }
  if (w.allow_outside) options.allow_outside = true;
  options.asked = {!w.scale.empty() || !w.width.empty() || !w.height.empty(), !w.turn.empty(), !w.by.empty() || !w.at.empty() || !w.offset.empty()};
  return done();
}

Result<InspectOptions> resolve_options(ResolvedTarget const& resolved, PlacementWords const& placement, ReadingWords const& reading,
                                       SelectionWords const& selection) {
  InspectOptions options;
  options.target = resolved.target;
  options.unit = resolved.unit;
  if (auto o = resolve_placement(placement, options.target); !o) return o.error();
  if (auto o = take_word(reading.incoming, "--incoming", parse_incoming, options.incoming); !o) return o.error();
  options.check_letters = reading.check_letters;
  if (!reading.letters.empty()) {
    auto letters = parse_letters(reading.letters);
    if (!letters) return usage_error("--letters: " + letters.error().message);
    options.target.letters = *letters;
  }
  if (auto o = check_ids(selection.only, "--only", options.selection.only); !o) return o.error();
  if (auto o = check_ids(selection.skip, "--skip", options.selection.skip); !o) return o.error();
  if (auto o = check_ids(selection.accept, "--accept", options.selection.accept); !o) return o.error();
  if (auto o = take_word(selection.pages, "--pages", PageChoice::parse, options.pages); !o) return o.error();
  if (!selection.password_file.empty()) {
    auto password = first_line(selection.password_file);
    if (!password) return password.error();
    options.password = *password;
  }
  return options;
}

}  // namespace layright
