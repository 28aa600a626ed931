// States in the ledger's own words, and names as they are compared.
#include <unicase.h>
#include <uninorm.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <utility>

#include "watch/ledger.h"

namespace layright {
namespace {

constexpr std::array<std::pair<LedgerState, std::string_view>, 8> kStates{{{LedgerState::moving, "moving"},
                                                                           {LedgerState::taken, "taken"},
                                                                           {LedgerState::placing, "placing"},
                                                                           {LedgerState::ready, "ready"},
                                                                           {LedgerState::held, "held"},
                                                                           {LedgerState::discarded, "discarded"},
                                                                           {LedgerState::skipped, "skipped"},
                                                                           {LedgerState::missing, "missing"}}};

}  // namespace

std::string_view word(LedgerState state) {
  return std::find_if(kStates.begin(), kStates.end(), [&](auto const& each) { return each.first == state; })->second;
}

std::optional<LedgerState> parse_ledger_state(std::string_view text) {
  auto const found = std::find_if(kStates.begin(), kStates.end(), [&](auto const& each) { return each.second == text; });
  return found == kStates.end() ? std::nullopt : std::optional(found->first);
}

std::string folded_name(std::string_view name) {
  std::size_t length = 0;
  auto* const folded = u8_casefold(reinterpret_cast<std::uint8_t const*>(name.data()), name.size(), nullptr, UNINORM_NFC, nullptr, &length);
  if (!folded) return std::string(name);
  std::string out(reinterpret_cast<char const*>(folded), length);
  std::free(folded);
  return out;
}

}  // namespace layright
