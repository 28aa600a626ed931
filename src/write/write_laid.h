// Writes the laid PDF (qpdf): each source page as one form XObject under one matrix on a page of the sheet's size.
#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "document/document.h"
#include "place/place.h"
#include "sheet/target.h"

namespace layright {

struct LaidPage {
  Page source;                              // as the document described it
  Matrix<SeenSpace, SheetSpace> placement;  // from the source's seen space (of the record's source, where a record holds)
  LayRecord record;                         // what will be told of it; `holds` is not read
  std::string beside = {};                  // operators that paint marks beside the art, in sheet space
  std::optional<Rect<SeenSpace>> cut = {};  // of the same space as `placement`: only what lies in it shows
};

/// Takes the bytes of the file as they come; false stops the writing.
using ByteSink = std::function<bool(std::span<std::byte const>)>;

/// To be called before the pages that are to be laid are read: what is read of them is then kept, and not read a second time.
void expect_to_lay(Document& document);

/// Pages come out in the given order. Changes `document` in memory: use it for nothing else afterwards. Same input, same bytes.
/// Errors: io when the sink gave up, data when the library could not read what it must copy.
Outcome write_laid(Document& document, std::span<LaidPage const> pages, Sheet const& sheet, ByteSink const& sink, KeptClaims claims = {});

}  // namespace layright
