#include "mupdf/page_run.h"

#include "mupdf/page_annotations.h"

namespace layright {
namespace {

/// Scaled and moved so that the appearance's box under its own matrix fills the annotation's rectangle (ISO 32000-1, 12.5.5,
/// algorithm 8.1).
fz_matrix appearance_matrix(fz_context* ctx, pdf_obj* annotation, pdf_obj* appearance) {
  fz_rect const rect = pdf_dict_get_rect(ctx, annotation, PDF_NAME(Rect));
  fz_rect const box = fz_transform_rect(pdf_xobject_bbox(ctx, appearance), pdf_xobject_matrix(ctx, appearance));
  float const wide = box.x1 - box.x0, high = box.y1 - box.y0;
  if (!(wide > 0) || !(high > 0)) return fz_scale(0, 0);
  float const sx = (rect.x1 - rect.x0) / wide, sy = (rect.y1 - rect.y0) / high;
  return fz_make_matrix(sx, 0, 0, sy, rect.x0 - sx * box.x0, rect.y0 - sy * box.y0);
}

/// An annotation that must not turn with the page stays upright about its upper left corner (Table 165, NoRotate).
fz_matrix unturned(fz_context* ctx, pdf_page* page, pdf_obj* annotation) {
  constexpr int kStaysUpright = 16;
  if (!(pdf_dict_get_int(ctx, annotation, PDF_NAME(F)) & kStaysUpright)) return fz_identity;
  fz_rect const rect = pdf_dict_get_rect(ctx, annotation, PDF_NAME(Rect));
  auto const turn = static_cast<float>(pdf_to_int(ctx, pdf_dict_get_inheritable(ctx, page->obj, PDF_NAME(Rotate))));
  return fz_concat(fz_concat(fz_translate(-rect.x0, -rect.y1), fz_rotate(turn)), fz_translate(rect.x0, rect.y1));
}

/// Plain calls that may jump out.
void run_left_out(fz_context* ctx, pdf_page* page, pdf_obj* annotation, fz_device* device, fz_matrix matrix, fz_cookie* cookie) {
  pdf_obj* appearance = left_out_appearance(ctx, page->doc, annotation);
  if (appearance == nullptr) return;
  fz_matrix const m = appearance_matrix(ctx, annotation, appearance);
  if (m.a == 0 || m.d == 0) return;
  pdf_processor* processor =
      pdf_new_run_processor(ctx, device, fz_concat(unturned(ctx, page, annotation), matrix), "Print", nullptr, nullptr, cookie);
  fz_try(ctx) {
    processor->op_q(ctx, processor);
    processor->op_cm(ctx, processor, m.a, m.b, m.c, m.d, m.e, m.f);
    processor->op_Do_form(ctx, processor, nullptr, appearance, pdf_page_resources(ctx, page));
    processor->op_Q(ctx, processor);
    pdf_close_processor(ctx, processor);
  }
  fz_always(ctx) pdf_drop_processor(ctx, processor);
  fz_catch(ctx) fz_rethrow(ctx);
}

void run_all_left_out(fz_context* ctx, pdf_page* page, fz_device* device, fz_matrix matrix, fz_cookie* cookie) {
  pdf_obj* annotations = pdf_dict_get(ctx, page->obj, PDF_NAME(Annots));
  int const n = pdf_array_len(ctx, annotations);
  if (n == 0) return;
  fz_rect box;
  fz_matrix own;
  pdf_page_transform(ctx, page, &box, &own);
  fz_matrix const whole = fz_concat(own, matrix);
  for (int i = 0; i < n && !cookie->abort; ++i) run_left_out(ctx, page, pdf_array_get(ctx, annotations, i), device, whole, cookie);
}

}  // namespace

bool run_section(fz_context* ctx, pdf_page* page, PageSection section, fz_device* device, fz_matrix matrix, fz_cookie* cookie) {
  int ok = 1;
  fz_var(ok);
  fz_try(ctx) {
    switch (section) {
      case PageSection::content: pdf_run_page_contents_with_usage(ctx, page, device, matrix, "Print", cookie); break;
      case PageSection::annotations: pdf_run_page_annots_with_usage(ctx, page, device, matrix, "Print", cookie); break;
      case PageSection::widgets: pdf_run_page_widgets_with_usage(ctx, page, device, matrix, "Print", cookie); break;
      case PageSection::left_out: run_all_left_out(ctx, page, device, matrix, cookie); break;
    }
  }
  fz_catch(ctx) ok = 0;
  return ok != 0;
}

}  // namespace layright
