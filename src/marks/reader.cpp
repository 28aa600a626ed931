#include "marks/reader.h"

#include <algorithm>
#include <cmath>

#include "marks/ink_device.h"
#include "marks/library.h"
#include "marks/page_annotations.h"
#include "marks/sides_by_picture.h"

namespace layright {
namespace {

constexpr std::size_t kStoreBytes = 64 << 20;

void keep_quiet(void*, char const*) {}

/// Calls of the library that may fail: plain pointers only, since its errors jump.
pdf_document* open_document(fz_context* ctx, unsigned char const* bytes, std::size_t size) {
  fz_stream* stream = nullptr;
  pdf_document* document = nullptr;
  fz_var(stream);
  fz_var(document);
  fz_try(ctx) {
    stream = fz_open_memory(ctx, bytes, size);
    document = pdf_open_document_with_stream(ctx, stream);
  }
  fz_always(ctx) fz_drop_stream(ctx, stream);
  fz_catch(ctx) document = nullptr;
  return document;
}

bool unlocked(fz_context* ctx, pdf_document* document, char const* password) {
  int ok = 0;
  fz_var(ok);
  fz_try(ctx) ok = !pdf_needs_password(ctx, document) || pdf_authenticate_password(ctx, document, password) != 0;
  fz_catch(ctx) ok = 0;
  return ok != 0;
}

int count_pages(fz_context* ctx, pdf_document* document) {
  int n = 0;
  fz_var(n);
  fz_try(ctx) n = pdf_count_pages(ctx, document);
  fz_catch(ctx) n = 0;
  return n;
}

pdf_page* load_page(fz_context* ctx, pdf_document* document, int index) {
  pdf_page* page = nullptr;
  fz_var(page);
  fz_try(ctx) page = pdf_load_page(ctx, document, index);
  fz_catch(ctx) page = nullptr;
  return page;
}

bool page_matrix(fz_context* ctx, pdf_page* page, fz_matrix* matrix) {
  int ok = 1;
  fz_rect box;
  fz_var(ok);
  fz_try(ctx) pdf_page_transform(ctx, page, &box, matrix);
  fz_catch(ctx) ok = 0;
  return ok != 0;
}

bool run_page(fz_context* ctx, pdf_page* page, fz_device* device, fz_matrix matrix, fz_cookie* cookie) {
  int ok = 1;
  fz_var(ok);
  fz_try(ctx) {
    pdf_run_page_with_usage(ctx, page, device, matrix, "Print", cookie);
    fz_close_device(ctx, device);
  }
  fz_catch(ctx) ok = 0;
  return ok != 0;
}

}  // namespace

struct MarksReader::Members {
  fz_context* ctx = nullptr;
  pdf_document* document = nullptr;
  std::unique_ptr<GlyphBook> glyphs;
  std::unique_ptr<ImageBook> images;

  ~Members() {
    glyphs.reset();
    images.reset();
    if (document) pdf_drop_document(ctx, document);
    fz_drop_context(ctx);
  }
};

MarksReader::MarksReader(std::unique_ptr<Members> m) : m_(std::move(m)) {}
MarksReader::~MarksReader() = default;

Result<std::unique_ptr<MarksReader>> MarksReader::open(std::span<std::byte const> bytes, std::string const& password) {
  auto m = std::make_unique<Members>();
  m->ctx = fz_new_context(nullptr, nullptr, kStoreBytes);
  if (!m->ctx) return Error{ErrorKind::hold, "there is not enough memory to read the file"};
  fz_set_warning_callback(m->ctx, keep_quiet, nullptr);
  fz_set_error_callback(m->ctx, keep_quiet, nullptr);
  m->document = open_document(m->ctx, reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size());
  if (!m->document) return Error{ErrorKind::data, "its pages cannot be read"};
  if (!unlocked(m->ctx, m->document, password.c_str())) return Error{ErrorKind::hold, "it needs a password"};
  m->glyphs = std::make_unique<GlyphBook>(m->ctx);
  m->images = std::make_unique<ImageBook>(m->ctx);
  return std::unique_ptr<MarksReader>(new MarksReader(std::move(m)));
}

int MarksReader::page_count() { return count_pages(m_->ctx, m_->document); }

Marks MarksReader::read(Page const& page, MarksWanted const& wanted) {
  Marks unread;
  unread.whole = false;
  unread.trouble = "the page cannot be read";
  if (!page.usable || !page.clockwise) return unread;
  pdf_page* loaded = load_page(m_->ctx, m_->document, page.number - 1);
  if (!loaded) return unread;
  fz_matrix own;
  Marks marks = unread;
  if (page_matrix(m_->ctx, loaded, &own)) {
    auto const back = Matrix<PageSpace, MarkSpace>{own.a, own.b, own.c, own.d, own.e, own.f}.inverted();
    if (back) {
      fz_cookie cookie{};
      fz_matrix const ctm = to_library(then(*back, page.to_seen));
      leave_out_unsigned_signatures(m_->ctx, loaded);
      InkDevice device(m_->ctx, *m_->glyphs, *m_->images, page, wanted, cookie);
      fz_device* library = device.library_device();
      bool const ran = run_page(m_->ctx, loaded, library, ctm, &cookie);
      fz_drop_device(m_->ctx, library);
      if (wanted.ink)
        for (auto const& border : printing_link_borders(m_->ctx, loaded))
          device.add_box(page.to_seen.apply(Rect<PageSpace>{border.where.x0, border.where.y0, border.where.x1, border.where.y1}),
                         border.color);
      marks = device.finish();
      if (wanted.ink && !device.out_of_time()) {
        fz_cookie drawing{};
        auto const decided = decide_sides(m_->ctx, loaded, ctm, device.ledger(), page.seen.rect(), device.rule(), drawing);
        marks.ink = decided.ink;
        marks.sides_by_picture = decided.sides;
      }
      if (!ran) {
        marks.whole = false;
        marks.trouble = "the page breaks off: what comes after a fault in it was not read";
      } else if (cookie.errors > 0) {
        marks.whole = false;
        marks.trouble = "the page has instructions that cannot be carried out";
      }
    }
  }
  fz_drop_page(m_->ctx, &loaded->super);
  m_->glyphs->end_page();
  m_->images->end_page();
  return marks;
}

void prepare_marks_library() {}

}  // namespace layright
