#include <algorithm>

#include "sheet/sizes.h"

namespace layright {

namespace {

constexpr std::size_t kLongestWord = 64;  // longer words are no slip of the finger, and the cost grows with the square

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// Letters to add, drop, change, or swap with their neighbour (optimal string alignment), capitals aside.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before_last, last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      char const x = lower(a[i - 1]), y = lower(b[j - 1]);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (x == y ? 0 : 1)});
      bool const swapped = i > 1 && j > 1 && x == lower(b[j - 2]) && lower(a[i - 2]) == y;
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
    before_last = last;
    last = row;
  }
  return last[b.size()];
}

/// The one candidate that begins with the word, or none: people write "narrow" for "narrow-film".
std::string only_longer(std::string_view word, std::vector<std::string> const& candidates) {
  constexpr std::size_t kLeastWord = 3;
  std::string found;
  for (auto const& candidate : candidates) {
    if (word.size() < kLeastWord || !candidate.starts_with(word)) continue;
    if (!found.empty()) return {};
    found = candidate;
  }
  return found;
}

}  // namespace

std::string nearest_name(std::string_view word, std::vector<std::string> const& candidates) {
  if (word.empty() || word.size() > kLongestWord) return {};
  if (auto longer = only_longer(word, candidates); !longer.empty()) return longer;
  // A third of the letters may be off, yet not all of them.
  std::size_t const allowed = (word.size() + 2) / 3;
  std::string best;
  std::size_t best_distance = allowed + 1;
  for (auto const& candidate : candidates) {
    if (candidate.size() > kLongestWord) continue;
    auto const distance = edit_distance(word, candidate);
    if (distance >= best_distance || distance >= std::max(word.size(), candidate.size())) continue;
    best = candidate;
    best_distance = distance;
  }
  return best;
}

}  // namespace layright
