// Calls of the library may throw through every function here: nothing with a destructor lives in them.
#include "mupdf/tiny_patterns.h"

#include <cmath>
#include <cstdio>

namespace layright {
namespace {

constexpr int kDeepestForm = 8, kMostLooked = 2000;  // forms in forms; dictionaries of a page
// The library gives up below 1.2e-7 on the page, where the content around it may shrink the pattern further; our own.
constexpr float kTiny = 1e-4F;

// Square points that one tile takes on the page: of smaller and larger ones readers show all, something or nothing; our own.
constexpr float kSmallestTile = 1e-4F, kLargestTile = 1e10F;

struct Search {
  pdf_document* document;
  int looked;
  bool odd;  // readers show one of them differently
};

bool has_numbers(fz_context* ctx, pdf_obj* list, int count) {
  if (pdf_array_len(ctx, list) < count) return false;
  for (int i = 0; i < count; ++i)
    if (!pdf_is_number(ctx, pdf_array_get(ctx, list, i))) return false;
  return true;
}

bool has_step(fz_context* ctx, pdf_obj* pattern, pdf_obj* key) {
  pdf_obj* const step = pdf_dict_get(ctx, pattern, key);
  return pdf_is_number(ctx, step) && std::fabs(pdf_to_real(ctx, step)) > 1e-6F;
}

/// Not as ISO 32000-1, 8.7.3.1, asks: no box, no steps, a matrix that is none, tiles of no size.
bool is_odd(fz_context* ctx, pdf_obj* pattern) {
  pdf_obj* const matrix = pdf_dict_get(ctx, pattern, PDF_NAME(Matrix));
  if (!has_numbers(ctx, pdf_dict_get(ctx, pattern, PDF_NAME(BBox)), 4) || (matrix && !has_numbers(ctx, matrix, 6))) return true;
  if (!has_step(ctx, pattern, PDF_NAME(XStep)) || !has_step(ctx, pattern, PDF_NAME(YStep))) return true;
  fz_matrix const m = pdf_dict_get_matrix(ctx, pattern, PDF_NAME(Matrix));
  fz_rect const box = pdf_dict_get_rect(ctx, pattern, PDF_NAME(BBox));
  float const tile = std::fabs(m.a * m.d - m.b * m.c) * (box.x1 - box.x0) * (box.y1 - box.y0);
  return !(tile >= kSmallestTile && tile <= kLargestTile);
}

void scale_number(fz_context* ctx, pdf_obj* dictionary, pdf_obj* key, float by) {
  pdf_dict_put_real(ctx, dictionary, key, static_cast<double>(pdf_dict_get_real(ctx, dictionary, key) * by));
}

/// Units are made `by` times as large.
void enlarge(fz_context* ctx, pdf_document* document, pdf_obj* pattern, fz_matrix m, float by) {
  fz_buffer* whole = nullptr;
  fz_buffer* content = nullptr;
  fz_var(whole);
  fz_var(content);
  fz_try(ctx) {
    content = pdf_load_stream(ctx, pattern);
    whole = fz_new_buffer(ctx, 64);
    char shrink[48];  // PDF has no exponents; a power of two is written whole
    std::snprintf(shrink, sizeof shrink, "%.30f", static_cast<double>(1 / by));
    fz_append_printf(ctx, whole, "%s 0 0 %s 0 0 cm\n", shrink, shrink);
    fz_append_buffer(ctx, whole, content);
    fz_rect const box = pdf_dict_get_rect(ctx, pattern, PDF_NAME(BBox));
    pdf_update_stream(ctx, document, pattern, whole, 0);
    pdf_dict_put_matrix(ctx, pattern, PDF_NAME(Matrix), fz_make_matrix(m.a * by, m.b * by, m.c * by, m.d * by, m.e, m.f));
    pdf_dict_put_rect(ctx, pattern, PDF_NAME(BBox), fz_make_rect(box.x0 / by, box.y0 / by, box.x1 / by, box.y1 / by));
    scale_number(ctx, pattern, PDF_NAME(XStep), 1 / by);
    scale_number(ctx, pattern, PDF_NAME(YStep), 1 / by);
  }
  fz_always(ctx) {
    fz_drop_buffer(ctx, whole);
    fz_drop_buffer(ctx, content);
  }
  fz_catch(ctx) fz_rethrow(ctx);
}

void look_at_pattern(fz_context* ctx, Search& search, pdf_obj* pattern) {
  if (!pdf_is_indirect(ctx, pattern) || !pdf_is_stream(ctx, pattern) || pdf_dict_get_int(ctx, pattern, PDF_NAME(PatternType)) != 1) return;
  search.odd = search.odd || is_odd(ctx, pattern);
  if (pdf_dict_get(ctx, pattern, PDF_NAME(Matrix)) == nullptr) return;
  fz_matrix const m = pdf_dict_get_matrix(ctx, pattern, PDF_NAME(Matrix));
  float const size = std::fabs(m.a * m.d - m.b * m.c);
  if (!(size > 0) || size >= kTiny) return;
  // A power of two, so that numbers keep their digits.
  enlarge(ctx, search.document, pattern, m, std::exp2(std::round(-std::log2(size) / 2)));
}

void look(fz_context* ctx, Search& search, pdf_obj* resources, int depth) {
  if (resources == nullptr || depth > kDeepestForm || pdf_mark_obj(ctx, resources)) return;
  fz_try(ctx) {
    pdf_obj* const patterns = pdf_dict_get(ctx, resources, PDF_NAME(Pattern));
    for (int i = 0, n = pdf_dict_len(ctx, patterns); i < n && ++search.looked < kMostLooked; ++i) {
      pdf_obj* const pattern = pdf_dict_get_val(ctx, patterns, i);
      look_at_pattern(ctx, search, pattern);
      look(ctx, search, pdf_dict_get(ctx, pattern, PDF_NAME(Resources)), depth + 1);
    }
    pdf_obj* const forms = pdf_dict_get(ctx, resources, PDF_NAME(XObject));
    for (int i = 0, n = pdf_dict_len(ctx, forms); i < n && ++search.looked < kMostLooked; ++i)
      look(ctx, search, pdf_dict_get(ctx, pdf_dict_get_val(ctx, forms, i), PDF_NAME(Resources)), depth + 1);
  }
  fz_always(ctx) pdf_unmark_obj(ctx, resources);
  fz_catch(ctx) fz_rethrow(ctx);
}

}  // namespace

bool enlarge_tiny_patterns(fz_context* ctx, pdf_page* page) {
  Search search{page->doc, 0, false};
  fz_try(ctx) look(ctx, search, pdf_page_resources(ctx, page), 0);
  fz_catch(ctx) {}
  return search.odd;
}

}  // namespace layright
