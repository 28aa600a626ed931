// The marks of findings: a number in a shape that tells its level without its colour.
#pragma once
#include "report/proof_module/proof_canvas.h"

namespace layright {

/// Hold: a square; fix: a disc; note: a square on its corner.
void draw_badge(ProofCanvas& pen, double x, double y, Level level, int number);
inline constexpr double kBadge = 7;  // points from its middle to its edge

/// The same shapes without a number, and a tick: ready. `x` and `y` are its middle.
void draw_verdict(ProofCanvas& pen, double x, double y, Verdict verdict);

/// Round a place, as its level is drawn: hold solid, fix dashed, note dotted; on a white rim, so that it shows on any art.
void draw_place(ProofCanvas& pen, double x, double y, double w, double h, Level level);

Ink ink_of(Level level);
Ink ink_of(Verdict verdict);
/// "note", "fix", "hold".
char const* level_word(Level level);

}  // namespace layright
