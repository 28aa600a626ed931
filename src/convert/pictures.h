// A picture of any format that is taken, as a PDF with a page for each picture in it.
#pragma once
#include <functional>

#include "convert/picture_pages.h"

namespace layright {

/// What reads a format; some need a library that is loaded only for them.
struct PictureReader {
  Format format = Format::none;
  ReadPictures by_library = nullptr;
  std::string trouble;  // why the library could not be loaded
};
/// To be called before the sandbox closes: it loads what is read from disk.
PictureReader prepare_picture_reader(Format format);

/// Writes the PDF to `descriptor` and tells what the file was in `source`. Errors: data (damaged, cut short), hold (too large), usage (not
/// taken), io, internal.
Outcome pictures_to_pdf(PictureReader const& reader, std::span<std::byte const> bytes, PictureOptions const& options, int descriptor,
                        OriginalFile& source, std::function<void()> const& alive);

}  // namespace layright
