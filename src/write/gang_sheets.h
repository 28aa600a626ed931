// Writes several laid pages on one sheet: each page, and what it shows, stands in the file once, however many copies of it there are.
#pragma once
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "document/document.h"
#include "sheet/sheet.h"
#include "write/sheet_marks.h"
#include "write/write_laid.h"

namespace layright {

/// One copy.
struct GangedPiece {
  int page = 1;                             // of the document of laid pages, from 1
  Matrix<SheetSpace, SheetSpace> movement;  // from where it was laid alone
  std::string source;                       // the same for pages that were laid from the same page of the same bytes
};

struct GangedSheet {
  std::vector<GangedPiece> pieces;
  std::vector<SheetMark> marks;
  LayRecord record;  // what is told of the sheet; what its pieces tell is added
};

/// `laid`: pages that were laid alone, whose records hold. All that is on a sheet is moved by `correction` last. Changes `laid` in memory: use it
/// for nothing else afterwards. Errors: as write_laid's.
Outcome write_gang(Document& laid, std::span<GangedSheet const> sheets, Sheet const& sheet, Matrix<SheetSpace, SheetSpace> const& correction,
                   ByteSink const& sink);

/// What a file says of the press that its colors are meant for (output intents), as a digest that is the same for the same promise; empty where it
/// says nothing. Two that differ cannot stand in one file.
std::string promised_press(Document& document);

}  // namespace layright
