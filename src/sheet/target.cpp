#include "sheet/target.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "base/in_quotes.h"
#include "sheet/words.h"

namespace layright {

namespace {

constexpr Words<Reading, 4> kReadings{
    {{Reading::unknown, "unknown"}, {Reading::right, "right"}, {Reading::wrong, "wrong"}, {Reading::mixed, "mixed"}}};
constexpr Words<WantedReading, 3> kWantedReadings{
    {{WantedReading::right, "right"}, {WantedReading::wrong, "wrong"}, {WantedReading::as_is, "as-is"}}};
constexpr Words<ReverseAt, 3> kReverseAts{{{ReverseAt::file, "file"}, {ReverseAt::printer, "printer"}, {ReverseAt::rip, "rip"}}};
constexpr Words<UnknownReads, 3> kUnknownReads{{{UnknownReads::hold, "hold"}, {UnknownReads::right, "right"}, {UnknownReads::wrong, "wrong"}}};
constexpr Words<Feed, 2> kFeeds{{{Feed::short_edge, "short-edge"}, {Feed::long_edge, "long-edge"}}};
constexpr Words<PlaceBy, 3> kPlaceBys{{{PlaceBy::ink, "ink"}, {PlaceBy::trim, "trim"}, {PlaceBy::page, "page"}}};
constexpr Words<Render, 3> kRenders{{{Render::automatic, "auto"}, {Render::graphics, "graphics"}, {Render::pictures, "pictures"}}};
constexpr Words<CheckLevel, 3> kCheckLevels{{{CheckLevel::off, "off"}, {CheckLevel::note, "note"}, {CheckLevel::hold, "hold"}}};
constexpr Words<Anchor, 9> kAnchors{{{Anchor::centre, "center"},
                                     {Anchor::top, "top"},
                                     {Anchor::bottom, "bottom"},
                                     {Anchor::left, "left"},
                                     {Anchor::right, "right"},
                                     {Anchor::top_left, "top-left"},
                                     {Anchor::top_right, "top-right"},
                                     {Anchor::bottom_left, "bottom-left"},
                                     {Anchor::bottom_right, "bottom-right"}}};

/// "150%", "12.5 %": a decimal number above zero and the sign.
std::optional<double> percentage(std::string_view text) {
  if (!text.ends_with('%')) return std::nullopt;
  text.remove_suffix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  if (text.empty() || text.find_first_not_of("0123456789.") != std::string_view::npos) return std::nullopt;
  double value = 0;
  auto const [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// "eng", "chi_sim", "script/Latin": as Tesseract names its languages.
bool is_language(std::string_view text) {
  if (text.starts_with("script/")) text.remove_prefix(7);
  return !text.empty() && text.size() <= 40 && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
  });
}

}  // namespace

std::string_view word(Reading v) { return word_of(kReadings, v); }
std::string_view word(WantedReading v) { return word_of(kWantedReadings, v); }
std::string_view word(ReverseAt v) { return word_of(kReverseAts, v); }
std::string_view word(Feed v) { return word_of(kFeeds, v); }
std::string_view word(Anchor v) { return word_of(kAnchors, v); }
std::string_view word(Render v) { return word_of(kRenders, v); }

namespace {
/// What people say for `wrong`.
bool means_mirrored(std::string_view text) { return text == "mirrored" || text == "reversed"; }
}  // namespace

Result<WantedReading> parse_wanted_reading(std::string_view text) {
  if (means_mirrored(text)) return WantedReading::wrong;
  return value_of(kWantedReadings, text);
}
Result<Reading> parse_incoming(std::string_view text) {
  if (text == "right") return Reading::right;
  if (text == "wrong" || means_mirrored(text)) return Reading::wrong;
  return usage_error(in_quotes(text) + " is neither right nor wrong (mirrored)");
}
Result<ReverseAt> parse_reverse_at(std::string_view text) { return value_of(kReverseAts, text); }
Result<UnknownReads> parse_unknown_reads(std::string_view text) { return value_of(kUnknownReads, text); }
Result<bool> parse_goods(std::string_view text) { return value_of(Words<bool, 2>{{{false, "light"}, {true, "dark"}}}, text); }
Result<Feed> parse_feed(std::string_view text) { return value_of(kFeeds, text); }
Result<PlaceBy> parse_place_by(std::string_view text) { return value_of(kPlaceBys, text); }
Result<Render> parse_render(std::string_view text) { return value_of(kRenders, text); }
Result<CheckLevel> parse_check_level(std::string_view text) { return value_of(kCheckLevels, text); }
Result<Anchor> parse_anchor(std::string_view text) {
  if (text == "centre") return Anchor::centre;
  return value_of(kAnchors, text);
}

Outcome parse_scale(std::string_view text, PlacementOptions& into) {
  using Scale = PlacementOptions::Scale;
  constexpr Words<Scale, 3> kScales{{{Scale::keep, "keep"}, {Scale::fit, "fit"}, {Scale::shrink, "shrink"}}};
  for (auto const& [scale, name] : kScales) {
    if (name != text) continue;
    into.scale = scale;
    into.percent = 100;
    return done();
  }
  auto const percent = percentage(text);
  if (!percent || *percent <= 0) return usage_error(in_quotes(text) + " is no scale: use keep, fit, shrink or a percentage above zero such as 80%");
  into.scale = Scale::percent;
  into.percent = *percent;
  return done();
}

Result<std::vector<std::string>> parse_letters(std::string_view text) {
  std::vector<std::string> languages;
  for (std::size_t start = 0; start <= text.size();) {
    auto const end = std::min(text.find('+', start), text.size());
    std::string const language(text.substr(start, end - start));
    if (!is_language(language)) return usage_error(in_quotes(text) + " names no languages: write them like \"eng\" or \"eng+fra\"");
    languages.push_back(language);
    start = end + 1;
  }
  return languages;
}

Result<std::optional<Turn>> parse_turn(std::string_view text) {
  if (text == "auto") return std::optional<Turn>();
  constexpr Words<Turn, 4> kTurns{{{Turn::none, "0"}, {Turn::quarter, "90"}, {Turn::half, "180"}, {Turn::three_quarters, "270"}}};
  for (auto const& [turn, name] : kTurns)
    if (name == text) return std::optional<Turn>(turn);
  return usage_error(in_quotes(text) + " is no turn: use auto, 0, 90, 180 or 270 (degrees counterclockwise)");
}

Result<White> parse_white(std::string_view text) {
  if (text == "off") return White{};
  if (text == "on") return White{true, std::nullopt};
  auto const percent = percentage(text);
  if (!percent) return usage_error(in_quotes(text) + " says nothing about white: use off, on or a share of one full layer such as 80%");
  if (*percent <= 0) return usage_error("white at " + in_quotes(text) + " lays none: use off, or a share above zero");
  if (*percent > kMostWhitePercent)
    return usage_error("white at " + in_quotes(text) + " is more than four full layers: write the share of one full layer, such as 80%");
  return White{true, percent};
}

UnknownReads taken_for_granted(Target const& t, bool letters_seen) {
  return letters_seen ? t.unknown_reads : t.without_letters.value_or(t.unknown_reads);
}

Reading reversed(Reading reading) {
  if (reading == Reading::right) return Reading::wrong;
  if (reading == Reading::wrong) return Reading::right;
  return reading;
}

bool reverses_later(Target const& target) { return target.reverse_at != ReverseAt::file; }

std::optional<Reading> reading_of_file(Target const& target) {
  if (target.reading == WantedReading::as_is) return std::nullopt;
  auto const printed = target.reading == WantedReading::right ? Reading::right : Reading::wrong;
  return target.reverse_at == ReverseAt::file ? printed : reversed(printed);
}

}  // namespace layright
