#include "report/page_summary.h"

#include <utility>

#include "base/utf8.h"
#include "report/page_json.h"

namespace layright {
namespace {

void make_utf8(std::vector<std::string>& list) {
  for (auto& text : list) text = valid_utf8(text);
}

void make_utf8(Figures& figures) {
  for (auto& [name, figure] : figures)
    if (auto* text = std::get_if<std::string>(&figure)) *text = valid_utf8(*text);
}

void add_findings(PageSummary& reported, std::vector<Finding> const& findings) {
  for (auto& f : reported_findings(findings))
    if (f.suppressed) ++reported.suppressed[f.check];
    else reported.findings.push_back(std::move(f));
}

std::vector<ColourSummary> colours_of(ArtNotes const& art) {
  std::vector<ColourSummary> list;
  for (auto const& c : art.colours) {
    auto& reported = list.emplace_back(ColourSummary{c.space, c.marks.count, c.inks, {}});
    if (!c.marks.first.empty() && c.marks.first.front().finite()) reported.where = c.marks.first.front();
  }
  return list;
}

/// Of fonts that text shows in; one that the file names nowhere is the reader's own.
std::vector<FontSummary> fonts_of(ArtNotes const& art, ArtStructure const& structure) {
  std::vector<FontSummary> list;
  for (auto const& font : art.fonts) {
    bool embedded = font.type3;
    for (auto const& entry : structure.fonts) embedded = embedded || (entry.name == font.name && entry.embedded);
    list.push_back({font.name, embedded, font.type3, font.glyphs.count});
  }
  return list;
}

}  // namespace

std::vector<Finding> reported_findings(std::vector<Finding> findings) {
  for (auto& f : findings) {
    f.message = valid_utf8(f.message);
    make_utf8(f.measured);
    make_utf8(f.wanted);
    if (f.where && !f.where->finite()) f.where.reset();
    std::erase_if(f.places, [](auto const& place) { return !place.finite(); });
  }
  return findings;
}

PageSummary page_summary(PageReport const& r) {
  Page const& page = r.page;
  PageSummary reported;
  reported.number = page.number;
  reported.verdict = r.verdict;
  if (page.has_boxes) {
    reported.boxes = page.boxes;
    reported.clockwise = page.clockwise;
    reported.user_unit = page.user_unit;
    if (page.usable && page.clockwise) reported.size = page.seen;
  }
  if (r.marks) {
    reported.reports_ink = r.report_ink;
    if (r.report_ink) reported.ink = r.marks->ink;
    reported.ink_known = r.marks->ink_known && r.marks->whole;
    if (r.report_images) {
      reported.images = r.marks->images;
      std::erase_if(*reported.images, [](auto const& image) { return !image.where.finite(); });
      if (r.marks->art) reported.colours = colours_of(*r.marks->art);
      if (r.marks->art && r.structure) reported.fonts = fonts_of(*r.marks->art, *r.structure);
    }
  }
  reported.reading = r.reading;
  if (reported.reading) {
    make_utf8(reported.reading->words);
    std::erase_if(reported.reading->where, [](auto const& place) { return !place.finite(); });
    std::erase_if(reported.reading->lines, [](auto const& line) { return !line.where.finite(); });
    for (auto& line : reported.reading->lines) {
      make_utf8(line.words_right);
      make_utf8(line.words_wrong);
    }
    reported.reading_sentence = valid_utf8(r.reading_sentence);
  }
  if (r.inks) {
    reported.inks = r.inks->inks;
    reported.total_ink_max_pct = r.inks->total_max_pct;
  }
  reported.reports_placement = r.report_placement;
  if (r.report_placement) reported.placement = r.placement;
  if (r.report_placement) reported.as_asked = r.as_asked;
  reported.of_original = r.of_original;
  reported.toner = r.toner;
  if (r.plate) reported.plate = PlateSummary{r.page.number, r.plate->dpi, r.plate->ink_pt2, r.plate->white_pt2};
  reported.is_plate = page.is_plate();
  add_findings(reported, r.findings);
  reported.picture_data = r.picture_data;
  reported.picture_area = r.picture_area;
  reported.reading_picture_data = r.reading_picture_data;
  reported.reading_picture_area = r.reading_picture_area;
  return reported;
}

PageSummary page_summary(int number, std::vector<Finding> const& findings) {
  PageSummary reported;
  reported.number = number;
  reported.verdict = verdict_of(findings);
  add_findings(reported, findings);
  return reported;
}

std::string reading_word(PageSummary const& page) { return page.reading ? std::string(word(page.reading->reading)) : std::string(); }

std::string plate_words(PlateSummary const& plate, Unit unit) {
  constexpr double kInch = 72, kCentimetre = 72 / 2.54;
  bool const inches = unit == Unit::inch || unit == Unit::point;
  double const side = inches ? kInch : kCentimetre;
  return "white plate of " + format_number(plate.white_pt2 / (side * side), 2) + (inches ? " square inches" : " square centimeters");
}

}  // namespace layright
