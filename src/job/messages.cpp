#include "job/messages.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/byte_fields.h"
#include "geometry/matrix.h"
#include "geometry/rect.h"

namespace layright {

// Found by their arguments from byte_fields.h, which names in a nameless namespace are not.

constexpr int kMostPages = 1'000'000'000;

constexpr Level last(Level) { return Level::hold; }
constexpr Verdict last(Verdict) { return Verdict::hold; }
constexpr Reading last(Reading) { return Reading::mixed; }
constexpr LettersSeen last(LettersSeen) { return LettersSeen::read; }
constexpr ConversionNote::Kind last(ConversionNote::Kind) { return ConversionNote::Kind::locked; }

auto fields(Finding& f) { return std::tie(f.level, f.check, f.message, f.where, f.places, f.measured, f.wanted, f.accepted, f.suppressed); }
auto fields(SeenSize& s) { return std::tie(s.width, s.height); }
auto fields(ReadingLine& l) { return std::tie(l.where, l.words_right, l.words_wrong, l.doubt_right, l.doubt_wrong, l.evidence); }
auto fields(PageReading& r) {
  return std::tie(r.reading, r.letters, r.by_letters, r.layer, r.from, r.where, r.lines, r.letters_unread, r.text_right, r.text_wrong, r.conflict,
                  r.words);
}
auto fields(Placement& p) { return std::tie(p.matrix, p.correction, p.scale, p.turn, p.reversed, p.reversed_later, p.ink, p.outside); }
auto fields(ImageUse& i) { return std::tie(i.where, i.ppi_along, i.ppi_down, i.reversed, i.orientation); }
auto fields(InkCoverage& i) { return std::tie(i.name, i.coverage_pct); }
auto fields(TonerUse& u) { return std::tie(u.ink, u.coverage_pct, u.cost); }
auto fields(TonerCost& t) { return std::tie(t.cost, t.currency, t.inks); }
auto fields(PlateSummary& p) { return std::tie(p.page, p.dpi, p.ink_pt2, p.white_pt2); }
auto fields(ColourSummary& c) { return std::tie(c.space, c.marks, c.inks, c.where); }
auto fields(FontSummary& f) { return std::tie(f.name, f.embedded, f.type3, f.letters); }
auto fields(PageSummary& p) {
  return std::tie(p.verdict, p.number, p.member, p.boxes, p.clockwise, p.user_unit, p.size, p.reports_ink, p.ink_known, p.ink, p.reading,
                  p.reading_sentence, p.images, p.inks, p.total_ink_max_pct, p.reports_placement, p.placement, p.as_asked, p.of_original, p.toner,
                  p.plate, p.is_plate, p.colours, p.fonts, p.findings, p.suppressed, p.picture_data, p.reading_picture_data, p.picture_area,
                  p.reading_picture_area);
}
auto fields(ConversionNote& n) { return std::tie(n.kind, n.text); }
auto fields(PackageMember& m) { return std::tie(m.name, m.offset, m.size); }
auto fields(DrawingPlan& p) { return std::tie(p.eps, p.box, p.media, p.dx, p.dy, p.families, p.remarks, p.pictures); }
auto fields(Verification& v) { return std::tie(v.placement, v.tape_offset, v.trouble, v.beside, v.cut); }
auto fields(Tile& t) { return std::tie(t.column, t.row, t.rows, t.between_cuts, t.area); }
auto fields(TilePlan& p) { return std::tie(p.turned, p.mirrored, p.rim, p.columns, p.tiles, p.cost, p.bound); }
auto fields(PageTiles& p) { return std::tie(p.page, p.scale, p.plan, p.to_seen, p.placed); }
auto fields(PagePicture& p) { return std::tie(p.width, p.height, p.dpi, p.area, p.rgb, p.alpha); }

bool is_right(SeenSize const& s) { return std::isfinite(s.width) && std::isfinite(s.height) && s.width >= 0 && s.height >= 0; }
bool is_right(Placement const& p) { return std::isfinite(p.scale); }
bool is_right(PageSummary const& p) { return p.number >= 1 && p.number <= kMostPages; }
bool is_right(PageTiles const& p) { return std::isfinite(p.scale) && p.placed.size() == p.plan.tiles.size(); }
bool is_right(DrawingPlan const& p) { return std::isfinite(p.dx) && std::isfinite(p.dy); }
bool is_right(PagePicture const& p) {
  auto const wanted = static_cast<std::size_t>(std::max(p.width, 0)) * static_cast<std::size_t>(std::max(p.height, 0));
  return wanted > 0 && p.dpi > 0 && std::isfinite(p.dpi) && p.rgb.size() == wanted * 3 && (p.alpha.empty() || p.alpha.size() == wanted);
}

template <class Bytes, class Space>
void part(Bytes& b, Rect<Space>& r) {
  for (double* v : {&r.x0, &r.y0, &r.x1, &r.y1}) part(b, *v);
  b.fail_unless(r.finite());
}

template <class Bytes, class A, class B>
void part(Bytes& b, Matrix<A, B>& m) {
  for (double* v : {&m.a, &m.b, &m.c, &m.d, &m.e, &m.f}) {
    part(b, *v);
    b.fail_unless(std::isfinite(*v));
  }
}

// Whatever a file gives as its boxes.
template <class Bytes>
void part(Bytes& b, PageBoxes& boxes) {
  for (auto* box : {&boxes.media, &boxes.crop, &boxes.bleed, &boxes.trim, &boxes.art}) parts(b, box->x0, box->y0, box->x1, box->y1);
}

template <class Bytes>
void part(Bytes& b, Turn& turn) {
  int counted = degrees(turn);
  part(b, counted);
  auto const real = turn_of(counted);
  b.fail_unless(real.has_value());
  turn = real.value_or(Turn::none);
}

namespace message {

constexpr Sent::How last(Sent::How) { return Sent::How::later; }

template <MessageKind Kind>
auto fields(Sign<Kind>&) {
  return std::tie();
}
template <MessageKind Kind>
auto fields(Text<Kind>& m) {
  return std::tie(m.text);
}
auto fields(Head& m) { return std::tie(m.sha256, m.format, m.page_count, m.usable); }
auto fields(Page& m) { return std::tie(m.page); }
auto fields(LaidPage& m) { return std::tie(m.proof, m.page); }
auto fields(TiledPage& m) { return std::tie(m.proofs, m.tiles, m.page); }
auto fields(End& m) { return std::tie(m.findings); }
auto fields(DrawsUnasked& m) { return std::tie(m.page); }
auto fields(Ganged& m) { return std::tie(m.pages); }
auto fields(Differs& m) { return std::tie(m.how, m.source_damaged); }
auto fields(Plated& m) { return std::tie(m.plates, m.findings); }
auto fields(NotPlated& m) { return std::tie(m.why, m.defect); }
auto fields(Converted& m) { return std::tie(m.sha256, m.made, m.refused, m.pixels, m.findings, m.members, m.pages, m.of_parts); }
auto fields(Plan& m) { return std::tie(m.plan); }
auto fields(Picture& m) { return std::tie(m.picture); }
auto fields(Printing& m) { return std::tie(m.job, m.words); }
auto fields(Sent& m) { return std::tie(m.how, m.job, m.sheets_off, m.words); }

}  // namespace message

template <class M>
std::string encoded(M message) {
  ByteWriter writer;
  part(writer, message);
  return writer.take();
}

template <class M>
std::optional<M> decoded(std::string_view bytes) {
  ByteReader reader(bytes);
  std::optional<M> message(std::in_place);
  part(reader, *message);
  if (!reader.whole()) message.reset();
  return message;
}

#define LAYRIGHT_MESSAGE(M)           \
  template std::string encoded<M>(M); \
  template std::optional<M> decoded<M>(std::string_view);
LAYRIGHT_MESSAGE(message::Alive)
LAYRIGHT_MESSAGE(message::Head)
LAYRIGHT_MESSAGE(message::Page)
LAYRIGHT_MESSAGE(message::LaidPage)
LAYRIGHT_MESSAGE(message::TiledPage)
LAYRIGHT_MESSAGE(message::End)
LAYRIGHT_MESSAGE(message::AsksLetters)
LAYRIGHT_MESSAGE(message::NoLetters)
LAYRIGHT_MESSAGE(message::DrawsUnasked)
LAYRIGHT_MESSAGE(message::Refused)
LAYRIGHT_MESSAGE(message::Written)
LAYRIGHT_MESSAGE(message::NotWritten)
LAYRIGHT_MESSAGE(message::Ganged)
LAYRIGHT_MESSAGE(message::Proved)
LAYRIGHT_MESSAGE(message::Differs)
LAYRIGHT_MESSAGE(message::Plated)
LAYRIGHT_MESSAGE(message::NotPlated)
LAYRIGHT_MESSAGE(message::Converted)
LAYRIGHT_MESSAGE(message::Plan)
LAYRIGHT_MESSAGE(message::Picture)
LAYRIGHT_MESSAGE(message::Copied)
LAYRIGHT_MESSAGE(message::WasThere)
LAYRIGHT_MESSAGE(message::JobSheet)
LAYRIGHT_MESSAGE(message::NoJobSheet)
LAYRIGHT_MESSAGE(message::Printing)
LAYRIGHT_MESSAGE(message::Sent)
#undef LAYRIGHT_MESSAGE

}  // namespace layright
