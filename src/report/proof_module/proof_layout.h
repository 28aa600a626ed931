// Where everything of a proof goes.
#pragma once
#include "report/proof_module/proof_canvas.h"

namespace layright {

/// The whole proof. Throws std::runtime_error where cairo cannot.
std::string draw_proof(Proof const& proof);

/// proof_sheet.cpp: the sheet `scale` times its size, its upper left corner at x, y, with its art and the marks of the findings.
void draw_proof_sheet(ProofCanvas& pen, Proof const& proof, ProofPage const& page, double x, double y, double scale);

/// The art as it will look on the goods, inside the rectangle.
void draw_goods(ProofCanvas& pen, Proof const& proof, ProofPage const& page, double x, double y, double w, double h);

}  // namespace layright
