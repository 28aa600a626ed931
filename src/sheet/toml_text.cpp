#include "sheet/toml_text.h"

#include <algorithm>
#include <fstream>

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kLargestBytes = 1'000'000;
// Each point in a key nests a table within a table, and toml++ frees them by recursion: a line of 100,000 would overflow the
// stack.
constexpr std::ptrdiff_t kMostPointsALine = 200;

Outcome check_text(std::string_view text, fs::path const& path, std::string const& what) {
  if (text.size() > kLargestBytes) return usage_error(path.string() + ": larger than 1 MB: this is no " + what);
  std::size_t line = 1;
  for (std::size_t start = 0; start < text.size(); ++line) {
    auto const end = std::min(text.find('\n', start), text.size());
    auto const points = std::count(text.begin() + static_cast<std::ptrdiff_t>(start), text.begin() + static_cast<std::ptrdiff_t>(end), '.');
    if (points > kMostPointsALine) return usage_error(path.string() + ":" + std::to_string(line) + ":1: more than 200 points in one line");
    start = end + 1;
  }
  return done();
}

/// Those that word processors put in the place of straight ones, in line `number` (from 1).
bool has_curly_quotes(std::string_view text, std::size_t number) {
  for (; number > 1 && !text.empty(); --number) text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
  auto const line = text.substr(0, text.find('\n'));
  return line.find("\u201c") != std::string_view::npos || line.find("\u201d") != std::string_view::npos;
}

}  // namespace

fs::path absolute_path(fs::path const& path) {
  std::error_code error;
  auto const whole = fs::absolute(path, error);
  return error ? path : whole.lexically_normal();
}

Result<std::string> load_toml_text(fs::path const& path, std::string const& what) {
  auto const no_input = [&](std::string const& why) { return Error{ErrorKind::no_input, path.string() + ": " + why}; };
  std::error_code error;
  auto const status = fs::status(path, error);
  if (!fs::exists(status)) return no_input("there is no such " + what);
  if (fs::is_directory(status)) return no_input("this is a folder, not " + std::string(what == "order" ? "an " : "a ") + what);
  std::ifstream file(path, std::ios::binary);
  if (!file) return no_input("the " + what + " cannot be opened");
  std::string text(kLargestBytes + 1, '\0');
  file.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (file.bad()) return no_input("the " + what + " cannot be read");
  text.resize(static_cast<std::size_t>(file.gcount()));
  return text;
}

Result<toml::table> parse_toml_text(std::string_view text, fs::path const& path, std::string const& what) {
  if (auto const fits = check_text(text, path, what); !fits) return fits.error();
  auto parsed = toml::parse(text);
  if (parsed) return std::move(parsed).table();
  auto const& where = parsed.error().source().begin;
  return usage_error(
      path.string() + ":" + std::to_string(where.line) + ":" + std::to_string(where.column) + ": " +
      (has_curly_quotes(text, where.line) ? "curly quotes are not taken here; type straight ones: \"" : std::string(parsed.error().description())));
}

}  // namespace layright
