// White plates of laid pages: put on them, or beside them, and taken off.
#pragma once
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

#include "base/result.h"
#include "document/document.h"
#include "geometry/rect.h"
#include "geometry/space.h"
#include "plate/packed_plate.h"
#include "sheet/plate.h"
#include "write/write_laid.h"

namespace layright {

struct WhitePlate {
  PlatePicture picture;                       // without pixels: the page has no white
  Rect<SheetSpace> where;                     // what it covers
  std::string made;                           // for the record: how it was made
  std::vector<Point<SheetSpace>> marks = {};  // the middles of its register marks, here and on the art; only where it lies apart
};

/// In which ink the plates are, and where they lie.
struct PlateForm {
  std::string ink;
  PlateAs as = PlateAs::spot;
  bool first = false;
};

/// What the record of the art's page tells of it; empty where there is no white, and nothing is put anywhere.
std::string plate_record(WhitePlate const& plate, PlateAs as);

/// The plates of all pages of `laid`, each page's record telling that it holds. As a spot color a plate is the last of its page, one picture in the
/// separation `ink`, under Multiply: then nothing beneath it is knocked out, and a screen shows the page unchanged (ISO 32000-1, 11.7.4.2). Where the
/// art names that separation itself, its own color space is used: a file may not say two things of one name. As a page it comes before or after the
/// art's, with a record that says that it is a plate; in a file of its own it is left to write_plate_file. Changes `laid` in memory: use it for
/// nothing else afterwards. Errors: io when the sink gave up, data when the library could not read what it must copy.
Outcome write_plates(Document& laid, std::vector<WhitePlate> const& plates, PlateForm const& form, ByteSink const& sink);

/// A file of the plates alone, as many pages as `laid` has, which is read only.
Outcome write_plate_file(Document& laid, std::vector<WhitePlate> const& plates, PlateForm const& form, ByteSink const& sink);

/// Of a page whose record tells of a plate: what paints the page without it, and what that names.
QPDFObjectHandle content_without_plate(QPDFObjectHandle page);
QPDFObjectHandle resources_without_plate(QPDFObjectHandle page);

}  // namespace layright
