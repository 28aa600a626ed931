// Whether the data of a JBIG2 picture are there to their end (ITU-T T.88, 7.2; embedded as ISO 32000-1, 7.4.7, says).
#pragma once
#include <span>

namespace layright {

/// False where a segment reaches beyond the end: the library shows such a picture as if it were sound.
bool jbig2_is_whole(std::span<unsigned char const> bytes);

}  // namespace layright
