// States in the ledger's own words, and names as they are compared.

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <utility>

#include "watch/ledger.h"

namespace layright {
namespace {

constexpr std::array<std::pair<LedgerState, std::string_view>, 9> kStates{{{LedgerState::moving, "moving"},
                                                                           {LedgerState::taken, "taken"},
                                                                           {LedgerState::waiting, "waiting"},
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

}  // namespace layright
