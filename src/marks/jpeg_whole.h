// Whether the data of a JPEG are there to their end. The decoder makes up what is missing, and only warns.
#pragma once
#include <span>

namespace layright {

/// Of a decoder's warning: it had to make up what a picture shows. (It also warns of what harms nothing, such as an end without its mark.)
bool makes_something_up(int warning);

/// Decodes it coarsely where it does not end as it must. False as well where it cannot be decoded at all: that is reported elsewhere.
bool jpeg_is_cut(std::span<unsigned char const> bytes);

}  // namespace layright
