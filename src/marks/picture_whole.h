// Whether the data of a picture are there to their end. Programs show one that is cut short, each in its own way.
#pragma once
#include <span>

#include "mupdf/library.h"

namespace layright {

/// How many whole rows of a picture without a format of its own there is data for.
int rows_of_data(fz_context* ctx, fz_image* image);

/// Reads no pixel of what tells its own length; else unpacks it.
bool picture_is_cut(fz_context* ctx, fz_image* image);

/// False where a tile reaches beyond the end (ISO/IEC 15444-1, A.4.2; in a file of boxes, I.4).
bool jpeg2000_is_whole(std::span<unsigned char const> bytes);

}  // namespace layright
