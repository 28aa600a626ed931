// fz_try is setjmp: nothing with a destructor lives in here.
#include "mupdf/leave_out_plate.h"

namespace layright {

void leave_out_plate(fz_context* ctx, pdf_document* document, int index) {
  fz_try(ctx) {
    pdf_obj* const page = pdf_lookup_page_obj(ctx, document, index);
    pdf_obj* const contents = pdf_dict_get(ctx, page, PDF_NAME(Contents));
    if (pdf_is_array(ctx, contents)) pdf_dict_put(ctx, page, PDF_NAME(Contents), pdf_array_get(ctx, contents, 0));
    pdf_obj* const resources = pdf_dict_get(ctx, page, PDF_NAME(Resources));
    pdf_obj* const kinds[] = {PDF_NAME(XObject), PDF_NAME(ColorSpace), PDF_NAME(ExtGState)};
    for (pdf_obj* kind : kinds) pdf_dict_dels(ctx, pdf_dict_get(ctx, resources, kind), "WhitePlate");
  }
  fz_catch(ctx) {
    // For want of memory: reading the page fails next.
  }
}

}  // namespace layright
