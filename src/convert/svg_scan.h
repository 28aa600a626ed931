// Reads a drawing's XML once: what it asks for is noted, and what the program that draws it reads is written anew from the same reading, so
// that both see the same, whatever characters, entities and encodings the file is written with.
#pragma once
#include <string_view>

#include "convert/svg_source.h"

namespace layright {

/// Fills `source`; its text is UTF-8, without entities, comments and addresses of a base. Errors: data (cut short, broken), hold (becomes
/// larger than `most` bytes).
Outcome scan_svg(std::string_view text, std::size_t most, SvgSource& source);

}  // namespace layright
