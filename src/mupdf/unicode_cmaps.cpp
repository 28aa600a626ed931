// Each is made of the UTF-16 one of its character collection, which the library has; where theirs differ, it is in a few characters' variants.
// fz_try is setjmp: nothing with a destructor lives in here.
#include "mupdf/unicode_cmaps.h"

#include <cstring>

extern "C" pdf_cmap* __real_pdf_load_system_cmap(fz_context* ctx, char const* name);

namespace layright {
namespace {

enum class Form { utf8, utf16, utf32 };

struct Asked {
  char const* base;  // of a CMap in UTF-16, without its direction
  Form form;
  bool vertical;
};

bool ends(char const* name, char const* end) {
  std::size_t const n = std::strlen(name), m = std::strlen(end);
  return n >= m && std::strcmp(name + n - m, end) == 0;
}

/// False for all that is not of this kind.
bool recognise(char const* name, Asked* asked) {
  static constexpr char const* kCollections[][2] = {
      {"UniJIS", "UniJIS-UTF16-"}, {"UniGB", "UniGB-UTF16-"}, {"UniCNS", "UniCNS-UTF16-"}, {"UniKS", "UniKS-UTF16-"}};
  asked->base = nullptr;
  for (auto const& c : kCollections)
    if (std::strncmp(name, c[0], std::strlen(c[0])) == 0) asked->base = c[1];
  char const* const form = std::strstr(name, "-UTF");
  asked->vertical = ends(name, "-V");
  if (asked->base == nullptr || form == nullptr || !(asked->vertical || ends(name, "-H"))) return false;
  if (std::strncmp(form, "-UTF8-", 6) == 0) asked->form = Form::utf8;
  else if (std::strncmp(form, "-UTF16-", 7) == 0) asked->form = Form::utf16;
  else if (std::strncmp(form, "-UTF32-", 7) == 0) asked->form = Form::utf32;
  else return false;
  return asked->form != Form::utf16 || std::strncmp(name, asked->base, std::strlen(asked->base)) != 0;
}

unsigned utf16(unsigned c) { return c < 0x10000 ? c : (0xD800U + ((c - 0x10000) >> 10)) << 16 | (0xDC00U + ((c - 0x10000) & 0x3FFU)); }

unsigned utf8(unsigned c) {
  char bytes[FZ_UTFMAX];
  int const count = fz_runetochar(bytes, static_cast<int>(c));
  unsigned code = 0;
  for (int i = 0; i < count; ++i) code = code << 8 | static_cast<unsigned char>(bytes[i]);
  return code;
}

unsigned encoded(Form form, unsigned c) { return form == Form::utf8 ? utf8(c) : form == Form::utf32 ? c : utf16(c); }

void add_codes(fz_context* ctx, pdf_cmap* cmap, Form form) {
  if (form == Form::utf32) return pdf_add_codespace(ctx, cmap, 0, 0x10FFFF, 4);
  pdf_add_codespace(ctx, cmap, 0, 0x7F, 1);
  pdf_add_codespace(ctx, cmap, 0xC280, 0xDFBF, 2);
  pdf_add_codespace(ctx, cmap, 0xE08080, 0xEFBFBF, 3);
  pdf_add_codespace(ctx, cmap, 0xF0808080, 0xF48FBFBF, 4);
}

/// Runs of neighbours at once; they end where the last byte of UTF-8 does.
void map_all(fz_context* ctx, pdf_cmap* to, pdf_cmap* from, Form form) {
  constexpr unsigned kLast = 0x2FFFF, kRun = 64;  // beyond the third plane no collection has any
  for (unsigned start = 0; start <= kLast; start += kRun)
    for (unsigned i = 0; i < kRun;) {
      int const cid = pdf_lookup_cmap(from, utf16(start + i));
      unsigned n = 1;
      while (cid >= 0 && i + n < kRun && pdf_lookup_cmap(from, utf16(start + i + n)) == cid + static_cast<int>(n)) ++n;
      if (cid >= 0) pdf_map_range_to_range(ctx, to, encoded(form, start + i), encoded(form, start + i + n - 1), cid);
      i += n;
    }
}

/// May jump out.
pdf_cmap* made(fz_context* ctx, Asked const& asked) {
  char name[24];
  std::strcpy(name, asked.base);
  std::strcat(name, asked.vertical ? "V" : "H");
  pdf_cmap* const base = __real_pdf_load_system_cmap(ctx, name);
  if (asked.form == Form::utf16) return base;
  pdf_cmap* cmap = nullptr;
  fz_var(cmap);
  fz_try(ctx) {
    cmap = pdf_new_cmap(ctx);
    pdf_set_cmap_wmode(ctx, cmap, asked.vertical ? 1 : 0);
    add_codes(ctx, cmap, asked.form);
    map_all(ctx, cmap, base, asked.form);
    pdf_sort_cmap(ctx, cmap);
  }
  fz_always(ctx) pdf_drop_cmap(ctx, base);
  fz_catch(ctx) {
    pdf_drop_cmap(ctx, cmap);
    fz_rethrow(ctx);
  }
  return cmap;
}

}  // namespace

pdf_cmap* system_cmap(fz_context* ctx, char const* name) {
  Asked asked{};
  return recognise(name, &asked) ? made(ctx, asked) : __real_pdf_load_system_cmap(ctx, name);
}

}  // namespace layright
