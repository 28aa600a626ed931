// The assembly picture: the art as it lies on the goods, with its cuts and the number of each part.
#include "report/assembly.h"

#include <algorithm>

#include "report/not_made.h"
#include "report/proof_module/cut_out.h"
#include "report/proof_module/entry.h"

namespace layright {
namespace {

constexpr double kAssemblyMargin = 28, kAssemblyHead = 64, kLargestAssembly = 760, kLeastAssembly = 300, kAssemblyDpi = 144;  // points
constexpr Ink kCutLine{0.75, 0.10, 0.10};

double shown_scale(AssemblyPage const& page) { return kLargestAssembly / std::max({page.art.width(), page.art.height(), 1.0}); }
double sheet_width(AssemblyPage const& page) { return std::max(page.art.width() * shown_scale(page), kLeastAssembly) + 2 * kAssemblyMargin; }
double sheet_height(AssemblyPage const& page) { return page.art.height() * shown_scale(page) + kAssemblyHead + 2 * kAssemblyMargin; }

std::string assembly_words(AssemblyPage const& page, Unit unit) {
  auto const size = format_size(Length::points(page.art.width() * page.scale), Length::points(page.art.height() * page.scale), unit);
  auto const n = page.parts.size();
  std::string text = size + " on the goods, in " + std::to_string(n) + (n == 1 ? " part" : " parts");
  if (n < 2) return text;
  return text +
         (page.overlap > 0 ? "; neighbors overlap by " + format_length(Length::points(page.overlap), unit) : "; cut on the marks and butt the edges");
}

/// A number that can be read on any ground.
void number_in(ProofCanvas& pen, std::string const& text, double x, double y, double size) {
  double const wide = std::max(pen.width_of(text, size, true), size * 0.7), radius = wide / 2 + size * 0.45;
  pen.disc(x, y, radius, kWhite, kInk, 1);
  pen.text(x - pen.width_of(text, size, true) / 2, y + size * 0.36, text, size, kInk, true);
}

void draw_assembly(ProofCanvas& pen, AssemblyPage const& page, Unit unit) {
  auto const title = pen.broken(page.file + ", page " + std::to_string(page.number), sheet_width(page) - 2 * kAssemblyMargin, 13);
  pen.text(kAssemblyMargin, kAssemblyMargin + 8, title.empty() ? "" : title[0], 13, kInk, true);
  double y = kAssemblyMargin + 24;
  for (auto const& line : pen.broken(assembly_words(page, unit), sheet_width(page) - 2 * kAssemblyMargin, 9)) {
    pen.text(kAssemblyMargin, y, line, 9, kQuiet);
    y += 12;
  }
  double const k = shown_scale(page), left = kAssemblyMargin, top = kAssemblyMargin + kAssemblyHead;
  if (page.picture.width > 0) {
    auto* const pixels = cairo_pixels(page.picture, PaperWhite::kept);
    draw_cut_out(pen, pixels, page.picture, page.art, k, left, top, page.mirrored);
    cairo_surface_destroy(pixels);
  }
  auto const on_goods = [&](Rect<SeenSpace> const& r) {
    return page.mirrored ? Rect<SeenSpace>{page.art.x0 + page.art.x1 - r.x1, r.y0, page.art.x0 + page.art.x1 - r.x0, r.y1} : r;
  };
  for (auto const& part : page.parts) {
    auto const r = on_goods(part.between_cuts);
    double const x = left + (r.x0 - page.art.x0) * k, up = top + (page.art.y1 - r.y1) * k, w = r.width() * k, h = r.height() * k;
    pen.outline(x, up, w, h, kWhite, 2.4);
    pen.outline(x, up, w, h, kCutLine, 1, {5, 3});
  }
  for (auto const& part : page.parts) {
    auto const r = on_goods(part.between_cuts);
    auto const middle = r.centre();
    number_in(pen, std::to_string(part.number), left + (middle.x - page.art.x0) * k, top + (page.art.y1 - middle.y) * k,
              std::clamp(std::min(r.width(), r.height()) * k / 4, 6.0, 18.0));
  }
}

std::string drawn_assembly(Assembly const& assembly) {
  if (assembly.pages.empty()) throw NotMade("there is no page to show");
  ProofCanvas pen(assembly.form, kAssemblyDpi, sheet_width(assembly.pages[0]), sheet_height(assembly.pages[0]));
  for (std::size_t i = 0; i < assembly.pages.size() && (i == 0 || assembly.form == ProofForm::pdf); ++i) {
    auto const& page = assembly.pages[i];
    if (i > 0) pen.next_page(sheet_width(page), sheet_height(page));
    draw_assembly(pen, page, assembly.unit);
  }
  return pen.finish();
}

}  // namespace
}  // namespace layright

extern "C" __attribute__((visibility("default"))) bool layright_make_assembly(layright::Assembly const& assembly, std::string& out) {
  try {
    out = layright::drawn_assembly(assembly);
    return true;
  } catch (...) {
    out = layright::why_not_made();
    return false;
  }
}
