#include "sheet/trial.h"

#include <charconv>
#include <cmath>
#include <fstream>
#include <sstream>

#include "geometry/in_quotes.h"
#include "sheet/target.h"
#include "sheet/toml_reader.h"

namespace layright {
namespace {

constexpr double kMostStretch = 0.1;                    // a press that is out by more is read wrongly, or broken
constexpr Length kMostShift = Length::inches(2);

Error usage(std::string message) { return {ErrorKind::usage, std::move(message)}; }

Result<double> plain_number(std::string_view text) {
  double value = 0;
  auto const read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size() || !std::isfinite(value)) return usage(in_quotes(text) + " is no number");
  return value;
}

/// "1.002", or "252.5mm/254mm".
Result<double> parse_stretch(std::string const& text) {
  double value = 0;
  if (auto const slash = text.find('/'); slash != std::string::npos) {
    auto const measured = parse_length(text.substr(0, slash)), meant = parse_length(text.substr(slash + 1));
    if (!measured) return measured.error();
    if (!meant) return meant.error();
    if (!(*meant > Length())) return usage("the ruler's own length in " + in_quotes(text) + " is not above zero");
    value = *measured / *meant;
  } else {
    auto const number = plain_number(text);
    if (!number) return usage(in_quotes(text) + " is no stretch: write what was measured over what the ruler says, such as 252.5mm/254mm");
    value = *number;
  }
  if (std::abs(value - 1) > kMostStretch) return usage(in_quotes(text) + " is a stretch of more than a tenth: measure again");
  return value;
}

Result<Length> parse_shift(std::string const& text) {
  auto const length = parse_length(text);
  if (!length) return length.error();
  if (*length > kMostShift || -*length > kMostShift) return usage(in_quotes(text) + " is more than two inches: measure again");
  return *length;
}

Result<Length> parse_edge(std::string const& text) {
  auto const length = parse_shift(text);
  if (length && *length < Length()) return usage(in_quotes(text) + " is below zero: tell how wide the blank edge is");
  return length;
}

Result<Reading> parse_reads(std::string const& text) {
  if (text == "right") return Reading::right;
  if (text == "wrong") return Reading::wrong;
  return usage(in_quotes(text) + " is neither right nor wrong (as in a mirror)");
}

Result<Corner> parse_corner(std::string const& text) {
  if (text.size() == 1 && text[0] >= '1' && text[0] <= '4') return static_cast<Corner>(text[0] - '0');
  return usage(in_quotes(text) + " is none of the corner numbers 1 to 4");
}

/// Sets one part by its name. Error (usage) for an unknown name or a value that it cannot have.
Outcome set_part(Trial& trial, std::string const& name, std::string const& value) {
  auto const take = [&](auto parsed, auto& into) -> Outcome {
    if (!parsed) return usage(name + ": " + parsed.error().message);
    into = *parsed;
    return done();
  };
  if (name == "reads") return take(parse_reads(value), trial.reads);
  if (name == "leading") return take(parse_corner(value), trial.leading);
  if (name == "shift-x") return take(parse_shift(value), trial.shift_x);
  if (name == "shift-y") return take(parse_shift(value), trial.shift_y);
  if (name == "along") return take(parse_stretch(value), trial.stretch_along);
  if (name == "across") return take(parse_stretch(value), trial.stretch_across);
  if (name == "left") return take(parse_edge(value), trial.left);
  if (name == "bottom") return take(parse_edge(value), trial.bottom);
  if (name == "right") return take(parse_edge(value), trial.right);
  if (name == "top") return take(parse_edge(value), trial.top);
  std::vector<std::string> const known = {"reads", "leading", "shift-x", "shift-y", "along", "across", "left", "bottom", "right", "top"};
  return usage(in_quotes(name) + " is nothing that a trial sheet tells" + hint(name, known));
}

/// Parts as the file and --measured write them.
std::vector<std::pair<std::string, std::string>> parts_of(Trial const& trial) {
  std::vector<std::pair<std::string, std::string>> parts;
  auto const length = [](Length l) { return format_number(l.in_millimetres(), 3) + "mm"; };
  if (trial.reads) parts.emplace_back("reads", word(*trial.reads));
  if (trial.leading) parts.emplace_back("leading", std::to_string(static_cast<int>(*trial.leading)));
  if (trial.shift_x) parts.emplace_back("shift-x", length(*trial.shift_x));
  if (trial.shift_y) parts.emplace_back("shift-y", length(*trial.shift_y));
  if (trial.stretch_along) parts.emplace_back("along", format_number(*trial.stretch_along, 6));
  if (trial.stretch_across) parts.emplace_back("across", format_number(*trial.stretch_across, 6));
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

Margins Trial::unprintable() const {
  Length const none;
  return {left.value_or(none), bottom.value_or(none), right.value_or(none), top.value_or(none)};
}

Result<Trial> parse_trial(std::string_view text, std::string const& date) {
  Trial trial;
  trial.date = date;
  std::size_t from = 0;
  while (from <= text.size()) {
    auto const comma = std::min(text.find(',', from), text.size());
    std::string const part(text.substr(from, comma - from));
    auto const equals = part.find('=');
    if (equals == std::string::npos) return usage(in_quotes(part) + " is no measured value: write it like reads=wrong or left=4mm");
    if (auto set = set_part(trial, part.substr(0, equals), part.substr(equals + 1)); !set) return set.error();
    from = comma + 1;
  }
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
    return Error{ErrorKind::data, path.string() + ": " + what + "; mend it, or remove it and print a new trial sheet"};
  };
  auto const parsed = toml::parse(text.str(), path.string());
  if (!parsed) return spoilt("line " + std::to_string(parsed.error().source().begin.line) + ": " + std::string(parsed.error().description()));
  for (auto const& [key, node] : parsed.table()) {
    auto const* table = node.as_table();
    if (!table) return spoilt(in_quotes(key.str()) + " is no table of a press");
    Trial trial;
    for (auto const& [name, value] : *table) {
      auto const* written = value.as_string();
      std::string const where = "line " + std::to_string(value.source().begin.line) + ": ";
      if (!written) return spoilt(where + in_quotes(name.str()) + " is no text in quotes");
      if (name.str() == "tried") {
        if (!is_date(written->get())) return spoilt(where + in_quotes(written->get()) + " is no date such as 2026-03-01");
        trial.date = written->get();
      } else if (auto set = set_part(trial, std::string(name.str()), written->get()); !set) {
        return spoilt(where + set.error().message);
      }
    }
    trials[std::string(key.str())] = trial;
  }
  return trials;
}

Result<std::string> with_trial(std::filesystem::path const& configuration, std::string const& press, Trial const& trial) {
  auto trials = read_trials(configuration);
  if (!trials) return trials.error();
  auto& kept = (*trials)[press];
  kept.date = trial.date;
  for (auto const& [name, value] : parts_of(trial))
    if (auto set = set_part(kept, name, value); !set) return set.error();
  std::string text = "# What trial sheets showed, one table a press. Written by: layright trial --measured\n";
  for (auto const& [name, each] : *trials) {
    text += "\n[" + toml_text(name) + "]\ntried = " + toml_text(each.date) + "\n";
    for (auto const& [key, value] : parts_of(each)) text += key + " = " + toml_text(value) + "\n";
  }
  return text;
}

std::string trial_words(Trial const& trial, Unit unit) {
  std::string text = "last tried on " + trial.date;
  if (trial.reads) text += *trial.reads == Reading::wrong ? "; the press reversed it" : "; the press did not reverse it";
  if (trial.leading) text += "; the edge that leads begins at corner " + std::to_string(static_cast<int>(*trial.leading));
  std::string off;
  auto const shifted = [&](Length shift, char const* way, char const* other_way) {
    if (shift == Length()) return;
    off += (off.empty() ? "" : " and ") + format_length(shift < Length() ? -shift : shift, unit) + " too far " + (shift < Length() ? other_way : way);
  };
  shifted(trial.shift_x.value_or(Length()), "right", "left");
  shifted(trial.shift_y.value_or(Length()), "up", "down");
  if (trial.shift_x || trial.shift_y) text += "; it prints " + (off.empty() ? "in its place" : off);
  if (trial.stretch_along) text += "; along the feed it prints " + format_number(*trial.stretch_along * 100, 2) + " % of the length";
  if (trial.stretch_across) text += "; across the feed " + format_number(*trial.stretch_across * 100, 2) + " %";
  std::string blank;
  for (auto const& [name, side] : {std::pair{"left", trial.left}, {"bottom", trial.bottom}, {"right", trial.right}, {"top", trial.top}})
    if (side && *side > Length()) blank += (blank.empty() ? "" : ", ") + std::string(name) + " " + format_length(*side, unit);
  if (!blank.empty()) text += "; blank edges: " + blank;
  return text + ".";
}

}  // namespace layright
