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

void draw_badge(ProofCanvas& pen, double x, double y, Level level, int number) {
  Ink const ink = ink_of(level);
  double const r = kBadge;
  switch (level) {
    case Level::hold: pen.polygon({{x - r, y - r}, {x + r, y - r}, {x + r, y + r}, {x - r, y + r}}, ink, kWhite, 1); break;
    case Level::fix: pen.disc(x, y, r, ink, kWhite, 1); break;
    case Level::note: pen.polygon({{x, y - r * 1.3}, {x + r * 1.3, y}, {x, y + r * 1.3}, {x - r * 1.3, y}}, ink, kWhite, 1); break;
  }
  std::string const text = std::to_string(number);
  double const size = text.size() > 1 ? 7 : 8.5;
  pen.text(x - pen.width_of(text, size, true) / 2, y + size * 0.36, text, size, kWhite, true);
}

void draw_place(ProofCanvas& pen, double x, double y, double w, double h, Level level) {
  std::vector<double> const dashes = level == Level::hold  ? std::vector<double>{}
                                     : level == Level::fix ? std::vector<double>{5, 2.5}
                                                           : std::vector<double>{1.5, 2};
  pen.outline(x, y, w, h, kWhite, 3);
  pen.outline(x, y, w, h, ink_of(level), level == Level::note ? 1.2 : 1.6, dashes);
}

}  // namespace layright
