#include "job/messages.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "job/message_bytes.h"

namespace layright {

constexpr int kMostPages = 1'000'000'000;

template <class Bytes>
void part(Bytes& b, Finding& f) {
  choice(b, f.level, Level::hold);
  parts(b, f.check, f.message, f.where, f.places, f.measured, f.wanted, f.accepted, f.suppressed);
}

// Whatever a file gives as its boxes.
template <class Bytes>
void part(Bytes& b, PageBoxes& boxes) {
  for (auto* box : {&boxes.media, &boxes.crop, &boxes.bleed, &boxes.trim, &boxes.art}) parts(b, box->x0, box->y0, box->x1, box->y1);
}

template <class Bytes>
void part(Bytes& b, SeenSize& size) {
  parts(b, size.width, size.height);
  b.fail_unless(std::isfinite(size.width) && std::isfinite(size.height) && size.width >= 0 && size.height >= 0);
}

template <class Bytes>
void part(Bytes& b, Turn& turn) {
  int counted = degrees(turn);
  part(b, counted);
  auto const real = turn_of(counted);
  b.fail_unless(real.has_value());
  turn = real.value_or(Turn::none);
}

template <class Bytes>
void part(Bytes& b, ReadingLine& line) {
  parts(b, line.where, line.words_right, line.words_wrong, line.doubt_right, line.doubt_wrong, line.evidence);
}

template <class Bytes>
void part(Bytes& b, PageReading& r) {
  choice(b, r.reading, Reading::mixed);
  choice(b, r.letters, LettersSeen::read);
  choice(b, r.by_letters, Reading::mixed);
  choice(b, r.layer, Reading::mixed);
  parts(b, r.from, r.where, r.lines, r.letters_unread, r.text_right, r.text_wrong, r.conflict, r.words);
}

template <class Bytes>
void part(Bytes& b, Placement& p) {
  parts(b, p.matrix, p.correction, p.scale, p.turn, p.reversed, p.reversed_later, p.ink, p.outside);
  b.fail_unless(std::isfinite(p.scale));
}

template <class Bytes>
void part(Bytes& b, ImageUse& image) {
  parts(b, image.where, image.ppi_along, image.ppi_down, image.reversed, image.orientation);
}

template <class Bytes>
void part(Bytes& b, InkCoverage& ink) {
  parts(b, ink.name, ink.coverage_pct);
}

template <class Bytes>
void part(Bytes& b, TonerUse& use) {
  parts(b, use.ink, use.coverage_pct, use.cost);
}

template <class Bytes>
void part(Bytes& b, TonerCost& toner) {
  parts(b, toner.cost, toner.currency, toner.inks);
}

template <class Bytes>
void part(Bytes& b, ToldColour& colour) {
  parts(b, colour.space, colour.marks, colour.inks, colour.where);
}

template <class Bytes>
void part(Bytes& b, ToldFont& font) {
  parts(b, font.name, font.embedded, font.type3, font.letters);
}

template <class Bytes>
void part(Bytes& b, PageSummary& p) {
  choice(b, p.verdict, Verdict::hold);
  std::vector<std::pair<std::string, int>> suppressed(p.suppressed.begin(), p.suppressed.end());
  parts(b, p.number, p.member, p.boxes, p.clockwise, p.user_unit, p.size, p.tells_ink, p.ink_known, p.ink, p.reading, p.reading_sentence, p.images,
        p.inks, p.total_ink_max_pct, p.tells_placement, p.placement, p.of_original, p.toner, p.colours, p.fonts, p.findings, suppressed,
        p.picture_data, p.reading_picture_data, p.picture_area, p.reading_picture_area);
  p.suppressed = {suppressed.begin(), suppressed.end()};
  b.fail_unless(p.number >= 1 && p.number <= kMostPages);
}

template <class Bytes>
void part(Bytes& b, ConversionNote& remark) {
  choice(b, remark.kind, ConversionNote::Kind::locked);
  part(b, remark.text);
}

template <class Bytes>
void part(Bytes& b, PackageMember& member) {
  parts(b, member.name, member.offset, member.size);
}

template <class Bytes>
void part(Bytes& b, DrawingPlan& plan) {
  parts(b, plan.eps, plan.box, plan.media, plan.dx, plan.dy, plan.families, plan.remarks, plan.pictures);
  b.fail_unless(std::isfinite(plan.dx) && std::isfinite(plan.dy));
}

template <class Bytes>
void part(Bytes& b, Verification& proof) {
  parts(b, proof.placement, proof.tape_offset, proof.trouble);
}

/// Rows of pixels: read and written in one.
template <class Bytes>
void pixels(Bytes& b, std::vector<std::uint8_t>& list) {
  std::string text(list.begin(), list.end());
  part(b, text);
  if constexpr (Bytes::kReads) list.assign(text.begin(), text.end());
}

template <class Bytes>
void part(Bytes& b, PagePicture& picture) {
  parts(b, picture.width, picture.height, picture.dpi, picture.area);
  pixels(b, picture.rgb);
  pixels(b, picture.alpha);
  auto const wanted = static_cast<std::size_t>(std::max(picture.width, 0)) * static_cast<std::size_t>(std::max(picture.height, 0));
  b.fail_unless(wanted > 0 && picture.dpi > 0 && std::isfinite(picture.dpi) && picture.rgb.size() == wanted * 3 &&
                (picture.alpha.empty() || picture.alpha.size() == wanted));
}

template <class Bytes>
void all(Bytes&, message::Alive&) {}
template <class Bytes>
void all(Bytes& b, message::Head& m) {
  parts(b, m.sha256, m.format, m.page_count, m.usable);
}
template <class Bytes>
void all(Bytes& b, message::Page& m) {
  parts(b, m.page);
}
template <class Bytes>
void all(Bytes& b, message::LaidPage& m) {
  parts(b, m.proof, m.page);
}
template <class Bytes>
void all(Bytes& b, message::End& m) {
  parts(b, m.findings);
}
template <class Bytes>
void all(Bytes&, message::AsksLetters&) {}
template <class Bytes>
void all(Bytes& b, message::NoLetters& m) {
  parts(b, m.why);
}
template <class Bytes>
void all(Bytes& b, message::DrawsUnasked& m) {
  parts(b, m.page);
}
template <class Bytes>
void all(Bytes& b, message::Refused& m) {
  parts(b, m.why);
}
template <class Bytes>
void all(Bytes&, message::Written&) {}
template <class Bytes>
void all(Bytes& b, message::NotWritten& m) {
  parts(b, m.why);
}
template <class Bytes>
void all(Bytes&, message::Proved&) {}
template <class Bytes>
void all(Bytes& b, message::Differs& m) {
  parts(b, m.how, m.source_damaged);
}
template <class Bytes>
void all(Bytes& b, message::Converted& m) {
  parts(b, m.sha256, m.made, m.refused, m.pixels, m.findings, m.members, m.pages, m.of_parts);
}
template <class Bytes>
void all(Bytes& b, message::Plan& m) {
  parts(b, m.plan);
}
template <class Bytes>
void all(Bytes& b, message::Picture& m) {
  parts(b, m.picture);
}
template <class Bytes>
void all(Bytes& b, message::Copied& m) {
  parts(b, m.digest);
}
template <class Bytes>
void all(Bytes& b, message::WasThere& m) {
  parts(b, m.digest);
}
template <class Bytes>
void all(Bytes& b, message::JobSheet& m) {
  parts(b, m.pdf);
}
template <class Bytes>
void all(Bytes& b, message::NoJobSheet& m) {
  parts(b, m.why);
}
template <class Bytes>
void all(Bytes& b, message::Printing& m) {
  parts(b, m.job, m.words);
}
template <class Bytes>
void all(Bytes& b, message::Sent& m) {
  choice(b, m.how, message::Sent::How::later);
  parts(b, m.job, m.sheets_off, m.words);
}

template <class M>
std::string encoded(M message) {
  ByteWriter writer;
  all(writer, message);
  return writer.take();
}

template <class M>
std::optional<M> decoded(std::string_view bytes) {
  ByteReader reader(bytes);
  std::optional<M> message(std::in_place);
  all(reader, *message);
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
LAYRIGHT_MESSAGE(message::End)
LAYRIGHT_MESSAGE(message::AsksLetters)
LAYRIGHT_MESSAGE(message::NoLetters)
LAYRIGHT_MESSAGE(message::DrawsUnasked)
LAYRIGHT_MESSAGE(message::Refused)
LAYRIGHT_MESSAGE(message::Written)
LAYRIGHT_MESSAGE(message::NotWritten)
LAYRIGHT_MESSAGE(message::Proved)
LAYRIGHT_MESSAGE(message::Differs)
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
