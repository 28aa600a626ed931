// White plates on laid pages: put there, taken off, and shown to be all that a file has more than the one without them.
#pragma once
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

#include "base/result.h"
#include "document/document.h"
#include "geometry/rect.h"
#include "geometry/space.h"
#include "plate/packed_plate.h"
#include "write/write_laid.h"

namespace layright {

struct WhitePlate {
  PlatePicture picture;    // without pixels: the page has no white
  Rect<SheetSpace> where;  // what it covers
  std::string made;        // for the record: how it was made
};

/// What the record tells of it; empty where there is no white.
std::string plate_record(WhitePlate const& plate);

/// The plates of all pages of `laid`, each page's record telling that it holds. The plate is the last of the page, one picture in the separation
/// `ink`, under Multiply: then nothing beneath it is knocked out, and a screen shows the page unchanged (ISO 32000-1, 11.7.4.2). Where the art
/// names that separation itself, its own color space is used: a file may not say two things of one name. Changes `laid` in memory: use it
/// for nothing else afterwards. Errors: io when the sink gave up, data when the library could not read what it must copy.
Outcome write_plates(Document& laid, std::vector<WhitePlate> const& plates, std::string const& ink, ByteSink const& sink);

/// That each page of `plated` is the page of `laid` and its plate, and nothing else. Error (internal): how it differs. Neither may have been
/// changed in memory; both are by this.
Outcome prove_plates(Document& laid, Document& plated, std::vector<WhitePlate> const& plates, std::string const& ink);

/// Of a page whose record tells of a plate: what paints the page without it, and what that names.
QPDFObjectHandle content_without_plate(QPDFObjectHandle page);
QPDFObjectHandle resources_without_plate(QPDFObjectHandle page);

}  // namespace layright
