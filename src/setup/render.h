// Which rendering intent the art wants, and the words of IPP and ISO 32000 for it.
#pragma once
#include <string>
#include <string_view>

#include "sheet/target.h"

namespace layright {

/// IPP's print-rendering-intent (PWG 5100.13): relative for graphics, perceptual for pictures. ISO 32000-1, Table 70: vector graphics
/// and scanned images are the typical uses of RelativeColorimetric and Perceptual. Automatic counts as graphics: nobody looked.
std::string intent_keyword(Render render);

/// A choice in which "{percent}" stands for the coverage of the white layer; without a coverage it is 100.
std::string with_percent(std::string choice, White const& white);

}  // namespace layright
