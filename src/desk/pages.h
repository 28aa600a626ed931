// The pages of the desk, as they lie in src/desk/pages; the build puts them into the program.
#pragma once
#include <span>
#include <string_view>

namespace layright {

struct EmbeddedPage {
  std::string_view name;  // "today.html"
  std::string_view text;
};
std::span<EmbeddedPage const> embedded_pages();

}  // namespace layright
