#include "marks/reader.h"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "marks/art_collector.h"
#include "marks/ink_device.h"
#include "marks/letter_area.h"
#include "marks/sides_by_picture.h"
#include "mupdf/cut_streams.h"
#include "mupdf/device_calls.h"
#include "mupdf/leave_out_plate.h"
#include "mupdf/library.h"
#include "mupdf/library_memory.h"
#include "mupdf/page_annotations.h"
#include "mupdf/page_run.h"
#include "mupdf/read_on_stream.h"
#include "mupdf/repair_page.h"
#include "mupdf/run_rules.h"
#include "mupdf/tiny_patterns.h"
#include "mupdf/tried.h"
#include "reading/text_sight.h"

namespace layright {
namespace {

constexpr std::size_t kStoreBytes = 64 << 20;

/// The library keeps each object that it has parsed; every so often those that nobody holds are dropped, so that memory does not grow
/// with the pages.
constexpr long kPagesBetweenCleaning = 64;
constexpr std::size_t kLargeFile = 32u << 20;  // bytes: a smaller one may stay in memory once it is read
void clean(fz_context* ctx, pdf_document* document) {
  fz_try(ctx) pdf_clear_xref(ctx, document);
  fz_catch(ctx) {}
}

/// Without this the library walks the page tree from its start for each page. It refuses odd trees; those stay slow.
bool know_page_tree(fz_context* ctx, pdf_document* document) {
  return tried(ctx, false, [&] {
    pdf_load_page_tree(ctx, document);
    return true;
  });
}

void keep_quiet(void*, char const*) {}

/// Of a letter that cannot be read, of a JBIG2 picture that the library gives up, of filters and predictors that there are not, of data that are spoiled, and of a picture that is cut
/// short, it only warns, and shows what it has.
void hear(void* heard_here, char const* warning) {
  auto& trouble = *static_cast<LibraryTrouble*>(heard_here);
  bool const given_up = std::strstr(warning, "jbig2dec") && std::strstr(warning, "failed to decode");
  bool const odd = std::strstr(warning, "unknown png predictor") || std::strstr(warning, "unknown filter name");
  if (given_up || odd || std::strstr(warning, "read error; treating as end of file")) trouble.lost = true;
  if (std::strstr(warning, "premature end of data in flate filter")) trouble.ended = true;
  if (std::strstr(warning, "FT_Load_Glyph(")) trouble.letter = true;
  if (std::strstr(warning, "padding truncated image")) trouble.cut_short = true;
}

/// Calls of the library that may fail: plain pointers only, since its errors jump.
pdf_document* open_document(fz_context* ctx, unsigned char const* bytes, std::size_t size, fz_stream* windows) {
  fz_stream* stream = windows;
  pdf_document* document = nullptr;
  fz_var(stream);
  fz_var(document);
  fz_try(ctx) {
    if (!stream) stream = fz_open_memory(ctx, bytes, size);
    document = pdf_open_document_with_stream(ctx, stream);
  }
  fz_always(ctx) fz_drop_stream(ctx, stream);
  fz_catch(ctx) document = nullptr;
  return document;
}

bool unlocked(fz_context* ctx, pdf_document* document, char const* password) {
  return tried(ctx, false, [&] { return !pdf_needs_password(ctx, document) || pdf_authenticate_password(ctx, document, password) != 0; });
}

int count_pages(fz_context* ctx, pdf_document* document) {
  return tried<int>(ctx, 0, [&] { return pdf_count_pages(ctx, document); });
}

pdf_page* load_page(fz_context* ctx, pdf_document* document, Page const& described) {
  int const index = described.number - 1;
  if (described.record && described.record->holds && !described.record->plate.empty() && !described.is_plate()) leave_out_plate(ctx, document, index);
  return tried<pdf_page*>(ctx, nullptr, [&] {
    pdf_page* const page = pdf_load_page(ctx, document, index);
    // MuPDF 1.21 holds a page that it found by its map once more than it lets go of: the cache, the page, and nobody.
    if (document->fwd_page_map != nullptr && pdf_obj_refs(ctx, page->obj) == 3) pdf_drop_obj(ctx, page->obj);
    return page;
  });
}

/// The library's own matrix of the page, to be undone: Page::to_seen is what counts. It takes a UserUnit of 0 as it is written, which
/// leaves nothing to undo.
bool page_matrix(fz_context* ctx, pdf_page* page, fz_matrix* matrix) {
  return tried(ctx, false, [&] {
    fz_rect box;
    pdf_obj* unit = pdf_dict_get(ctx, page->obj, PDF_NAME(UserUnit));
    if (unit != nullptr && !(pdf_to_real(ctx, unit) > 0)) pdf_dict_del(ctx, page->obj, PDF_NAME(UserUnit));
    pdf_page_transform(ctx, page, &box, matrix);
    return true;
  });
}

bool close_device(fz_context* ctx, fz_device* device) {
  return tried(ctx, false, [&] {
    fz_close_device(ctx, device);
    return true;
  });
}

bool has_transparency_group(fz_context* ctx, pdf_page* page) {
  return tried(ctx, false, [&] { return pdf_name_eq(ctx, pdf_dict_getp(ctx, page->obj, "Group/S"), PDF_NAME(Transparency)) != 0; });
}

void take_all(Marks& marks, Page const& page, MarksWanted const& wanted) {
  if (!wanted.ink) return;
  marks.ink = page.seen.rect();
  marks.ink_known = false;
}

bool group_knocks_out(fz_context* ctx, pdf_page* page) {
  return tried(ctx, false, [&] { return pdf_to_bool(ctx, pdf_dict_getp(ctx, page->obj, "Group/K")) != 0; });
}

Rect<PageSpace> page_rect(fz_rect const& r) { return {r.x0, r.y0, r.x1, r.y1}; }

}  // namespace

struct MarksReader::Members {
  fz_context* ctx = nullptr;
  pdf_document* document = nullptr;
  std::unique_ptr<GlyphCache> glyphs;
  std::unique_ptr<ImageCache> images;
  std::unique_ptr<RunRules> rules;
  long pages = 0;
  bool tree_known = false;
  LibraryTrouble heard;  // while the page was read
  int read_page = 0;     // the last whose ink was read
  bool noisy = false;    // the white of one of its pictures is

  /// Of a page that nobody has read it may be.
  bool is_noisy(int page) const { return page != read_page || noisy; }

  ~Members() {
    glyphs.reset();
    images.reset();
    rules.reset();
    if (tree_known) pdf_drop_page_tree(ctx, document);
    if (document) pdf_drop_document(ctx, document);
    fz_drop_context(ctx);
  }
  void clean_up() {
    if (pages == kPagesBetweenCleaning) tree_known = know_page_tree(ctx, document);
    if (tree_known) clean(ctx, document);
  }
  Marks read(pdf_page* loaded, Page const& page, MarksWanted const& wanted);
  Marks read_once(pdf_page* loaded, Page const& page, MarksWanted const& wanted);
  bool run(pdf_page* loaded, fz_device* device, fz_matrix matrix, fz_cookie& cookie, MarkListener* also) const;
  PageFrame frame(pdf_page* loaded, Page const& page) const;
};

PageFrame MarksReader::Members::frame(pdf_page* loaded, Page const& page) const {
  PageFrame frame;
  frame.number = page.number;
  frame.laid_before = page.record && page.record->holds;
  frame.crop = page.boxes.crop;
  frame.to_seen = page.to_seen;
  frame.blends = loaded->transparency != 0;
  frame.has_group = has_transparency_group(ctx, loaded);
  frame.knocks_out = frame.has_group && group_knocks_out(ctx, loaded);
  for (auto const& rect : annotations_without_appearance(ctx, loaded)) frame.free.push_back(page.to_seen.apply(page_rect(rect)));
  frame.own = {own_appearances(ctx, loaded, false), own_appearances(ctx, loaded, true)};
  return frame;
}

bool MarksReader::Members::run(pdf_page* loaded, fz_device* device, fz_matrix matrix, fz_cookie& cookie, MarkListener* also) const {
  bool ok = true;
  for (auto section : kPageSections) {
    ok = run_section(ctx, loaded, section, device, matrix, &cookie) && ok;
    if (also) also->end_section();
  }
  return close_device(ctx, device) && ok;
}

Marks MarksReader::Members::read(pdf_page* loaded, Page const& page, MarksWanted const& wanted) {
  Marks marks = read_once(loaded, page, wanted);
  if (marks.whole || marks.out_of_time || !wanted.ink || !repair_page(ctx, loaded)) return marks;
  // Read again without what broke it off, as other readers do. That something was wrong stands.
  MarksWanted again = wanted;
  again.also = nullptr;
  Marks repaired = read_once(loaded, page, again);
  repaired.whole = false;
  repaired.trouble = marks.trouble;
  return repaired;
}

Marks MarksReader::Members::read_once(pdf_page* loaded, Page const& page, MarksWanted const& wanted) {
  Marks marks;
  marks.whole = false;
  marks.trouble = "the page cannot be read";
  fz_matrix own;
  if (!page_matrix(ctx, loaded, &own)) return marks;
  auto const back = Matrix<PageSpace, MarkSpace>{own.a, own.b, own.c, own.d, own.e, own.f}.inverted();
  if (!back) return marks;
  fz_matrix const matrix = to_library(then(*back, page.to_seen));
  leave_out_what_does_not_print(ctx, loaded);
  bool const odd_patterns = enlarge_tiny_patterns(ctx, loaded);
  fz_cookie cookie{};
  InkDevice ink(ctx, *glyphs, *images, page, wanted, cookie);
  if (wanted.also) wanted.also->begin_page(ctx, frame(loaded, page));
  fz_device* device = new_mark_device(ctx, ink, wanted.also);
  if (!device) return marks;
  ink.run_on(device);
  TextReading reading;
  if (wanted.text) ink.report_text_to(reading);
  std::optional<ArtCollector> art;
  if (wanted.art) ink.note_art_in(art.emplace(ctx, page.seen.rect(), wanted.white_prints));
  fz_flush_warnings(ctx);  // one that is reported again is only counted until then
  heard = {};
  rules->begin_page();
  rules->report_cells_to(wanted.also);
  rules->report_text_objects_to(&ink);
  bool const ran = run(loaded, device, matrix, cookie, wanted.also);
  rules->report_cells_to(nullptr);
  rules->report_text_objects_to(nullptr);
  fz_drop_device(ctx, device);
  if (wanted.also) wanted.also->end_page();
  if (wanted.ink)
    for (auto const& border : printing_link_borders(ctx, loaded)) ink.add_box(page.to_seen.apply(page_rect(border.where)), border.color);
  marks = ink.finish();
  read_page = wanted.ink ? page.number : 0;
  noisy = ink.noisy();
  if (art) marks.art = art->take();
  if (rules->readers_differ()) marks.layers = rules->differing_places(loaded, matrix);
  if (wanted.text) {
    std::vector<SeenRect> places;
    for (auto const& image : marks.images) places.push_back(image.where);
    if (auto const around = wanted.ink && !ink.out_of_time() ? reading.asks_sight(places) : std::nullopt) {
      auto const sight = TextSight::look(ctx, &loaded->super, *around, wanted.white_prints);
      // A page that cannot be drawn shows nobody anything.
      marks.text = reading.result(
          places, [&](SeenRect const& place, std::vector<SeenRect> const& others) { return sight ? sight->seen(place, others) : 0.0; });
    } else {
      marks.text = reading.result(places);
    }
    marks.text.alone = !wanted.ink || !ink.others().could_be_letters();
  }
  if (wanted.ink && !ink.out_of_time()) {
    fz_cookie drawing{};
    auto const decided = decide_sides(ctx, loaded, matrix, ink.ledger(), page.seen.rect(), ink.rule(), ink.noisy(), drawing);
    marks.ink = decided.ink;
    marks.sides_by_picture = decided.sides;
  }
  if (heard.lost) {
    marks.whole = false;
    marks.trouble = "a picture or other data cannot be decoded: damaged, or in a form, such as some of JBIG2, that is not taken";
  }
  if (heard.cut) {
    marks.whole = false;
    marks.trouble = "the data of a picture end before it does, and programs show what is missing in their own ways";
  }
  if (heard.ended && has_cut_stream(ctx, loaded)) {
    marks.whole = false;
    marks.trouble = "the data of the page end before they should: some of the art is missing";
  }
  if (odd_patterns) {
    marks.whole = false;
    marks.trouble = "a pattern is not described as it must be, and programs show it differently or not at all";
  }
  if (!ran) {
    marks.whole = false;
    marks.trouble = "the page breaks off: what comes after a fault in it was not read";
  } else if (cookie.errors > 0) {
    marks.whole = false;
    marks.trouble = kPassedOver;
  }
  if (marks.out_of_time) {
    marks.whole = false;
    marks.trouble = "reading the page took too long";
  }
  // What was read says little of what was not: a page is never told smaller than it may be.
  if (!marks.whole && (!marks.ink || !ran || marks.out_of_time)) take_all(marks, page, wanted);
  return marks;
}

MarksReader::MarksReader(std::unique_ptr<Members> m) : m_(std::move(m)) {}
MarksReader::~MarksReader() = default;

Result<std::unique_ptr<MarksReader>> MarksReader::open(std::span<std::byte const> bytes, std::string const& password, std::function<void()> read_on) {
  auto m = std::make_unique<Members>();
  m->ctx = new_context(kStoreBytes);
  if (!m->ctx) return Error{ErrorKind::hold, "there is not enough memory to read the file"};
  fz_set_warning_callback(m->ctx, hear, &m->heard);
  fz_set_error_callback(m->ctx, keep_quiet, nullptr);
  auto const* const data = reinterpret_cast<unsigned char const*>(bytes.data());
  fz_stream* const windows = read_on && bytes.size() > kLargeFile ? read_on_stream(m->ctx, {data, bytes.size()}, std::move(read_on)) : nullptr;
  m->document = open_document(m->ctx, data, bytes.size(), windows);
  if (!m->document) return Error{ErrorKind::data, "its pages cannot be read"};
  if (!unlocked(m->ctx, m->document, password.c_str())) return Error{ErrorKind::hold, "it needs a password"};
  m->rules = std::make_unique<RunRules>(m->ctx, m->document);
  m->glyphs = std::make_unique<GlyphCache>(m->ctx, m->heard);
  m->images = std::make_unique<ImageCache>(m->ctx, m->heard);
  return std::unique_ptr<MarksReader>(new MarksReader(std::move(m)));
}

int MarksReader::page_count() { return count_pages(m_->ctx, m_->document); }

Marks MarksReader::read(Page const& page, MarksWanted const& wanted) {
  Marks marks;
  marks.whole = false;
  marks.trouble = "the page cannot be read";
  if (!page.usable || !page.clockwise) return marks;
  take_all(marks, page, wanted);
  pdf_page* loaded = load_page(m_->ctx, m_->document, page);
  if (!loaded) return marks;
  try {
    marks = m_->read(loaded, page, wanted);
  } catch (std::exception const&) {  // only ever for want of memory
    marks.trouble = "memory ran out while the page was read";
    marks.whole = false;
  }
  fz_drop_page(m_->ctx, &loaded->super);
  m_->glyphs->end_page();
  m_->images->end_page();
  if (wanted.also) wanted.also->drop_cached_pages();
  if (++m_->pages % kPagesBetweenCleaning == 0) m_->clean_up();
  return marks;
}

template <class Read>
auto MarksReader::on_page(Page const& page, Read&& read) -> decltype(read(nullptr)) {
  if (!page.usable || !page.clockwise) return std::nullopt;
  pdf_page* loaded = load_page(m_->ctx, m_->document, page);
  if (!loaded) return std::nullopt;
  leave_out_what_does_not_print(m_->ctx, loaded);
  enlarge_tiny_patterns(m_->ctx, loaded);
  auto found = read(&loaded->super);
  fz_drop_page(m_->ctx, &loaded->super);
  return found;
}

std::optional<PagePicture> MarksReader::picture(Page const& page, Rect<SeenSpace> const& ink, double dpi, bool clear) {
  return on_page(page, [&](fz_page* loaded) { return draw_page(m_->ctx, loaded, ink, dpi, clear); });
}

std::optional<PagePicture> MarksReader::picture_of_letters(Page const& page, Marks const& marks, LiveText text, bool white_prints) {
  SeenRect const area = letter_area(marks);
  auto picture = on_page(page, [&](fz_page* loaded) { return draw_page(m_->ctx, loaded, area, dpi_for_letters(area), white_prints, text); });
  if (picture && white_prints) lay_on_ground(*picture);
  return picture;
}

std::optional<PageInks> MarksReader::inks(Page const& page, InksWanted const& wanted) {
  return on_page(page, [&](fz_page* loaded) { return read_inks(m_->ctx, loaded, page.seen.rect(), wanted); });
}

std::optional<PageToner> MarksReader::toner(Page const& page, std::vector<std::string> const& own) {
  return on_page(page, [&](fz_page* loaded) { return read_toner(m_->ctx, loaded, page.seen.rect(), own, m_->is_noisy(page.number)); });
}

std::optional<PageWeed> MarksReader::weed(Page const& page, Rect<SeenSpace> const& ink, WeedWanted const& wanted) {
  WeedWanted as_read = wanted;
  as_read.noisy = m_->is_noisy(page.number);
  return on_page(page, [&](fz_page* loaded) { return read_weed(m_->ctx, loaded, page.seen.rect(), ink, as_read); });
}

std::optional<PagePlate> MarksReader::plate(Page const& page, PlateWanted const& wanted, NoPlate& why) {
  why = NoPlate::failed;
  return on_page(page, [&](fz_page* loaded) { return make_plate(m_->ctx, loaded, page.seen.rect(), page.seen.rect(), wanted, why); });
}

void prepare_marks_library() {}

}  // namespace layright
