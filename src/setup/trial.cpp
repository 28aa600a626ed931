#include "setup/trial.h"

#include <charconv>
#include <cmath>
#include <fstream>
#include <sstream>

#include "geometry/in_quotes.h"
#include "sheet/sizes.h"
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
  auto const edge = [&](Length Margins::*side) -> Outcome {
    auto const parsed = parse_edge(value);
    if (!parsed) return usage(name + ": " + parsed.error().message);
    if (!trial.unprintable) trial.unprintable = Margins{};
    (*trial.unprintable).*side = *parsed;
    return done();
  };
  if (name == "reads") return take(parse_reads(value), trial.reads);
  if (name == "leading") return take(parse_corner(value), trial.leading);
  if (name == "shift-x") return take(parse_shift(value), trial.shift_x);
  if (name == "shift-y") return take(parse_shift(value), trial.shift_y);
  if (name == "along") return take(parse_stretch(value), trial.stretch_along);
  if (name == "across") return take(parse_stretch(value), trial.stretch_across);
  if (name == "left") return edge(&Margins::left);
  if (name == "bottom") return edge(&Margins::bottom);
  if (name == "right") return edge(&Margins::right);
  if (name == "top") return edge(&Margins::top);
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
  if (auto const& edge = trial.unprintable)
    for (auto const& [name, side] : {std::pair{"left", edge->left}, {"bottom", edge->bottom}, {"right", edge->right}, {"top", edge->top}})
      if (side > Length()) parts.emplace_back(name, length(side));
  return parts;
}

bool is_date(std::string const& text) {
  if (text.size() != 10) return false;
  for (std::size_t i = 0; i < text.size(); ++i)
    if (i == 4 || i == 7 ? text[i] != '-' : text[i] < '0' || text[i] > '9') return false;
  return true;
}

Result<std::vector<std::pair<std::string, Trial>>> read_trials(std::filesystem::path const& path) {
  std::vector<std::pair<std::string, Trial>> trials;
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
    trials.emplace_back(std::string(key.str()), trial);
  }
  return trials;
}

std::string toml_text(std::string const& text) {
  std::string out = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? '?' : c;
  }
  return out + "\"";
}

}  // namespace

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

Result<std::optional<Trial>> find_trial(std::filesystem::path const& configuration, std::string const& press) {
  auto const trials = read_trials(trial_file(configuration));
  if (!trials) return trials.error();
  for (auto const& [name, trial] : *trials)
    if (name == press) return std::optional<Trial>(trial);
  return std::optional<Trial>();
}

Result<std::string> with_trial(std::filesystem::path const& configuration, std::string const& press, Trial const& trial) {
  auto read = read_trials(trial_file(configuration));
  if (!read) return read.error();
  auto trials = std::move(read).value();
  auto at = std::find_if(trials.begin(), trials.end(), [&](auto const& t) { return t.first == press; });
  if (at == trials.end()) at = trials.insert(trials.end(), {press, {}});
  at->second.date = trial.date;
  for (auto const& [name, value] : parts_of(trial))
    if (auto set = set_part(at->second, name, value); !set) return set.error();
  std::string text = "# What trial sheets showed, one table a press. Written by: layright trial --measured\n";
  for (auto const& [name, each] : trials) {
    text += "\n[" + toml_text(name) + "]\ntried = " + toml_text(each.date) + "\n";
    for (auto const& [key, value] : parts_of(each)) text += key + " = " + toml_text(value) + "\n";
  }
  return text;
}

Matrix<SheetSpace, SheetSpace> correction(Trial const& trial, Sheet const& sheet) {
  auto const middle = sheet.page().centre();
  // The feed runs up the page: along is y, across is x.
  double const kx = 1 / trial.stretch_across.value_or(1), ky = 1 / trial.stretch_along.value_or(1);
  double const dx = trial.shift_x.value_or(Length()).in_points(), dy = trial.shift_y.value_or(Length()).in_points();
  return {kx, 0, 0, ky, middle.x - kx * (middle.x + dx), middle.y - ky * (middle.y + dy)};
}

std::string trial_words(Trial const& trial, Unit unit) {
  std::string text = "last tried on " + trial.date;
  if (trial.reads) text += *trial.reads == Reading::wrong ? "; the press reversed it" : "; the press did not reverse it";
  if (trial.leading) text += "; the edge that leads begins at corner " + std::to_string(static_cast<int>(*trial.leading));
  if (trial.shift_x || trial.shift_y)
    text += "; it prints " + format_size(trial.shift_x.value_or(Length()), trial.shift_y.value_or(Length()), unit) + " (right x up) off its place";
  if (trial.stretch_along) text += "; along the feed it prints " + format_number(*trial.stretch_along * 100, 2) + " % of the length";
  if (trial.stretch_across) text += "; across the feed " + format_number(*trial.stretch_across * 100, 2) + " %";
  std::string blank;
  if (auto const& e = trial.unprintable)
    for (auto const& [name, side] : {std::pair{"left", e->left}, {"bottom", e->bottom}, {"right", e->right}, {"top", e->top}})
      if (side > Length()) blank += (blank.empty() ? "" : ", ") + std::string(name) + " " + format_length(side, unit);
  if (!blank.empty()) text += "; blank edges: " + blank;
  return text + ".";
}

}  // namespace layright
