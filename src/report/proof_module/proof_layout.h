// Where everything of a proof goes.
#pragma once
#include <string>
#include <vector>

#include "report/proof_module/cut_out.h"
#include "report/proof_module/proof_canvas.h"
#include "report/sheet_view.h"
#include "report/side_labels.h"

namespace layright {

/// The whole proof. Throws std::runtime_error where cairo cannot.
std::string draw_proof(Proof const& proof);

/// From the printed sheet to the drawing, y down.
struct OnDrawing {
  double x, y, scale;      // where the frame's upper left corner is drawn
  Rect<SheetSpace> frame;  // of the sheet view
  double px(double v) const { return x + (v - frame.x0) * scale; }
  double py(double v) const { return y + (frame.y1 - v) * scale; }
  DrawnRect of(Rect<SheetSpace> const& r) const { return {px(r.x0), py(r.y1), px(r.x1), py(r.y0)}; }
};

/// What stands around the drawing of a sheet, in points: numbers of findings and their gap, the ruler, and the arrow above.
inline constexpr double kLabelSide = 21, kLabelGap = 7, kRuler = 20, kArrowRoom = 34;

/// proof_sheet.cpp: the sheet and its art alone.
void draw_laid_sheet(ProofCanvas& pen, Proof const& proof, ProofPage const& page, SheetView const& view, OnDrawing const& on);
/// The same with the arrow that says which edge goes first, the rulers, and the marks of the findings in the margins beside it.
void draw_proof_sheet(ProofCanvas& pen, Proof const& proof, ProofPage const& page, SheetView const& view, OnDrawing const& on);

/// proof_goods.cpp: the art as it will be worn, upright, as large as it goes into the rectangle; gives where its ink lies. `mark_lost`: white that
/// the press will not print is striped.
DrawnRect draw_worn(ProofCanvas& pen, Proof const& proof, ProofPage const& page, ProofGround goods, bool mark_lost, DrawnRect const& room);
/// The white plate by itself, in the same way.
void draw_plate(ProofCanvas& pen, Proof const& proof, ProofPage const& page, DrawnRect const& room);
/// Which goods the art is shown on, if any: what was asked for, else dark ones where white would be missing there.
std::optional<ProofGround> shown_goods(Proof const& proof, ProofPage const& page);
bool loses_white(Proof const& proof, ProofPage const& page);
/// How large the ink is on the goods, upright as seen.
SeenSize worn_size(ProofPage const& page);
void draw_ground(ProofCanvas& pen, ProofGround ground, DrawnRect const& r);

/// proof_list.cpp: what was found, in a column.
struct ListedFinding {
  ProofFinding const* finding;
  int number;
  std::vector<std::string> lines, where;
  std::vector<CutOut> cuts;  // of the page, where a person must say which way it reads
  double height() const;
};
std::vector<ListedFinding> listed_findings(ProofCanvas& pen, Proof const& proof, ProofPage const& page, SheetView const& view, double width);
void draw_list(ProofCanvas& pen, ProofPage const& page, std::vector<ListedFinding> const& list, double x, double y);

/// customer_proof.cpp: one page of paper.
SeenSize customer_paper(Proof const& proof);
void draw_customer_page(ProofCanvas& pen, Proof const& proof, ProofPage const& page);

}  // namespace layright
