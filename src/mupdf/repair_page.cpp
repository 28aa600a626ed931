// fz_try is setjmp: nothing with a destructor lives in here.
#include "mupdf/repair_page.h"

#include "mupdf/repair_inline.h"

namespace layright {
namespace {

constexpr int kDeepestResources = 12, kMostDicts = 2000;  // resources in each other; dictionaries in all: more is a trap

struct Repairs {
  pdf_document* document;
  int dicts;
  bool changed;
};

/// Whether the library takes it. Only what is cheap to load is asked of it; pictures are not decoded.
bool loads(fz_context* ctx, Repairs& m, pdf_obj* kind, pdf_obj* object) {
  int ok = 1;
  fz_var(ok);
  fz_try(ctx) {
    if (kind == PDF_NAME(XObject) && pdf_name_eq(ctx, pdf_dict_get(ctx, object, PDF_NAME(Subtype)), PDF_NAME(Image)))
      fz_drop_image(ctx, pdf_load_image(ctx, m.document, object));
    else if (kind == PDF_NAME(ColorSpace)) fz_drop_colorspace(ctx, pdf_load_colorspace(ctx, object));
    else if (kind == PDF_NAME(Shading) || (kind == PDF_NAME(Pattern) && pdf_dict_get_int(ctx, object, PDF_NAME(PatternType)) == 2))
      fz_drop_shade(ctx, pdf_load_shading(ctx, m.document, object));
    else if (kind == PDF_NAME(Pattern)) pdf_drop_pattern(ctx, pdf_load_pattern(ctx, m.document, object));
  }
  fz_catch(ctx) ok = 0;
  return ok != 0;
}

/// May jump out.
void inherit(fz_context* ctx, Repairs& m, pdf_obj* own, pdf_obj* outer) {
  pdf_obj* const kinds[] = {PDF_NAME(XObject), PDF_NAME(Font), PDF_NAME(ExtGState), PDF_NAME(ColorSpace), PDF_NAME(Pattern), PDF_NAME(Shading)};
  for (pdf_obj* kind : kinds) {
    pdf_obj* const from = pdf_dict_get(ctx, outer, kind);
    int const n = pdf_dict_len(ctx, from);
    if (n == 0) continue;
    pdf_obj* to = pdf_dict_get(ctx, own, kind);
    if (!pdf_is_dict(ctx, to)) to = pdf_dict_put_dict(ctx, own, kind, n);
    for (int i = 0; i < n; ++i) {
      pdf_obj* const name = pdf_dict_get_key(ctx, from, i);
      if (pdf_dict_get(ctx, to, name) != nullptr) continue;
      pdf_dict_put(ctx, to, name, pdf_dict_get_val(ctx, from, i));
      m.changed = true;
    }
  }
}

/// May jump out. `resources` are marked while they are walked, so that a circle ends.
void repair(fz_context* ctx, Repairs& m, pdf_obj* resources, int depth) {
  if (!pdf_is_dict(ctx, resources) || depth > kDeepestResources || m.dicts++ > kMostDicts || pdf_mark_obj(ctx, resources)) return;
  fz_try(ctx) {
    pdf_obj* const kinds[] = {PDF_NAME(XObject), PDF_NAME(ColorSpace), PDF_NAME(Pattern), PDF_NAME(Shading)};
    for (pdf_obj* kind : kinds) {
      pdf_obj* const things = pdf_dict_get(ctx, resources, kind);
      for (int i = pdf_dict_len(ctx, things); i-- > 0;) {
        pdf_obj* const thing = pdf_dict_get_val(ctx, things, i);
        bool const form = kind == PDF_NAME(XObject) && pdf_name_eq(ctx, pdf_dict_get(ctx, thing, PDF_NAME(Subtype)), PDF_NAME(Form));
        pdf_obj* const own = form || kind == PDF_NAME(Pattern) ? pdf_dict_get(ctx, thing, PDF_NAME(Resources)) : nullptr;
        if (own && form) inherit(ctx, m, own, resources);
        if (own && repair_inline_pictures(ctx, m.document, thing, own)) m.changed = true;
        if (own) repair(ctx, m, own, depth + 1);
        if (form || loads(ctx, m, kind, thing)) continue;
        pdf_dict_del(ctx, things, pdf_dict_get_key(ctx, things, i));
        m.changed = true;
      }
    }
  }
  fz_always(ctx) pdf_unmark_obj(ctx, resources);
  fz_catch(ctx) fz_rethrow(ctx);
}

}  // namespace

bool repair_page(fz_context* ctx, pdf_page* page) {
  Repairs m{page->doc, 0, false};
  fz_try(ctx) {
    repair(ctx, m, pdf_page_resources(ctx, page), 0);
    m.changed = repair_inline_pictures(ctx, page) || m.changed;
  }
  fz_catch(ctx) {}
  return m.changed;
}

}  // namespace layright
