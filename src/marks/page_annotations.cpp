#include "marks/page_annotations.h"

#include <algorithm>

namespace layright {
namespace {

constexpr int kInvisible = 1, kHidden = 2, kPrint = 4;  // ISO 32000-1, Table 165

/// Width of the border; 0 where there is none. Plain calls of the library, which may jump out.
float border_width(fz_context* ctx, pdf_obj* annotation) {
  if (pdf_obj* style = pdf_dict_get(ctx, annotation, PDF_NAME(BS))) {
    pdf_obj* width = pdf_dict_get(ctx, style, PDF_NAME(W));
    return width ? pdf_to_real(ctx, width) : 1;
  }
  pdf_obj* border = pdf_dict_get(ctx, annotation, PDF_NAME(Border));
  if (!pdf_is_array(ctx, border) || pdf_array_len(ctx, border) < 3) return 1;
  return pdf_array_get_real(ctx, border, 2);
}

/// False where the colour array is there but empty: the border is clear (ISO 32000-1, Table 164).
bool border_color(fz_context* ctx, pdf_obj* annotation, Rgb* color) {
  pdf_obj* c = pdf_dict_get(ctx, annotation, PDF_NAME(C));
  float v[4] = {0, 0, 0, 0};
  int const n = pdf_is_array(ctx, c) ? pdf_array_len(ctx, c) : -1;
  for (int i = 0; i < std::min(n, 4); ++i) v[i] = pdf_array_get_real(ctx, c, i);
  if (n == 0) return false;
  if (n == 1) *color = {v[0], v[0], v[0]};
  if (n == 3) *color = {v[0], v[1], v[2]};
  if (n == 4) *color = {(1 - v[0]) * (1 - v[3]), (1 - v[1]) * (1 - v[3]), (1 - v[2]) * (1 - v[3])};
  return true;
}

bool link_border(fz_context* ctx, pdf_document* document, pdf_obj* annotation, LinkBorder* border) {
  if (!pdf_name_eq(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(Subtype)), PDF_NAME(Link))) return false;
  int const flags = pdf_dict_get_int(ctx, annotation, PDF_NAME(F));
  if (!(flags & kPrint) || (flags & (kHidden | kInvisible))) return false;
  if (pdf_dict_get(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(AP)), PDF_NAME(N)) != nullptr) return false;
  if (pdf_is_ocg_hidden(ctx, document, nullptr, "Print", pdf_dict_get(ctx, annotation, PDF_NAME(OC)))) return false;
  float const width = border_width(ctx, annotation);
  if (!(width > 0) || !border_color(ctx, annotation, &border->color)) return false;
  fz_rect const rect = pdf_dict_get_rect(ctx, annotation, PDF_NAME(Rect));
  border->where = fz_expand_rect(rect, width / 2);  // drawn along the rectangle, half of its width outside
  pdf_obj* style = pdf_dict_get(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(BS)), PDF_NAME(S));
  if (pdf_name_eq(ctx, style, PDF_NAME(U))) border->where = {rect.x0, rect.y0 - width / 2, rect.x1, rect.y0 + width / 2};
  return rect.x1 > rect.x0 && rect.y1 > rect.y0;
}

/// Fills up to `most` borders; gives how many. Stops where the file is broken.
std::size_t collect_borders(fz_context* ctx, pdf_page* page, LinkBorder* borders, std::size_t most) {
  std::size_t volatile found = 0;
  fz_try(ctx) {
    pdf_obj* annotations = pdf_dict_get(ctx, page->obj, PDF_NAME(Annots));
    int const n = pdf_array_len(ctx, annotations);
    for (int i = 0; i < n && found < most; ++i)
      if (link_border(ctx, page->doc, pdf_array_get(ctx, annotations, i), borders + found)) found = found + 1;
  }
  fz_catch(ctx) {}
  return found;
}

/// Fills up to `most` rectangles; gives how many.
std::size_t collect_free(fz_context* ctx, pdf_page* page, fz_rect* rects, std::size_t most) {
  std::size_t volatile found = 0;
  fz_try(ctx) {
    pdf_obj* annotations = pdf_dict_get(ctx, page->obj, PDF_NAME(Annots));
    int const n = pdf_array_len(ctx, annotations);
    for (int i = 0; i < n && found < most; ++i) {
      pdf_obj* annotation = pdf_array_get(ctx, annotations, i);
      if (!(pdf_dict_get_int(ctx, annotation, PDF_NAME(F)) & kPrint)) continue;
      if (pdf_dict_get(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(AP)), PDF_NAME(N)) != nullptr) continue;
      rects[found] = fz_expand_rect(pdf_dict_get_rect(ctx, annotation, PDF_NAME(Rect)), border_width(ctx, annotation));
      found = found + 1;
    }
  }
  fz_catch(ctx) {}
  return found;
}

/// Whether there is anything to look for: most pages have no annotations.
bool has_annotations(fz_context* ctx, pdf_page* page) {
  int some = 0;
  fz_var(some);
  fz_try(ctx) some = pdf_array_len(ctx, pdf_dict_get(ctx, page->obj, PDF_NAME(Annots)));
  fz_catch(ctx) some = 0;
  return some > 0;
}

}  // namespace

std::vector<fz_rect> annotations_without_appearance(fz_context* ctx, pdf_page* page) {
  if (!has_annotations(ctx, page)) return {};
  std::vector<fz_rect> rects(kMostBorders);
  rects.resize(collect_free(ctx, page, rects.data(), rects.size()));
  return rects;
}

std::vector<LinkBorder> printing_link_borders(fz_context* ctx, pdf_page* page) {
  if (!has_annotations(ctx, page)) return {};
  std::vector<LinkBorder> borders(kMostBorders);
  borders.resize(collect_borders(ctx, page, borders.data(), borders.size()));
  return borders;
}

void leave_out_unsigned_signatures(fz_context* ctx, pdf_page* page) {
  fz_try(ctx) {
    pdf_annot* widget = pdf_first_widget(ctx, page);
    while (widget != nullptr) {
      pdf_annot* const next = pdf_next_widget(ctx, widget);
      if (pdf_widget_type(ctx, widget) == PDF_WIDGET_TYPE_SIGNATURE && !pdf_widget_is_signed(ctx, widget))
        pdf_delete_annot(ctx, page, widget);
      widget = next;
    }
  }
  fz_catch(ctx) {}
}

}  // namespace layright
