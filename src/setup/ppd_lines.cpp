#include "setup/ppd_lines.h"

#include <cups/file.h>

#include <algorithm>
#include <cstdint>
#include <fstream>
#include <optional>

namespace layright {
namespace {

constexpr std::size_t kMostQuoted = 120;

bool blank(char c) { return c == ' ' || c == '\t'; }

/// The words of a line, without asterisks, colons and quotation marks at their ends; a translation after a slash falls away.
std::vector<std::string> words_of(std::string_view line) {
  std::vector<std::string> words;
  std::string word;
  for (char c : line) {
    if (!blank(c) && c != '"' && c != ':') {
      word += c;
    } else if (!word.empty()) {
      words.push_back(word.substr(0, word.find('/')));
      word.clear();
    }
  }
  if (!word.empty()) words.push_back(word.substr(0, word.find('/')));
  return words;
}

std::string quoted(std::vector<std::string> const& lines, std::size_t index) {
  std::string text = lines[index];
  if (text.size() > kMostQuoted) text = text.substr(0, kMostQuoted) + "…";
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20) c = ' ';
  return "line " + std::to_string(index + 1) + ": " + text;
}

/// Whether the words of a constraint from `at` on name this option with this choice; `next` is where they end.
bool names(std::vector<std::string> const& words, std::size_t at, std::string_view option, std::string_view choice, std::size_t& next) {
  if (at >= words.size()) return false;
  std::string name = words[at];
  if (!name.empty() && name[0] == '*') name.erase(0, 1);
  bool const same = name == option || (option == "PageSize" && (name == "PageRegion" || name == "CustomPageSize"));
  next = at + 1;
  if (next >= words.size() || words[next].starts_with('*')) return same && choice != "None" && choice != "False" && choice != "Off";
  bool const any_custom = words[next] == "True" || words[next] == "Custom";
  bool const chosen = words[next] == choice || (any_custom && choice.starts_with("Custom"));
  ++next;
  return same && chosen;
}

/// What the last four bytes of a gzip file say of its size (RFC 1952, 2.3.1); 0 where there are none.
std::uint32_t unpacked_size(std::filesystem::path const& path) {
  std::ifstream file(path, std::ios::binary);
  unsigned char b[4] = {};
  if (!file.seekg(-4, std::ios::end) || !file.read(reinterpret_cast<char*>(b), 4)) return 0;
  return static_cast<std::uint32_t>(b[0]) | static_cast<std::uint32_t>(b[1]) << 8 | static_cast<std::uint32_t>(b[2]) << 16 |
         static_cast<std::uint32_t>(b[3]) << 24;
}

/// The line of an option or of a quoted value that the lines end in (PPD specification 4.3, 2.4 and 5.2). Some makers forget to close an
/// option and go on with others: that is no end.
std::optional<std::size_t> open_at_the_end(std::vector<std::string> const& lines) {
  std::optional<std::size_t> quote, option;
  std::string name;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    std::string_view const line = lines[i];
    if (!quote && line.starts_with("*%")) continue;
    if (!quote && line.starts_with('*') && !line.starts_with("*End")) {
      auto const words = words_of(line);
      bool const opens = words[0] == "*OpenUI" || words[0] == "*JCLOpenUI";
      if (opens && words.size() > 1) name = words[1].substr(words[1].starts_with('*') ? 1 : 0);
      bool const of_it =
          option && (words[0] == "*" + name || words[0] == "*Default" + name || words[0] == "*?" + name || words[0] == "*OrderDependency");
      if (opens) option = i;
      else if (!of_it) option.reset();
    }
    if (std::count(line.begin(), line.end(), '"') % 2 == 1) quote = quote ? std::nullopt : std::optional(i);
  }
  return quote ? quote : option;
}

}  // namespace

PpdLines PpdLines::read(std::filesystem::path const& path) {
  PpdLines result;
  cups_file_t* file = cupsFileOpen(path.c_str(), "r");
  if (!file) return result;
  std::string line(8192, '\0');
  std::size_t total = 0;
  while (total < kMostPpdBytes && cupsFileGets(file, line.data(), line.size())) {
    result.lines_.emplace_back(line.c_str());
    total += result.lines_.back().size() + 1;
  }
  auto const bytes = cupsFileTell(file);
  bool const packed = cupsFileCompression(file) == CUPS_FILE_GZIP;
  cupsFileClose(file);
  if (total >= kMostPpdBytes) result.broken_off_ = "it is longer than any PPD (" + std::to_string(kMostPpdBytes >> 20) + " MB)";
  else if (packed && unpacked_size(path) != static_cast<std::uint32_t>(bytes)) result.broken_off_ = "its compressed bytes are cut short";
  else if (auto const open = open_at_the_end(result.lines_)) result.broken_off_ = "it ends inside of what begins in " + quoted(result.lines_, *open);
  return result;
}

std::string PpdLines::quote(std::string_view keyword, std::string_view option) const {
  for (std::size_t i = 0; i < lines_.size(); ++i) {
    std::string_view line = lines_[i];
    if (!line.starts_with(keyword)) continue;
    line.remove_prefix(keyword.size());
    if (!line.empty() && !blank(line[0]) && line[0] != ':') continue;
    if (!option.empty()) {
      while (!line.empty() && blank(line[0])) line.remove_prefix(1);
      if (!line.starts_with(option)) continue;
      line.remove_prefix(option.size());
      if (!line.empty() && !blank(line[0]) && line[0] != ':' && line[0] != '/') continue;
    }
    return quoted(lines_, i);
  }
  return {};
}

std::map<std::string, std::string> PpdLines::english() const {
  std::map<std::string, std::string> labels;
  for (std::string_view line : lines_)
    for (std::string_view const begin : {"*en.", "*en_US.", "*en_GB."}) {
      if (!line.starts_with(begin)) continue;
      auto const slash = line.find('/'), colon = line.find(':', slash == std::string_view::npos ? 0 : slash);
      if (slash != std::string_view::npos && colon != std::string_view::npos)
        labels.emplace(line.substr(begin.size(), slash - begin.size()), line.substr(slash + 1, colon - slash - 1));
    }
  return labels;
}

std::string PpdLines::quote_constraint(std::string_view option1, std::string_view choice1, std::string_view option2, std::string_view choice2) const {
  for (std::size_t i = 0; i < lines_.size(); ++i) {
    std::string_view const line = lines_[i];
    if (!line.starts_with("*UIConstraints") && !line.starts_with("*NonUIConstraints") && !line.starts_with("*cupsUIConstraints")) continue;
    auto words = words_of(line);
    auto const first = std::find_if(words.begin() + 1, words.end(), [](auto const& w) { return w.starts_with('*'); });
    auto const at = static_cast<std::size_t>(first - words.begin());
    std::size_t next = 0, last = 0;
    if ((names(words, at, option1, choice1, next) && names(words, next, option2, choice2, last)) ||
        (names(words, at, option2, choice2, next) && names(words, next, option1, choice1, last)))
      return quoted(lines_, i);
  }
  return {};
}

}  // namespace layright
