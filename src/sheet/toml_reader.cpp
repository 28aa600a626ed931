#include "sheet/toml_reader.h"

#include <algorithm>
#include <cmath>

#include "base/in_quotes.h"
#include "sheet/sizes.h"

namespace layright {

namespace {

constexpr std::size_t kLongestName = 100;
constexpr std::size_t kLongestText = 4096;  // a path (PATH_MAX of Linux)

std::string kind_of(toml::node const& node) {
  switch (node.type()) {
    case toml::node_type::table: return "a table";
    case toml::node_type::array: return "a list";
    case toml::node_type::string: return "a text";
    case toml::node_type::integer: return "a whole number";
    case toml::node_type::floating_point: return "a number";
    case toml::node_type::boolean: return "true or false";
    case toml::node_type::date:
    case toml::node_type::time:
    case toml::node_type::date_time: return "a date or time";
    case toml::node_type::none: break;
  }
  return "nothing";
}

bool has_control_characters(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
}

bool earlier(toml::source_position const& a, toml::source_position const& b) { return a.line != b.line ? a.line < b.line : a.column < b.column; }

/// The table's keys in the file's order.
std::vector<std::pair<toml::key, toml::node const*>> in_order(toml::table const& table) {
  std::vector<std::pair<toml::key, toml::node const*>> all;
  for (auto const& [key, node] : table) all.emplace_back(key, &node);
  std::stable_sort(all.begin(), all.end(), [](auto const& a, auto const& b) { return earlier(a.first.source().begin, b.first.source().begin); });
  return all;
}

/// "margin in [sheet.a]" within "[sheet.a]"; the root's own keys stand alone.
std::string name_within(std::string_view key, std::string const& table) {
  return table.empty() ? std::string(key) : std::string(key) + " in " + table;
}

}  // namespace

std::string hint(std::string_view word, std::vector<std::string> const& known) {
  if (known.empty()) return {};
  auto const nearest = nearest_name(word, known);
  if (!nearest.empty()) return "; did you mean " + in_quotes(nearest) + "?";
  constexpr std::size_t kMostListed = 60;
  std::string list;
  for (std::size_t i = 0; i < std::min(known.size(), kMostListed); ++i) list += (i ? ", " : "") + known[i];
  return "; known here: " + list + (known.size() > kMostListed ? ", …" : "");
}

Error TomlReader::at_place(toml::source_region const& where, std::string const& what) const {
  std::string place = path_.string();
  if (where.begin.line > 0) place.append(":").append(std::to_string(where.begin.line)).append(":").append(std::to_string(where.begin.column));
  return {ErrorKind::usage, place + ": " + what};
}

Error TomlReader::at(Entry const& entry, std::string const& what) const {
  return at_place(entry.node.source(), entry.name.empty() ? what : entry.name + ": " + what);
}

Error TomlReader::unexpected(Entry const& entry, std::string const& expected) const {
  return at(entry, "expected " + expected + ", but found " + kind_of(entry.node));
}

Outcome TomlReader::table(Entry const& entry, std::vector<Key> const& keys) const {
  auto const* const table = entry.node.as_table();
  if (table == nullptr) return unexpected(entry, "a table");
  std::vector<std::string> known;
  for (auto const& key : keys) known.emplace_back(key.name);
  for (auto const& [key, node] : in_order(*table)) {
    if (std::find(known.begin(), known.end(), key.str()) != known.end()) continue;
    auto const where = entry.name.empty() ? std::string() : " in " + entry.name;
    return at_place(key.source(), "unknown key " + in_quotes(key.str()) + where + hint(key.str(), known));
  }
  for (auto const& key : keys) {
    auto const* const node = table->get(key.name);
    if (node == nullptr && key.required) return at(entry, "the key " + in_quotes(key.name) + " is missing");
    if (node == nullptr) continue;
    if (auto const set = key.set({*node, name_within(key.name, entry.name)}); !set) return set;
  }
  return done();
}

Outcome TomlReader::each(Entry const& entry, std::function<Outcome(std::string const&, Entry const&)> const& read) const {
  auto const* const table = entry.node.as_table();
  if (table == nullptr) return unexpected(entry, "tables with a name, such as [" + entry.name + ".NAME]");
  for (auto const& [key, node] : in_order(*table)) {
    std::string const name(key.str());
    if (name.empty() || name.size() > kLongestName || has_control_characters(name))
      return at_place(key.source(), in_quotes(name) + " in [" + entry.name + "] is no name: use up to " + std::to_string(kLongestName) +
                                        " letters, digits and dashes");
    Entry const named{*node, "[" + entry.name + "." + name + "]"};
    if (!node->is_table()) return unexpected(named, "a table with a name of its own, such as [" + entry.name + ".NAME]");
    if (auto const done_one = read(name, named); !done_one) return done_one;
  }
  return done();
}

Result<std::string> TomlReader::text_of(Entry const& entry, std::string const& expected) const {
  auto const* const text = entry.node.as_string();
  if (text == nullptr) return unexpected(entry, expected);
  if (text->get().empty()) return at(entry, "expected " + expected + ", but it is empty");
  if (text->get().size() > kLongestText) return at(entry, "the text is longer than " + std::to_string(kLongestText) + " bytes");
  if (has_control_characters(text->get())) return at(entry, in_quotes(text->get()) + " has control characters (line ends, tabs or the like)");
  return text->get();
}

Setter TomlReader::text(std::string& into, std::string expected) const {
  return parsed(
      into, [](std::string const& text) -> Result<std::string> { return text; }, std::move(expected));
}

Setter TomlReader::path(std::filesystem::path& into) const {
  auto const resolve = [folder = path_.parent_path()](std::string const& text) -> Result<std::filesystem::path> {
    auto const whole_path = (folder / text).lexically_normal();
    return whole_path.has_filename() || !whole_path.has_relative_path() ? whole_path : whole_path.parent_path();
  };
  return parsed(into, resolve, "a path in quotes");
}

Setter TomlReader::flag(bool& into) const {
  return [this, &into](Entry const& entry) -> Outcome {
    auto const* const value = entry.node.as_boolean();
    if (value == nullptr) return unexpected(entry, "true or false without quotes");
    into = value->get();
    return done();
  };
}

Setter TomlReader::number(double& into) const {
  return [this, &into](Entry const& entry) -> Outcome {
    if (!entry.node.is_number()) return unexpected(entry, "a number above zero without quotes");
    double const value = entry.node.is_integer() ? static_cast<double>(entry.node.as_integer()->get()) : entry.node.as_floating_point()->get();
    if (!std::isfinite(value) || value <= 0) return at(entry, "the number must be finite and above zero");
    into = value;
    return done();
  };
}

Setter TomlReader::whole(int& into, int least, int most) const {
  return [this, &into, least, most](Entry const& entry) -> Outcome {
    auto const range = "a whole number from " + std::to_string(least) + " to " + std::to_string(most);
    auto const* const value = entry.node.as_integer();
    if (value == nullptr) return unexpected(entry, range + " without quotes");
    if (value->get() < least || value->get() > most) return at(entry, std::to_string(value->get()) + " is not " + range);
    into = static_cast<int>(value->get());
    return done();
  };
}

Setter TomlReader::extent(Length& into) const {
  auto const parse = [](std::string const& text) -> Result<Length> {
    auto const length = parse_length(text);
    if (length && *length < Length()) return Error{ErrorKind::usage, in_quotes(text) + " is below zero"};
    return length;
  };
  return parsed(into, parse, "a length with its unit in quotes, such as \"0.25in\"");
}

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? '?' : c;
  }
  return out + "\"";
}

}  // namespace layright
