#include "mupdf/page_annotations.h"

#include <algorithm>

#include "document/annotation_kinds.h"
#include "mupdf/tried.h"

namespace layright {
namespace {

// ISO 32000-1, Table 165. Invisible is about annotations of kinds that a program does not know; poppler and Ghostscript print all that have an
// appearance, whatever it says.
constexpr int kInvisible = 1, kHidden = 2, kPrint = 4, kNoRotate = 16, kNoView = 32;

bool printing(fz_context* ctx, pdf_document* document, pdf_obj* annotation) {
  int const flags = pdf_dict_get_int(ctx, annotation, PDF_NAME(F));
  return (flags & kPrint) && !(flags & kHidden) && !pdf_name_eq(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(Subtype)), PDF_NAME(Popup)) &&
         !pdf_is_ocg_hidden(ctx, document, nullptr, "Print", pdf_dict_get(ctx, annotation, PDF_NAME(OC)));
}

/// Nothing but white space. Plain calls of the library, which may jump out.
bool is_blank(fz_context* ctx, pdf_obj* stream) {
  fz_buffer* const data = pdf_load_stream(ctx, stream);
  unsigned char* bytes = nullptr;
  std::size_t const size = fz_buffer_storage(ctx, data, &bytes);
  bool const blank = std::all_of(bytes, bytes + size, [](unsigned char c) { return c <= ' '; });
  fz_drop_buffer(ctx, data);
  return blank;
}

/// The normal appearance in its present state (ISO 32000-1, 12.5.5), or null; also null when it has no box to be drawn in, and for a link
/// whose appearance has nothing in it: readers draw its border all the same.
pdf_obj* normal_appearance(fz_context* ctx, pdf_obj* annotation) {
  pdf_obj* normal = pdf_dict_get(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(AP)), PDF_NAME(N));
  if (!pdf_is_stream(ctx, normal))
    normal = pdf_is_dict(ctx, normal) ? pdf_dict_get(ctx, normal, pdf_dict_get(ctx, annotation, PDF_NAME(AS))) : nullptr;
  if (!pdf_is_stream(ctx, normal)) return nullptr;
  if (pdf_name_eq(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(Subtype)), PDF_NAME(Link)) && is_blank(ctx, normal)) return nullptr;
  fz_rect const box = pdf_dict_get_rect(ctx, normal, PDF_NAME(BBox));
  return box.x1 > box.x0 && box.y1 > box.y0 ? normal : nullptr;
}

bool is_unsigned_signature(fz_context* ctx, pdf_document* document, pdf_obj* annotation) {
  return pdf_name_eq(ctx, pdf_dict_get(ctx, annotation, PDF_NAME(Subtype)), PDF_NAME(Widget)) &&
         pdf_name_eq(ctx, pdf_dict_get_inheritable(ctx, annotation, PDF_NAME(FT)), PDF_NAME(Sig)) &&
         !pdf_signature_is_signed(ctx, document, annotation);
}

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
  if (!printing(ctx, document, annotation) || normal_appearance(ctx, annotation) != nullptr) return false;
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

/// `points`: x and y by turns.
void take_in(fz_context* ctx, pdf_obj* points, fz_rect& room) {
  int const n = pdf_array_len(ctx, points);
  for (int i = 0; i + 1 < n; i += 2) {
    float const x = pdf_array_get_real(ctx, points, i), y = pdf_array_get_real(ctx, points, i + 1);
    room = {std::min(room.x0, x), std::min(room.y0, y), std::max(room.x1, x), std::max(room.y1, y)};
  }
}

/// Where a program may draw an annotation that brings no appearance: its rectangle, the text it marks and the points of its lines, with a
/// rim for what it draws around that (its border, the rounded ends of a highlight).
fz_rect room_of(fz_context* ctx, pdf_obj* annotation) {
  fz_rect room = pdf_dict_get_rect(ctx, annotation, PDF_NAME(Rect));
  for (pdf_obj* const key : {PDF_NAME(QuadPoints), PDF_NAME(L), PDF_NAME(Vertices)}) take_in(ctx, pdf_dict_get(ctx, annotation, key), room);
  pdf_obj* const strokes = pdf_dict_get(ctx, annotation, PDF_NAME(InkList));
  for (int i = 0; i < pdf_array_len(ctx, strokes); ++i) take_in(ctx, pdf_array_get(ctx, strokes, i), room);
  float const rim = std::max(2 * border_width(ctx, annotation), std::min(room.x1 - room.x0, room.y1 - room.y0) / 4);
  // On a turned page one that keeps upright is swung about its upper left corner.
  float const swing = pdf_dict_get_int(ctx, annotation, PDF_NAME(F)) & kNoRotate ? std::max(room.x1 - room.x0, room.y1 - room.y0) : 0;
  return fz_expand_rect(room, rim + swing);
}

/// Without an appearance, and of a kind that is not drawn on the laid page either (document/annotation_kinds.h); or the pin of an attachment.
bool has_no_shape(fz_context* ctx, pdf_obj* annotation) {
  pdf_obj* const kind = pdf_dict_get(ctx, annotation, PDF_NAME(Subtype));
  if (pdf_name_eq(ctx, kind, PDF_NAME(FileAttachment))) return true;
  bool const coloured = pdf_dict_get(ctx, annotation, PDF_NAME(C)) != nullptr || pdf_dict_get(ctx, annotation, PDF_NAME(IC)) != nullptr;
  return normal_appearance(ctx, annotation) == nullptr && !pdf_name_eq(ctx, kind, PDF_NAME(Widget)) && !pdf_name_eq(ctx, kind, PDF_NAME(Link)) &&
         !(coloured && has_a_shape(pdf_to_name(ctx, kind)));
}

/// Fills up to `most` rectangles; gives how many.
std::size_t collect_free(fz_context* ctx, pdf_page* page, fz_rect* rects, std::size_t most) {
  std::size_t volatile found = 0;
  fz_try(ctx) {
    pdf_obj* annotations = pdf_dict_get(ctx, page->obj, PDF_NAME(Annots));
    int const n = pdf_array_len(ctx, annotations);
    for (int i = 0; i < n && found < most; ++i) {
      pdf_obj* annotation = pdf_array_get(ctx, annotations, i);
      if (!printing(ctx, page->doc, annotation) || normal_appearance(ctx, annotation) != nullptr || has_no_shape(ctx, annotation)) continue;
      rects[found] = room_of(ctx, annotation);
      found = found + 1;
    }
  }
  fz_catch(ctx) {}
  return found;
}

/// Whether there is anything to look for: most pages have no annotations.
bool has_annotations(fz_context* ctx, pdf_page* page) {
  return tried(ctx, false, [&] { return pdf_array_len(ctx, pdf_dict_get(ctx, page->obj, PDF_NAME(Annots))) > 0; });
}

}  // namespace

std::vector<bool> own_appearances(fz_context* ctx, pdf_page* page, bool widgets) {
  std::vector<bool> own;
  std::vector<char> flags(kMostBorders);
  std::size_t volatile n = 0;
  fz_try(ctx) {
    pdf_annot* annotation = widgets ? pdf_first_widget(ctx, page) : pdf_first_annot(ctx, page);
    for (; annotation != nullptr && n < kMostBorders; annotation = widgets ? pdf_next_widget(ctx, annotation) : pdf_next_annot(ctx, annotation)) {
      pdf_obj* const dictionary = pdf_annot_obj(ctx, annotation);
      if (!printing(ctx, page->doc, dictionary)) continue;
      flags[n] = normal_appearance(ctx, dictionary) != nullptr;
      n = n + 1;
    }
  }
  fz_catch(ctx) {}
  own.assign(flags.begin(), flags.begin() + static_cast<std::ptrdiff_t>(n));
  return own;
}

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

pdf_obj* left_out_appearance(fz_context* ctx, pdf_document* document, pdf_obj* annotation) {
  pdf_obj* subtype = pdf_dict_get(ctx, annotation, PDF_NAME(Subtype));
  bool const link = pdf_name_eq(ctx, subtype, PDF_NAME(Link));
  bool const stray = pdf_name_eq(ctx, subtype, PDF_NAME(Widget)) && (pdf_dict_get_inheritable(ctx, annotation, PDF_NAME(FT)) == nullptr ||
                                                                     pdf_dict_get_inheritable(ctx, annotation, PDF_NAME(T)) == nullptr);
  if (!link && !stray && !is_unsigned_signature(ctx, document, annotation)) return nullptr;
  if (!printing(ctx, document, annotation)) return nullptr;
  return normal_appearance(ctx, annotation);
}

namespace {

/// Off the page's lists, but not off its array of annotations.
void take_off_list(fz_context* ctx, pdf_page* page, pdf_annot* annotation) {
  pdf_obj* const dictionary = pdf_keep_obj(ctx, pdf_annot_obj(ctx, annotation));
  fz_try(ctx) {
    pdf_obj* const all = pdf_dict_get(ctx, page->obj, PDF_NAME(Annots));
    int const at = pdf_array_find(ctx, all, dictionary);
    pdf_delete_annot(ctx, page, annotation);
    if (at >= 0) pdf_array_insert(ctx, all, dictionary, at);
  }
  fz_always(ctx) pdf_drop_obj(ctx, dictionary);
  fz_catch(ctx) fz_rethrow(ctx);
}

/// The library leaves out what is Invisible, of whatever kind, and what is not for the screen (NoView).
void print_though_invisible(fz_context* ctx, pdf_obj* annotation) {
  int const flags = pdf_dict_get_int(ctx, annotation, PDF_NAME(F));
  if ((flags & kPrint) && (flags & (kInvisible | kNoView))) pdf_dict_put_int(ctx, annotation, PDF_NAME(F), flags & ~(kInvisible | kNoView));
}

bool does_not_print(fz_context* ctx, pdf_page* page, pdf_annot* widget) {
  pdf_obj* const dictionary = pdf_annot_obj(ctx, widget);
  int const type = pdf_widget_type(ctx, widget);
  bool const button = type == PDF_WIDGET_TYPE_CHECKBOX || type == PDF_WIDGET_TYPE_RADIOBUTTON || type == PDF_WIDGET_TYPE_BUTTON;
  bool const stateless = button && pdf_dict_get(ctx, dictionary, PDF_NAME(AP)) != nullptr && normal_appearance(ctx, dictionary) == nullptr;
  return stateless || is_unsigned_signature(ctx, page->doc, dictionary);
}

}  // namespace

void leave_out_what_does_not_print(fz_context* ctx, pdf_page* page) {
  fz_try(ctx) {
    pdf_obj* const all = pdf_dict_get(ctx, page->obj, PDF_NAME(Annots));
    for (int i = 0, n = pdf_array_len(ctx, all); i < n; ++i) print_though_invisible(ctx, pdf_array_get(ctx, all, i));
    for (pdf_annot *widget = pdf_first_widget(ctx, page), *next; widget != nullptr; widget = next) {
      next = pdf_next_widget(ctx, widget);
      if (does_not_print(ctx, page, widget)) take_off_list(ctx, page, widget);
    }
    for (pdf_annot *annotation = pdf_first_annot(ctx, page), *next; annotation != nullptr; annotation = next) {
      next = pdf_next_annot(ctx, annotation);
      if (has_no_shape(ctx, pdf_annot_obj(ctx, annotation))) take_off_list(ctx, page, annotation);
    }
    // Once more: taking one off the list may put others, where they are no objects of their own, back to what they were.
    for (pdf_annot* widget = pdf_first_widget(ctx, page); widget != nullptr; widget = pdf_next_widget(ctx, widget))
      print_though_invisible(ctx, pdf_annot_obj(ctx, widget));
    for (pdf_annot* annotation = pdf_first_annot(ctx, page); annotation != nullptr; annotation = pdf_next_annot(ctx, annotation))
      print_though_invisible(ctx, pdf_annot_obj(ctx, annotation));
  }
  fz_catch(ctx) {}
}

}  // namespace layright
