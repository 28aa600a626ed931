// What a printer or queue offers, as a list to pick from.
#pragma once
#include <string>

#include "setup/service.h"

namespace layright {

/// Sizes, trays with the edge that enters first where they tell it, and every job attribute with what it may be, one a line; an asterisk
/// stands before a default.
std::string offer_list(Offer const& offer, Unit unit);

}  // namespace layright
