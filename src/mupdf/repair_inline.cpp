// fz_try is setjmp: nothing with a destructor lives in here.
#include "mupdf/repair_inline.h"

#include <cstddef>

namespace layright {
namespace {

constexpr std::size_t kMostContent = std::size_t{32} << 20;
constexpr char kInstead[] = " q 0 g 0 0 1 1 re f Q ";

struct ContentText {
  unsigned char const* bytes;
  std::size_t size;
};

bool is_space(int c) { return c == 0 || c == '\t' || c == '\n' || c == '\f' || c == '\r' || c == ' '; }
bool is_delimiter(int c) {
  return c == '(' || c == ')' || c == '<' || c == '>' || c == '[' || c == ']' || c == '{' || c == '}' || c == '/' || c == '%';
}
bool is_regular(ContentText t, std::size_t at) { return at < t.size && !is_space(t.bytes[at]) && !is_delimiter(t.bytes[at]); }

/// Behind a string that begins at `at`.
std::size_t behind_string(ContentText t, std::size_t at) {
  int depth = 0;
  for (; at < t.size; ++at) {
    if (t.bytes[at] == '\\') ++at;
    else if (t.bytes[at] == '(') ++depth;
    else if (t.bytes[at] == ')' && --depth == 0) return at + 1;
  }
  return t.size;
}

/// The word BI at or behind `at`; the end where there is none.
std::size_t next_picture(ContentText t, std::size_t at) {
  while (at < t.size) {
    int const c = t.bytes[at];
    if (c == '(') {
      at = behind_string(t, at);
    } else if (c == '%') {
      while (at < t.size && t.bytes[at] != '\n' && t.bytes[at] != '\r') ++at;
    } else if (is_regular(t, at)) {
      std::size_t const from = at;
      while (is_regular(t, at)) ++at;
      bool const named = from > 0 && t.bytes[from - 1] == '/';
      if (!named && at - from == 2 && t.bytes[from] == 'B' && t.bytes[from + 1] == 'I') return from;
    } else {
      ++at;
    }
  }
  return t.size;
}

/// Behind the word EI; 0 where there is none. In data of unknown length it stands by itself.
std::size_t behind_data(ContentText t, std::size_t at, bool by_itself) {
  for (; at + 1 < t.size; ++at)
    if (t.bytes[at] == 'E' && t.bytes[at + 1] == 'I' && !is_regular(t, at + 2) && (!by_itself || (at > 0 && is_space(t.bytes[at - 1]))))
      return at + 2;
  return 0;
}

/// How many bytes behind BI a picture takes that can be loaded, to the end of EI; 0 where it cannot be. `data`: where its data begin.
std::size_t loaded_bytes(fz_context* ctx, pdf_document* document, pdf_obj* resources, ContentText t, std::size_t* data) {
  fz_stream* stream = nullptr;
  pdf_obj* dictionary = nullptr;
  fz_image* image = nullptr;
  std::size_t end = 0;
  *data = 0;
  fz_var(stream);
  fz_var(dictionary);
  fz_var(image);
  fz_var(end);
  fz_try(ctx) {
    stream = fz_open_memory(ctx, t.bytes, t.size);
    dictionary = pdf_parse_dict(ctx, document, stream, &document->lexbuf.base);
    *data = static_cast<std::size_t>(fz_tell(ctx, stream));
    if (fz_read_byte(ctx, stream) == '\r' && fz_peek_byte(ctx, stream) == '\n') fz_read_byte(ctx, stream);
    image = pdf_load_inline_image(ctx, document, resources, dictionary, stream);
    end = static_cast<std::size_t>(fz_tell(ctx, stream));
  }
  fz_always(ctx) {
    fz_drop_image(ctx, image);
    pdf_drop_obj(ctx, dictionary);
    fz_drop_stream(ctx, stream);
  }
  fz_catch(ctx) end = 0;
  return end > 0 ? behind_data(t, end, false) : 0;  // without it the library gives up as well
}

/// The content without pictures that cannot be loaded; null where all can be, or it is too long to look at. May jump out.
fz_buffer* repaired(fz_context* ctx, pdf_document* document, pdf_obj* resources, fz_buffer* content) {
  unsigned char* bytes = nullptr;
  std::size_t const size = fz_buffer_storage(ctx, content, &bytes);
  if (size > kMostContent) return nullptr;
  ContentText const whole{bytes, size};
  fz_buffer* out = nullptr;
  fz_var(out);
  fz_try(ctx) {
    std::size_t kept = 0;
    for (std::size_t at = next_picture(whole, 0); at < whole.size; at = next_picture(whole, at)) {
      std::size_t data = 0;
      ContentText const rest{whole.bytes + at + 2, whole.size - at - 2};
      std::size_t const taken = loaded_bytes(ctx, document, resources, rest, &data);
      std::size_t const behind = taken > 0 ? taken : behind_data(rest, data, true);
      std::size_t const end = behind > 0 ? at + 2 + behind : whole.size;
      if (taken == 0) {
        if (!out) out = fz_new_buffer(ctx, whole.size + 64);
        fz_append_data(ctx, out, whole.bytes + kept, at - kept);
        fz_append_string(ctx, out, kInstead);
        kept = end;
      }
      at = end;
    }
    if (out) fz_append_data(ctx, out, whole.bytes + kept, whole.size - kept);
  }
  fz_catch(ctx) {
    fz_drop_buffer(ctx, out);
    fz_rethrow(ctx);
  }
  return out;
}

}  // namespace

bool repair_inline_pictures(fz_context* ctx, pdf_document* document, pdf_obj* stream, pdf_obj* resources) {
  fz_buffer* content = nullptr;
  fz_buffer* out = nullptr;
  int changed = 0;
  fz_var(content);
  fz_var(out);
  fz_var(changed);
  fz_try(ctx) {
    content = pdf_load_stream(ctx, stream);
    out = repaired(ctx, document, resources, content);
    if (out) pdf_update_stream(ctx, document, stream, out, 0);
    changed = out != nullptr;
  }
  fz_always(ctx) {
    fz_drop_buffer(ctx, content);
    fz_drop_buffer(ctx, out);
  }
  fz_catch(ctx) changed = 0;
  return changed != 0;
}

bool repair_inline_pictures(fz_context* ctx, pdf_page* page) {
  fz_stream* stream = nullptr;
  fz_buffer* content = nullptr;
  fz_buffer* out = nullptr;
  int changed = 0;
  fz_var(stream);
  fz_var(content);
  fz_var(out);
  fz_var(changed);
  fz_try(ctx) {
    stream = pdf_open_contents_stream(ctx, page->doc, pdf_page_contents(ctx, page));
    content = fz_read_all(ctx, stream, 4096);
    out = repaired(ctx, page->doc, pdf_page_resources(ctx, page), content);
    if (out) pdf_dict_put_drop(ctx, page->obj, PDF_NAME(Contents), pdf_add_stream(ctx, page->doc, out, nullptr, 0));
    changed = out != nullptr;
  }
  fz_always(ctx) {
    fz_drop_stream(ctx, stream);
    fz_drop_buffer(ctx, content);
    fz_drop_buffer(ctx, out);
  }
  fz_catch(ctx) changed = 0;
  return changed != 0;
}

}  // namespace layright
