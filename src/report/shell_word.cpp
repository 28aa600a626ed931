#include "report/shell_word.h"

namespace layright {

std::string quoted_for_shell(std::string_view word) {
  constexpr std::string_view kPlain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-/+,=@%:";
  if (word.find_first_not_of(kPlain) == std::string_view::npos) return std::string(word);
  std::string out = "'";
  for (char c : word) out += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return out + "'";
}

}  // namespace layright
