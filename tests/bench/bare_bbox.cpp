// The least that finding the extents of a page can cost: MuPDF's own bbox device over every page, and nothing else. It gives a figure to
// measure by, not the right extents (it takes images for rectangles and strokes for too wide).
//   bare_bbox FILE
#include <mupdf/fitz.h>

#include <cstdio>

namespace {

/// No C++ object lives here: the library's errors are long jumps.
int run(fz_context* context, char const* path) {
  fz_document* document = nullptr;
  int status = 0;
  fz_var(document);
  fz_try(context) {
    fz_register_document_handlers(context);
    document = fz_open_document(context, path);
    int const count = fz_count_pages(context, document);
    double sum = 0;
    for (int i = 0; i < count; ++i) {
      fz_page* page = fz_load_page(context, document, i);
      fz_rect extents = fz_empty_rect;
      fz_device* device = fz_new_bbox_device(context, &extents);
      fz_run_page(context, page, device, fz_identity, nullptr);
      fz_close_device(context, device);
      fz_drop_device(context, device);
      fz_drop_page(context, page);
      sum += extents.x1 - extents.x0;
    }
    std::printf("%d pages, %.3f pt of ink on average\n", count, count ? sum / count : 0);
  }
  fz_always(context) fz_drop_document(context, document);
  fz_catch(context) {
    std::fprintf(stderr, "bare_bbox: %s\n", fz_caught_message(context));
    status = 1;
  }
  return status;
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) return std::fputs("usage: bare_bbox FILE\n", stderr), 64;
  fz_context* context = fz_new_context(nullptr, nullptr, std::size_t{64} << 20);
  if (!context) return 1;
  int const status = run(context, words[1]);
  fz_drop_context(context);
  return status;
}
