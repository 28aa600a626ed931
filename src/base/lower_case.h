// ASCII letters made small; all other bytes stay.
#pragma once
#include <string>
#include <string_view>

namespace layright {

inline std::string lower_case(std::string_view text) {
  std::string out(text);
  for (auto& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

}  // namespace layright
