// fz_try is setjmp: nothing with a destructor lives in here.
#include "mupdf/cut_streams.h"

#include <zlib.h>

#include "mupdf/tried.h"

namespace layright {
namespace {

constexpr int kDeepest = 12, kMostStreams = 5000;  // forms in each other; streams in all: more is a trap
constexpr unsigned kZlibHeader = 2;                // bytes (RFC 1950, 2.2)
constexpr int kMostUnpacked = 4096;                // of what comes out of a stream, of which a page needs few: more is a trap

struct Walk {
  int streams;
  bool cut;
};

bool ends_early(unsigned char* data, std::size_t size) {
  if (size <= kZlibHeader) return size > 0;
  z_stream zlib{};
  if (inflateInit2(&zlib, -MAX_WBITS) != Z_OK) return false;
  zlib.next_in = data + kZlibHeader;
  zlib.avail_in = static_cast<uInt>(size - kZlibHeader);
  static constexpr uInt kPiece = 1U << 14;
  unsigned char out[kPiece];
  int state = Z_OK;
  for (int piece = 0; state == Z_OK && piece < kMostUnpacked; ++piece) {
    zlib.next_out = out;
    zlib.avail_out = kPiece;
    state = inflate(&zlib, Z_NO_FLUSH);
  }
  inflateEnd(&zlib);
  return state == Z_BUF_ERROR;  // it wants more
}

bool is_packed(fz_context* ctx, pdf_obj* stream) {
  pdf_obj* filter = pdf_dict_geta(ctx, stream, PDF_NAME(Filter), PDF_NAME(F));
  if (pdf_is_array(ctx, filter)) filter = pdf_array_get(ctx, filter, 0);
  return pdf_name_eq(ctx, filter, PDF_NAME(FlateDecode)) || pdf_name_eq(ctx, filter, PDF_NAME(Fl));
}

// What follows may jump out.

void look_at(fz_context* ctx, Walk& walk, pdf_obj* stream) {
  if (walk.cut || !pdf_is_stream(ctx, stream) || walk.streams++ > kMostStreams || !is_packed(ctx, stream)) return;
  fz_buffer* raw = nullptr;
  fz_var(raw);
  fz_try(ctx) {
    raw = pdf_load_raw_stream(ctx, stream);
    unsigned char* data = nullptr;
    std::size_t const size = fz_buffer_storage(ctx, raw, &data);
    walk.cut = ends_early(data, size);
  }
  fz_always(ctx) fz_drop_buffer(ctx, raw);
  fz_catch(ctx) fz_rethrow(ctx);
}

void walk_resources(fz_context* ctx, Walk& walk, pdf_obj* resources, int depth);

void walk_form(fz_context* ctx, Walk& walk, pdf_obj* form, int depth) {
  if (depth > kDeepest || pdf_name_eq(ctx, pdf_dict_get(ctx, form, PDF_NAME(Subtype)), PDF_NAME(Image))) return;
  look_at(ctx, walk, form);
  walk_resources(ctx, walk, pdf_dict_get(ctx, form, PDF_NAME(Resources)), depth + 1);
}

void walk_values(fz_context* ctx, Walk& walk, pdf_obj* dictionary, int depth) {
  for (int i = 0; i < pdf_dict_len(ctx, dictionary) && !walk.cut; ++i) walk_form(ctx, walk, pdf_dict_get_val(ctx, dictionary, i), depth);
}

/// `resources` are marked while they are walked, so that a circle ends.
void walk_resources(fz_context* ctx, Walk& walk, pdf_obj* resources, int depth) {
  if (walk.cut || depth > kDeepest || walk.streams > kMostStreams || !pdf_is_dict(ctx, resources) || pdf_mark_obj(ctx, resources)) return;
  fz_try(ctx) {
    walk_values(ctx, walk, pdf_dict_get(ctx, resources, PDF_NAME(XObject)), depth);
    walk_values(ctx, walk, pdf_dict_get(ctx, resources, PDF_NAME(Pattern)), depth);
    pdf_obj* const fonts = pdf_dict_get(ctx, resources, PDF_NAME(Font));
    for (int i = 0; i < pdf_dict_len(ctx, fonts); ++i) {
      pdf_obj* const font = pdf_dict_get_val(ctx, fonts, i);
      walk_values(ctx, walk, pdf_dict_get(ctx, font, PDF_NAME(CharProcs)), depth);
      walk_resources(ctx, walk, pdf_dict_get(ctx, font, PDF_NAME(Resources)), depth + 1);
    }
    pdf_obj* const states = pdf_dict_get(ctx, resources, PDF_NAME(ExtGState));
    for (int i = 0; i < pdf_dict_len(ctx, states); ++i) walk_form(ctx, walk, pdf_dict_getp(ctx, pdf_dict_get_val(ctx, states, i), "SMask/G"), depth);
  }
  fz_always(ctx) pdf_unmark_obj(ctx, resources);
  fz_catch(ctx) fz_rethrow(ctx);
}

void walk_page(fz_context* ctx, Walk& walk, pdf_page* page) {
  pdf_obj* const contents = pdf_page_contents(ctx, page);
  look_at(ctx, walk, contents);
  for (int i = 0; i < pdf_array_len(ctx, contents); ++i) look_at(ctx, walk, pdf_array_get(ctx, contents, i));
  walk_resources(ctx, walk, pdf_page_resources(ctx, page), 0);
  pdf_obj* const annotations = pdf_dict_get(ctx, page->obj, PDF_NAME(Annots));
  for (int i = 0; i < pdf_array_len(ctx, annotations); ++i) {
    pdf_obj* const appearance = pdf_dict_getp(ctx, pdf_array_get(ctx, annotations, i), "AP/N");
    if (pdf_is_stream(ctx, appearance)) walk_form(ctx, walk, appearance, 0);
    else walk_values(ctx, walk, appearance, 0);
  }
}

}  // namespace

bool has_cut_stream(fz_context* ctx, pdf_page* page) {
  Walk walk{0, false};
  return tried(ctx, true, [&] {
    walk_page(ctx, walk, page);
    return walk.cut;
  });
}

}  // namespace layright
