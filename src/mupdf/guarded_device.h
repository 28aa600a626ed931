// A device before the library's own painter that keeps from it what lies in an area without pixels.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// The colors that groups are blended in. Where only the cover is asked for they are the painting's: less memory, and the same alpha. Within soft
/// masks they are always the groups' own.
enum class GroupSpaces { own, of_painting };

/// Hands on to `painter`, which the caller drops later, all but what is clipped to less than two pixels either way: painting by middles of
/// pixels (PageBands), the library 1.21 writes outside its memory where something is clipped to an area without any. So
/// what lies on the outermost pixels of `area` may be missing. Null where there is no memory.
fz_device* new_guarded_device(fz_context* ctx, fz_device* painter, fz_irect area, GroupSpaces groups = GroupSpaces::own);

}  // namespace layright
