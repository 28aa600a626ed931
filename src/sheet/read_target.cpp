#include <algorithm>

#include "base/in_quotes.h"
#include "sheet/duration.h"
#include "sheet/read_tables.h"

namespace layright {

namespace {

/// "0.5in,-0.25in": to the right and up on the printed sheet.
Outcome read_offset(TomlReader const& reader, Entry const& entry, PlacementOptions& options) {
  auto const text = reader.text_of(entry, "two lengths in quotes, such as \"0.5in,-0.25in\" (to the right, up)");
  if (!text) return text.error();
  auto const comma = text->find(',');
  if (comma == std::string::npos || text->find(',', comma + 1) != std::string::npos)
    return reader.at(entry, in_quotes(*text) + " is no offset: write two lengths with a comma between, such as \"0.5in,-0.25in\"");
  auto const x = parse_length(text->substr(0, comma)), y = parse_length(text->substr(comma + 1));
  if (!x) return reader.at(entry, x.error().message);
  if (!y) return reader.at(entry, y.error().message);
  options.offset_x = *x;
  options.offset_y = *y;
  return done();
}

/// 90 and "90" are the same.
Outcome read_turn(TomlReader const& reader, Entry const& entry, PlacementOptions& options) {
  auto const* const number = entry.node.as_integer();
  auto const text = number ? Result<std::string>(std::to_string(number->get())) : reader.text_of(entry, "auto, 0, 90, 180 or 270 in quotes");
  if (!text) return text.error();
  auto const turn = parse_turn(*text);
  if (!turn) return reader.at(entry, turn.error().message);
  options.turn = *turn;
  return done();
}

Setter goods_size_setter(TomlReader const& reader, std::optional<Length>& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    Length length;
    if (auto const read = reader.extent(length)(entry); !read) return read;
    if (!(length > Length())) return reader.at(entry, "the size of the art on the goods must be above zero");
    into = length;
    return done();
  };
}

std::vector<Key> placement_keys(TomlReader const& reader, PlacementOptions& options) {
  auto const scale = [&reader, &options](Entry const& entry) -> Outcome {
    auto const text = reader.text_of(entry, "keep, fit, shrink or a percentage such as 80%, in quotes");
    if (!text) return text.error();
    auto const read = parse_scale(*text, options);
    return read ? read : reader.at(entry, read.error().message);
  };
  return {{"scale", scale},
          {"width", goods_size_setter(reader, options.width)},
          {"height", goods_size_setter(reader, options.height)},
          {"turn", [&reader, &options](Entry const& entry) { return read_turn(reader, entry, options); }},
          {"by", reader.parsed(options.by, parse_place_by, "\"ink\", \"trim\" or \"page\"")},
          {"at", reader.parsed(options.at, parse_anchor, "a place on the sheet in quotes, such as \"center\" or \"top-left\"")},
          {"offset", [&reader, &options](Entry const& entry) { return read_offset(reader, entry, options); }},
          {"allow-outside", reader.flag(options.allow_outside)}};
}

/// ["White", "Underbase"]: names, none or more.
Setter words_setter(TomlReader const& reader, std::vector<std::string>& into, char const* example) {
  return [&reader, &into, example](Entry const& entry) -> Outcome {
    auto const expected = std::string("a list of names in quotes, such as [\"") + example + "\"]";
    auto const* const list = entry.node.as_array();
    if (list == nullptr) return reader.unexpected(entry, expected);
    std::vector<std::string> words;
    for (auto const& node : *list) {
      auto const word = reader.text_of({node, entry.name}, expected);
      if (!word) return word.error();
      words.push_back(*word);
    }
    into = std::move(words);
    return done();
  };
}

/// What each key means alone is known by now; this is about two of them.
Outcome check_together(TomlReader const& reader, Entry const& entry, Unit unit, Target const& target) {
  auto const& table = *entry.node.as_table();
  auto const* const scale = table.get("scale");
  if (scale && (target.placement.width || target.placement.height))
    return reader.at({*scale, "scale in " + entry.name}, "width and height already say how large the art is to be; take out one or the other");
  if (auto const white = check_white(target.white, target.press); !white)
    return reader.at({*table.get("white"), "white in " + entry.name}, white.error().message);
  if (auto const plate = check_plate_suits(target.plate, target.press); !plate)
    return reader.at({*table.get("plate"), "plate in " + entry.name}, plate.error().message);
  auto const* const margin = table.get("margin");
  auto const fits = check_margins(target.sheet, unit);
  if (!fits) return reader.at({margin ? *margin : entry.node, margin ? "margin in " + entry.name : entry.name}, fits.error().message);
  return done();
}

}  // namespace

Outcome check_white(White const& white, Press const& press) {
  if (!white.percent || *white.percent <= press.white_limit_pct) return done();
  auto const share = [](double percent) { return format_number(percent, 2) + "%"; };
  return usage_error(
      share(*white.percent) + " is more than the press " + (press.name.empty() ? "" : press.name + " ") + "may lay, " + share(press.white_limit_pct) +
      " of one full layer: lower it, or say in the press's table what its driver can lay, white-limit = \"" + share(*white.percent) + "\"");
}

Setter limits_setter(TomlReader const& reader, Limits& into) {
  return [&reader, &into](Entry const& entry) {
    return reader.table(entry, {{"size-tolerance", reader.extent(into.size_tolerance)},
                                {"margin-tolerance", reader.extent(into.margin_tolerance)},
                                {"cut", reader.extent(into.cut)},
                                {"guide-stroke", reader.extent(into.guide_stroke)},
                                {"guide-near", reader.extent(into.guide_near)},
                                {"seconds-a-page", reader.number(into.seconds_a_page)},
                                {"seconds-a-file", reader.number(into.seconds_a_file)},
                                {"memory-mb", reader.number(into.memory_mb)},
                                {"picture-ppi", reader.number(into.picture_ppi)},
                                {"bit-ppi", reader.number(into.bit_ppi)},
                                {"picture-fine-ppi", reader.number(into.picture_fine_ppi)},
                                {"bit-fine-ppi", reader.number(into.bit_fine_ppi)},
                                {"mask-ppi", reader.number(into.mask_ppi)},
                                {"pixel-ratio", reader.number(into.pixel_ratio)},
                                {"jpeg-quality", reader.number(into.jpeg_quality)},
                                {"line-thin", reader.extent(into.line_thin)},
                                {"line-reversed", reader.extent(into.line_reversed)},
                                {"text-small", reader.extent(into.text_small)},
                                {"text-tint", reader.extent(into.text_tint)},
                                {"text-reversed", reader.extent(into.text_reversed)},
                                {"rich-text", reader.extent(into.rich_text)},
                                {"colour-spaces", words_setter(reader, into.colour_spaces, "gray")},
                                {"white-inks", words_setter(reader, into.white_inks, "White")},
                                {"standard-fonts", reader.flag(into.standard_fonts)},
                                {"ground-pct", reader.number(into.ground_pct)},
                                {"faint-pct", reader.number(into.faint_pct)},
                                {"faint-area-pct", reader.number(into.faint_area_pct)},
                                {"scan-pct", reader.number(into.scan_pct)},
                                {"total-ink-pct", reader.number(into.total_ink_pct)},
                                {"white-under-pct", reader.number(into.white_under_pct)},
                                {"most-marks", reader.number(into.most_marks)},
                                {"weed-width", reader.extent(into.weed_width)},
                                {"weed-square", reader.extent(into.weed_square)},
                                {"weed-length", reader.extent(into.weed_length)},
                                {"least-density", reader.number(into.least_density)},
                                {"most-density", reader.number(into.most_density)},
                                {"most-megapixels", reader.number(into.most_megapixels)},
                                {"most-packed-files", reader.number(into.most_packed_files)},
                                {"most-unpacked-mb", reader.number(into.most_unpacked_mb)}});
  };
}

Setter letters_setter(TomlReader const& reader, std::vector<std::string>& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    auto const* const list = entry.node.as_array();
    if (list == nullptr) return reader.parsed(into, parse_letters, "languages in quotes, such as \"eng\" or \"eng+fra\"")(entry);
    if (list->empty()) return reader.at(entry, "expected at least one language, such as \"eng\"");
    std::vector<std::string> all;
    for (auto const& node : *list) {
      std::vector<std::string> some;
      auto const read = reader.parsed(some, parse_letters, "a language in quotes, such as \"eng\"")({node, entry.name});
      if (!read) return read;
      all.insert(all.end(), some.begin(), some.end());
    }
    into = std::move(all);
    return done();
  };
}

Outcome read_target(TomlReader const& reader, Entry const& entry, Configuration const& configuration, Target& target) {
  auto const sheet = [&](std::string const& word) { return find_sheet(configuration, word); };
  auto const press = [&](std::string const& word) -> Result<Press> {
    auto const found = configuration.presses.find(word);
    if (found != configuration.presses.end()) return found->second;
    auto const known = names_of(configuration.presses);
    return usage_error("there is no press " + in_quotes(word) + (known.empty() ? "; describe it in [press." + word + "]" : hint(word, known)));
  };
  auto const profile = [&](std::string const& word) -> Result<CheckProfile> {
    auto const found = configuration.profiles.find(word);
    if (found != configuration.profiles.end()) return found->second;
    auto const known = names_of(configuration.profiles);
    return usage_error("there is no profile of checks " + in_quotes(word) +
                       (known.empty() ? "; describe it in [checks." + word + "]" : hint(word, known)));
  };
  auto const take_profile = [&](Entry const& one) -> Outcome {
    CheckProfile chosen;
    auto const read = reader.parsed(chosen, profile, "the name of a profile of checks in quotes")(one);
    if (!read) return read;
    target.levels = std::move(chosen.levels);
    target.limits = std::move(chosen.limits);
    return done();
  };
  auto const parsed_heat_time = [&reader, &target](Entry const& from) {
    return reader.parsed(target.heat.seconds.emplace(), parse_press_time, "a time in quotes, such as \"15s\"")(from);
  };
  std::vector<Key> keys{
      {"sheet", reader.parsed(target.sheet, sheet, "the name of a sheet in quotes"), true},
      {"press", reader.parsed(target.press, press, "the name of a press in quotes")},
      {"margin", margins_setter(reader, target.sheet.margins)},
      {"reading", reader.parsed(target.reading, parse_wanted_reading, "\"right\", \"wrong\" or \"as-is\"")},
      {"reverse-at", reader.parsed(target.reverse_at, parse_reverse_at, "\"file\", \"printer\" or \"rip\"")},
      {"unknown-reads", reader.parsed(target.unknown_reads, parse_unknown_reads, "\"hold\", \"right\" or \"wrong\"")},
      {"without-letters",
       [&reader, &target](Entry const& from) {
         return reader.parsed(target.without_letters.emplace(), parse_unknown_reads, "\"right\", \"wrong\" or \"hold\"")(from);
       }},
      {"white", reader.parsed(target.white, parse_white, "\"off\", \"on\" or a share of one full layer in quotes, such as \"80%\"")},
      {"heat-time", parsed_heat_time},
      {"heat-temperature",
       [&reader, &target](Entry const& from) -> Outcome {
         auto const text = reader.text_of(from, "degrees in quotes, such as \"320F\" or \"160C\"");
         if (!text) return text.error();
         auto const read = parse_press_temperature(*text, target.heat);
         return read ? read : reader.at(from, read.error().message);
       }},
      {"heat-pressure", reader.text(target.heat.pressure, "light, medium, firm, or what your heat press calls it, in quotes")},
      {"goods", reader.parsed(target.dark_goods, parse_goods, "\"light\" or \"dark\"")},
      {"render", reader.parsed(target.render, parse_render, "\"auto\", \"graphics\" or \"pictures\"")},
      {"copies", reader.whole(target.copies, 1, 9999)},
      {"pixels-per-inch", [&reader, &target](Entry const& from) { return reader.number(target.pixels_per_inch.emplace())(from); }},
      {"letters", letters_setter(reader, target.letters)},
      {"gang", reader.flag(target.gang.waits)},
      {"fill", reader.parsed(target.gang.fill_pct, parse_fill, "a share of the sheet in quotes, such as \"85%\"")},
      {"gang-for", reader.parsed(target.gang.longest, parse_duration, "a time in quotes, such as \"2h\"")},
      {"checks", take_profile},
      {"limits", limits_setter(reader, target.limits)}};  // after the profile: the target's own limits go before it
  GangChoices ganged;
  for (auto const& more : {placement_keys(reader, target.placement), plate_keys(reader, target.plate), gang_keys(reader, ganged)})
    keys.insert(keys.end(), more.begin(), more.end());
  if (auto const read = reader.table(entry, keys); !read) return read;
  target.ganged = with_choices(target.ganged, ganged);
  return check_together(reader, entry, configuration.unit, target);
}

}  // namespace layright
