// What a file was before it became the PDF that is looked at, as far as somebody should know.
#pragma once
#include <string>
#include <vector>

#include "convert/format.h"

namespace layright {

/// One picture that became a page.
struct SourcePicture {
  int page = 1;
  long width = 0, height = 0;            // its own pixels, before it is turned
  double along = 0, down = 0;            // pixels to the inch that it states, along its rows and down its columns; 0: none
  double used_along = 0, used_down = 0;  // what its page was made with
  int orientation = 1;                   // Exif 2.3 and TIFF 6.0, tag 274: 1 to 8; 2, 4, 5 and 7 are mirrored
  bool alpha = false;                    // transparent where its mask says so
};

/// Something that happened on the way.
struct ConversionNote {
  enum class Kind { reported, left_out, damaged, limit, refused, locked } kind = Kind::reported;  // all but `told` are for a person to decide
  std::string text;                                                                               // a sentence without its full stop
};

struct OriginalFile {
  Format format = Format::pdf;
  std::string name;                     // of the file, for what its ending promises
  std::vector<SourcePicture> pictures;  // the first few
  std::vector<ConversionNote> remarks;
};

/// After so many pages with something of their own to tell, the rest keeps quiet.
inline constexpr std::size_t kMostSourcePictures = 20;

}  // namespace layright
