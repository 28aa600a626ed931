#include "sheet/trial.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fstream>
#include <sstream>

#include "base/in_quotes.h"
#include "sheet/target.h"
#include "sheet/toml_reader.h"

namespace layright {
namespace {

constexpr double kMostStretch = 0.1;  // a press that is out by more is read wrongly, or broken
constexpr Length kMostShift = Length::inches(2);
constexpr int kMostStarSteps = 100;
constexpr Length kMostApart = Length::points(9);  // half the widest pull-in

Result<double> plain_number(std::string_view text) {
  double value = 0;
  auto const read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size() || !std::isfinite(value)) return usage_error(in_quotes(text) + " is no number");
  return value;
}

/// "1.002", or "252.5mm/254mm".
Result<double> parse_stretch(std::string const& text) {
  double value = 0;
  if (auto const slash = text.find('/'); slash != std::string::npos) {
    auto const measured = parse_length(text.substr(0, slash)), meant = parse_length(text.substr(slash + 1));
    if (!measured) return measured.error();
    if (!meant) return meant.error();
    if (!(*meant > Length())) return usage_error("the ruler's own length in " + in_quotes(text) + " is not above zero");
    value = *measured / *meant;
  } else {
    auto const number = plain_number(text);
    if (!number) return usage_error(in_quotes(text) + " is no stretch: write what was measured over what the ruler says, such as 252.5mm/254mm");
    value = *number;
  }
  if (std::abs(value - 1) > kMostStretch) return usage_error(in_quotes(text) + " is a stretch of more than a tenth: measure again");
  return value;
}

Result<Length> parse_shift(std::string const& text) {
  auto const length = parse_length(text);
  if (!length) return length.error();
  if (*length > kMostShift || -*length > kMostShift) return usage_error(in_quotes(text) + " is more than two inches: measure again");
  return *length;
}

Result<Length> parse_edge(std::string const& text) {
  auto const length = parse_shift(text);
  if (length && *length < Length()) return usage_error(in_quotes(text) + " is below zero: tell how wide the blank edge is");
  return length;
}

Result<Reading> parse_reads(std::string const& text) {
  if (text == "right") return Reading::right;
  if (text == "wrong") return Reading::wrong;
  return usage_error(in_quotes(text) + " is neither right nor wrong (as in a mirror)");
}

/// "0.15mm", or "3": so many steps of the register star.
Result<Length> parse_apart(std::string const& text) {
  if (auto const steps = plain_number(text); steps && *steps >= 0 && *steps <= kMostStarSteps) return kStarStep * *steps;
  auto const length = parse_length(text);
  if (!length)
    return usage_error(in_quotes(text) + " is neither a length nor a number of steps of the register star, 0 to " + std::to_string(kMostStarSteps));
  if (*length < Length() || *length > kMostApart) return usage_error(in_quotes(text) + " is more than white and color can lie apart: look again");
  return *length;
}

/// What the sheet's blanks hold, before it is known which way round the sheet lies.
struct Blanks {
  std::array<std::optional<Length>, 8> gaps{};       // A to H
  std::array<std::optional<Length>, 4> unprinted{};  // at the edges 12, 23, 34, 41
  std::optional<int> left_end;                       // of the edge that came out first
};
constexpr std::array<std::string_view, 4> kEdges{"12", "23", "34", "41"};

/// "12", in either order: an edge by the numbers on it. "1": the number at its left end, for later.
Outcome parse_leading(std::string const& text, Trial& trial, Blanks& blanks) {
  for (std::size_t i = 0; i < kEdges.size(); ++i) {
    if (text != kEdges[i] && text != std::string(kEdges[i].rbegin(), kEdges[i].rend())) continue;
    trial.leading = static_cast<Corner>(i + 1);
    return done();
  }
  if (text.size() != 1 || text[0] < '1' || text[0] > '4')
    return usage_error("leading: " + in_quotes(text) + " is no edge: write the two numbers on it, 12, 23, 34 or 41");
  blanks.left_end = text[0] - '0';
  return done();
}

/// Seen from its middle with the edge away from the reader, the corner at the left end is the first of the edge clockwise; where the press
/// reversed the sheet, it is the second.
Corner edge_from_left_end(int corner, bool reversed) { return static_cast<Corner>(reversed ? (corner + 2) % 4 + 1 : corner); }

/// Each edge has two gaps. Half of what opposite gaps differ by is the shift; what the gaps at the ends of one edge differ by is the lean.
Outcome take_gaps(Blanks const& blanks, bool reversed, Trial& trial) {
  double mm[8] = {};
  bool any = false;
  std::string missing;
  for (std::size_t i = 0; i < 8; ++i) {
    any = any || blanks.gaps[i];
    if (blanks.gaps[i]) mm[i] = blanks.gaps[i]->in_millimetres();
    else missing += std::string(missing.empty() ? "" : ", ") + static_cast<char>('A' + i);
  }
  if (!any) return done();
  if (!missing.empty()) return usage_error("the gaps A to H go together: measure " + missing + " as well");
  auto const [a, b, c, d, e, f, g, h] = std::to_array(mm);
  double const way = reversed ? -1 : 1;
  trial.shift_x = Length::millimetres(way * ((g + h) - (c + d)) / 4);
  trial.shift_y = Length::millimetres(((e + f) - (a + b)) / 4);
  trial.lean = Length::millimetres(way * ((g - h) + (c - d)) / 2);
  return done();
}

/// What the blanks mean for the sheet as it lies before the reader.
Outcome take_blanks(Blanks const& blanks, Trial& trial) {
  bool const sides = blanks.unprinted[1] || blanks.unprinted[3],
             gaps = std::ranges::any_of(blanks.gaps, [](auto const&gap) { return gap.has_value(); });
  if (!trial.reads && (sides || gaps || blanks.left_end))
    return usage_error("say which way round the sheet reads as well, reads=right or reads=wrong: the sheet tells which");
  bool const reversed = trial.reads == Reading::wrong;
  if (blanks.left_end) trial.leading = edge_from_left_end(*blanks.left_end, reversed);
  for (auto const& [edge, side] : {std::pair{0, &trial.top}, {reversed ? 3 : 1, &trial.right}, {2, &trial.bottom}, {reversed ? 1 : 3, &trial.left}})
    if (auto const& unprinted = blanks.unprinted[static_cast<std::size_t>(edge)]) *side = unprinted;
  return take_gaps(blanks, reversed, trial);
}

/// Sets one part by its name. Error (usage) for an unknown name or a value that it cannot have.
Outcome set_part(Trial& trial, Blanks& blanks, std::string const& name, std::string const& value) {
  auto const take = [&](auto parsed, auto& into) -> Outcome {
    if (!parsed) return usage_error(name + ": " + parsed.error().message);
    into = *parsed;
    return done();
  };
  if (name == "reads") return take(parse_reads(value), trial.reads);
  if (name == "leading") return parse_leading(value, trial, blanks);
  if (name.size() == 1 && ((name[0] >= 'A' && name[0] <= 'H') || (name[0] >= 'a' && name[0] <= 'h')))
    return take(parse_edge(value), blanks.gaps[static_cast<std::size_t>((name[0] | 0x20) - 'a')]);
  for (std::size_t i = 0; i < kEdges.size(); ++i)
    if (name == "blank" + std::string(kEdges[i])) return take(parse_edge(value), blanks.unprinted[i]);
  if (name == "lean") return take(parse_shift(value), trial.lean);
  if (name == "shift-x") return take(parse_shift(value), trial.shift_x);
  if (name == "shift-y") return take(parse_shift(value), trial.shift_y);
  if (name == "along") return take(parse_stretch(value), trial.stretch_along);
  if (name == "across") return take(parse_stretch(value), trial.stretch_across);
  if (name == "white-across") return take(parse_apart(value), trial.white_across);
  if (name == "white-along") return take(parse_apart(value), trial.white_along);
  if (name == "left") return take(parse_edge(value), trial.left);
  if (name == "bottom") return take(parse_edge(value), trial.bottom);
  if (name == "right") return take(parse_edge(value), trial.right);
  if (name == "top") return take(parse_edge(value), trial.top);
  std::vector<std::string> const known = {"reads",   "leading", "blank12", "blank23", "blank34", "blank41", "along",        "across",     "shift-x",
                                          "shift-y", "lean",    "left",    "bottom",  "right",   "top",     "white-across", "white-along"};
  return usage_error(in_quotes(name) + " is nothing that a trial sheet tells" + hint(name, known));
}

/// Parts as the file and --measured write them.
std::vector<std::pair<std::string, std::string>> parts_of(Trial const& trial) {
  std::vector<std::pair<std::string, std::string>> parts;
  auto const length = [](Length l) { return format_number(l.in_millimetres(), 3) + "mm"; };
  if (trial.reads) parts.emplace_back("reads", word(*trial.reads));
  if (trial.leading) parts.emplace_back("leading", kEdges[static_cast<std::size_t>(*trial.leading) - 1]);
  if (trial.shift_x) parts.emplace_back("shift-x", length(*trial.shift_x));
  if (trial.shift_y) parts.emplace_back("shift-y", length(*trial.shift_y));
  if (trial.lean) parts.emplace_back("lean", length(*trial.lean));
  if (trial.stretch_along) parts.emplace_back("along", format_number(*trial.stretch_along, 6));
  if (trial.stretch_across) parts.emplace_back("across", format_number(*trial.stretch_across, 6));
  if (trial.white_across) parts.emplace_back("white-across", length(*trial.white_across));
  if (trial.white_along) parts.emplace_back("white-along", length(*trial.white_along));
  for (auto const& [name, side] : {std::pair{"left", trial.left}, {"bottom", trial.bottom}, {"right", trial.right}, {"top", trial.top}})
    if (side) parts.emplace_back(name, length(*side));
  return parts;
}

bool is_date(std::string const& text) {
  if (text.size() != 10) return false;
  for (std::size_t i = 0; i < text.size(); ++i)
    if (i == 4 || i == 7 ? text[i] != '-' : text[i] < '0' || text[i] > '9') return false;
  return true;
}

}  // namespace

std::optional<Length> Trial::pull_in() const {
  if (!white_across && !white_along) return std::nullopt;
  constexpr double kLeast = 0.25, kStep = 0.05;  // points: less than a pixel of a usual press hides nothing. Our own
  double const apart = std::hypot(white_across.value_or(Length()).in_points(), white_along.value_or(Length()).in_points());
  return Length::points(std::max(kLeast, kStep * std::ceil(2 * apart / kStep - 1e-6)));
}

Margins Trial::unprintable() const {
  Length const none;
  return {left.value_or(none), bottom.value_or(none), right.value_or(none), top.value_or(none)};
}

Result<Trial> parse_trial(std::string_view text, std::string const& date) {
  Trial trial;
  Blanks blanks;
  trial.date = date;
  std::size_t from = 0;
  while (from <= text.size()) {
    auto const comma = std::min(text.find(',', from), text.size());
    std::string const part(text.substr(from, comma - from));
    auto const equals = part.find('=');
    if (equals == std::string::npos) return usage_error(in_quotes(part) + " is no measured value: write it like reads=wrong or left=4mm");
    if (auto set = set_part(trial, blanks, part.substr(0, equals), part.substr(equals + 1)); !set) return set.error();
    from = comma + 1;
  }
  if (auto const taken = take_blanks(blanks, trial); !taken) return taken.error();
  return trial;
}

std::filesystem::path trial_file(std::filesystem::path const& configuration) { return configuration.parent_path() / "layright.trials.toml"; }

Result<Trials> read_trials(std::filesystem::path const& configuration) {
  auto const path = trial_file(configuration);
  Trials trials;
  std::ifstream file(path, std::ios::binary);
  if (!file) return trials;
  std::stringstream text;
  text << file.rdbuf();
  auto const spoilt = [&](std::string const& what) {
    return Error{ErrorKind::data, path.string() + ": " + what + "; fix it, or remove it and print a new trial sheet"};
  };
  auto const parsed = toml::parse(text.str(), path.string());
  if (!parsed) return spoilt("line " + std::to_string(parsed.error().source().begin.line) + ": " + std::string(parsed.error().description()));
  for (auto const& [key, node] : parsed.table()) {
    auto const* table = node.as_table();
    if (!table) return spoilt(in_quotes(key.str()) + " is no table of a press");
    Trial trial;
    Blanks blanks;
    for (auto const& [name, value] : *table) {
      auto const* written = value.as_string();
      std::string const where = "line " + std::to_string(value.source().begin.line) + ": ";
      if (!written) return spoilt(where + in_quotes(name.str()) + " is no text in quotes");
      if (name.str() == "tried") {
        if (!is_date(written->get())) return spoilt(where + in_quotes(written->get()) + " is no date such as 2026-03-01");
        trial.date = written->get();
      } else if (auto set = set_part(trial, blanks, std::string(name.str()), written->get()); !set) {
        return spoilt(where + set.error().message);
      }
    }
    if (blanks.left_end) trial.leading = edge_from_left_end(*blanks.left_end, trial.reads == Reading::wrong);  // as it was kept once
    trials[std::string(key.str())] = trial;
  }
  return trials;
}

Result<std::string> with_trial(std::filesystem::path const& configuration, std::string const& press, Trial const& trial) {
  auto trials = read_trials(configuration);
  if (!trials) return trials.error();
  auto& kept = (*trials)[press];
  kept.date = trial.date;
  Blanks none;
  for (auto const& [name, value] : parts_of(trial))
    if (auto set = set_part(kept, none, name, value); !set) return set.error();
  std::string text = "# What trial sheets showed, one table a press. Written by: layright trial --measured\n";
  for (auto const& [name, each] : *trials) {
    text += "\n[" + toml_text(name) + "]\ntried = " + toml_text(each.date) + "\n";
    for (auto const& [key, value] : parts_of(each)) text += key + " = " + toml_text(value) + "\n";
  }
  return text;
}

std::string edge_words(Corner first) {
  auto const edge = kEdges[static_cast<std::size_t>(first) - 1];
  return std::string(1, edge[0]) + " and " + edge[1];
}

std::string trial_words(Trial const& trial, Unit unit) {
  std::string text = "last tried on " + trial.date;
  if (trial.reads) text += *trial.reads == Reading::wrong ? "; the press reversed it" : "; the press did not reverse it";
  if (trial.leading) text += "; the edge with " + edge_words(*trial.leading) + " leads";
  std::string off;
  auto const shifted = [&](Length shift, char const* way, char const* other_way) {
    if (shift == Length()) return;
    off += (off.empty() ? "" : " and ") + format_length(shift < Length() ? -shift : shift, unit) + " too far " + (shift < Length() ? other_way : way);
  };
  shifted(trial.shift_x.value_or(Length()), "right", "left");
  shifted(trial.shift_y.value_or(Length()), "up", "down");
  if (trial.shift_x || trial.shift_y) text += "; it prints " + (off.empty() ? "in its place" : off);
  constexpr Length kStraight = Length::millimetres(0.1);  // less cannot be read off a ruler
  if (trial.lean && (*trial.lean > kStraight || -*trial.lean > kStraight))
    text += "; it prints askew: at the bottom end " + format_length(*trial.lean > Length() ? *trial.lean : -*trial.lean, unit) + " further " +
            (*trial.lean > Length() ? "right" : "left") + " than at the top";
  if (trial.stretch_along) text += "; along the feed it prints " + format_number(*trial.stretch_along * 100, 2) + " % of the length";
  if (trial.stretch_across) text += "; across the feed " + format_number(*trial.stretch_across * 100, 2) + " %";
  if (auto const pull_in = trial.pull_in())
    text +=
        "; white lies " +
        format_length(Length::points(std::hypot(trial.white_across.value_or(Length()).in_points(), trial.white_along.value_or(Length()).in_points())),
                      unit) +
        " beside the color: pull-in = \"" + format_number(pull_in->in_points(), 2) + "pt\" hides that";
  std::string blank;
  for (auto const& [name, side] : {std::pair{"left", trial.left}, {"bottom", trial.bottom}, {"right", trial.right}, {"top", trial.top}})
    if (side && *side > Length()) blank += (blank.empty() ? "" : ", ") + std::string(name) + " " + format_length(*side, unit);
  if (!blank.empty()) text += "; blank edges: " + blank;
  return text + ".";
}

}  // namespace layright
