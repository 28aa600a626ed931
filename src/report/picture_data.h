// A page's picture as an address that a web page can show without fetching anything.
#pragma once
#include <string>

#include "raster/page_picture.h"

namespace layright {

/// "data:image/jpeg;base64,…" (RFC 2397) of a picture on white; empty where it could not be made.
std::string picture_data(PagePicture const& picture);

}  // namespace layright
