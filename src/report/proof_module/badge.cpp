#include "report/proof_module/badge.h"

namespace layright {

// Each is at least 7 to 1 against white (WCAG 2.2, 1.4.6), and they differ in lightness as well.
Ink ink_of(Level level) {
  switch (level) {
    case Level::hold: return {0.55, 0.05, 0.10};
    case Level::fix: return {0.36, 0.25, 0.00};
    case Level::note: break;
  }
  return {0.05, 0.25, 0.45};
}

char const* level_word(Level level) { return level == Level::hold ? "hold" : level == Level::fix ? "fix" : "note"; }

Ink ink_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::hold: return ink_of(Level::hold);
    case Verdict::fix: return ink_of(Level::fix);
    case Verdict::ready: break;
  }
  return {0.07, 0.31, 0.17};
}

namespace {

void draw_shape(ProofCanvas& pen, double x, double y, double r, Level level) {
  Ink const ink = ink_of(level);
  switch (level) {
    case Level::hold: return pen.polygon({{x - r, y - r}, {x + r, y - r}, {x + r, y + r}, {x - r, y + r}}, ink, kWhite, 1);
    case Level::fix: return pen.disc(x, y, r, ink, kWhite, 1);
    case Level::note: break;
  }
  pen.polygon({{x, y - r * 1.3}, {x + r * 1.3, y}, {x, y + r * 1.3}, {x - r * 1.3, y}}, ink, kWhite, 1);
}

}  // namespace

void draw_badge(ProofCanvas& pen, double x, double y, Level level, int number) {
  draw_shape(pen, x, y, kBadge, level);
  std::string const text = std::to_string(number);
  double const size = text.size() > 1 ? 7 : 8.5;
  pen.text(x - pen.width_of(text, size, true) / 2, y + size * 0.36, text, size, kWhite, true);
}

void draw_verdict(ProofCanvas& pen, double x, double y, Verdict verdict) {
  constexpr double kHalf = 4.5;
  if (verdict == Verdict::ready) return pen.tick(x - kHalf, y - kHalf, 2 * kHalf, ink_of(verdict));
  draw_shape(pen, x, y, kHalf, verdict == Verdict::hold ? Level::hold : Level::fix);
}

void draw_place(ProofCanvas& pen, double x, double y, double w, double h, Level level) {
  std::vector<double> const dashes = level == Level::hold  ? std::vector<double>{}
                                     : level == Level::fix ? std::vector<double>{5, 2.5}
                                                           : std::vector<double>{1.5, 2};
  pen.rimmed_outline(x, y, w, h, ink_of(level), level == Level::note ? 1.2 : 1.6, dashes);
}

}  // namespace layright
