#include <charconv>

#include "job/inspect.h"

namespace layright {
namespace {

std::optional<int> whole_number(std::string_view text) {
  int value = 0;
  auto const [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (text.empty() || error != std::errc{} || end != text.data() + text.size() || value < 1) return std::nullopt;
  return value;
}

}  // namespace

Result<PageChoice> PageChoice::parse(std::string_view text) {
  PageChoice choice;
  std::string_view rest = text;
  for (;;) {
    auto const comma = rest.find(',');
    auto const part = rest.substr(0, comma);
    auto const dash = part.find('-');
    auto const first = whole_number(part.substr(0, dash));
    auto const last = dash == std::string_view::npos ? first : whole_number(part.substr(dash + 1));
    if (!first || !last || *last < *first)
      return Error{ErrorKind::usage, "'" + std::string(text) + "' is no list of pages; write for instance 1-3,7 (counted from 1)"};
    choice.ranges_.emplace_back(*first, *last);
    if (comma == std::string_view::npos) return choice;
    rest = rest.substr(comma + 1);
  }
}

bool PageChoice::has(int number) const {
  if (all()) return true;
  for (auto const& [first, last] : ranges_)
    if (number >= first && number <= last) return true;
  return false;
}

std::vector<int> PageChoice::beyond(int page_count) const {
  std::vector<int> numbers;
  for (auto const& [first, last] : ranges_)
    if (last > page_count) numbers.push_back(std::max(first, page_count + 1));
  return numbers;
}

}  // namespace layright
