// Values that the configuration and the command line name by a word.
#pragma once
#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>

#include "base/in_quotes.h"
#include "base/result.h"

namespace layright {

template <class Value, std::size_t N>
using Words = std::array<std::pair<Value, std::string_view>, N>;

/// Empty where the list has it not.
template <class Value, std::size_t N>
std::string_view word_of(Words<Value, N> const& words, Value value) {
  for (auto const& [known, text] : words)
    if (known == value) return text;
  return {};
}

/// Error (usage) lists the words.
template <class Value, std::size_t N>
Result<Value> value_of(Words<Value, N> const& words, std::string_view text) {
  std::string list;
  for (std::size_t i = 0; i < N; ++i) {
    if (words[i].second == text) return words[i].first;
    list += (i == 0 ? "" : i + 1 == N ? " or " : ", ") + std::string(words[i].second);
  }
  return usage_error(in_quotes(text) + " is not known here: use " + list);
}

}  // namespace layright
