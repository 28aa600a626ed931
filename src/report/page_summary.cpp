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

void add_findings(PageSummary& told, std::vector<Finding> const& findings) {
  for (auto& f : told_findings(findings))
    if (f.suppressed) ++told.suppressed[f.check];
    else told.findings.push_back(std::move(f));
}

std::vector<ToldColour> colours_of(ArtNotes const& art) {
  std::vector<ToldColour> list;
  for (auto const& c : art.colours) {
    auto& told = list.emplace_back(ToldColour{c.space, c.marks.count, c.inks, {}});
    if (!c.marks.first.empty() && c.marks.first.front().finite()) told.where = c.marks.first.front();
  }
  return list;
}

/// Of fonts that text shows in; one that the file names nowhere is the reader's own.
std::vector<ToldFont> fonts_of(ArtNotes const& art, ArtStructure const& structure) {
  std::vector<ToldFont> list;
  for (auto const& font : art.fonts) {
    bool embedded = font.type3;
    for (auto const& entry : structure.fonts) embedded = embedded || (entry.name == font.name && entry.embedded);
    list.push_back({font.name, embedded, font.type3, font.glyphs.count});
  }
  return list;
}

}  // namespace

std::vector<Finding> told_findings(std::vector<Finding> findings) {
  for (auto& f : findings) {
    f.message = valid_utf8(f.message);
    make_utf8(f.measured);
    make_utf8(f.wanted);
    if (f.where && !f.where->finite()) f.where.reset();
    std::erase_if(f.places, [](auto const& place) { return !place.finite(); });
  }
  return findings;
}

PageSummary told_page(PageReport const& r) {
  Page const& page = r.page;
  PageSummary told;
  told.number = page.number;
  told.verdict = r.verdict;
  if (page.has_boxes) {
    told.boxes = page.boxes;
    told.clockwise = page.clockwise;
    told.user_unit = page.user_unit;
    if (page.usable && page.clockwise) told.size = page.seen;
  }
  if (r.marks) {
    told.tells_ink = r.tell_ink;
    if (r.tell_ink) told.ink = r.marks->ink;
    told.ink_known = r.marks->ink_known && r.marks->whole;
    if (r.tell_images) {
      told.images = r.marks->images;
      std::erase_if(*told.images, [](auto const& image) { return !image.where.finite(); });
      if (r.marks->art) told.colours = colours_of(*r.marks->art);
      if (r.marks->art && r.structure) told.fonts = fonts_of(*r.marks->art, *r.structure);
    }
  }
  told.reading = r.reading;
  if (told.reading) {
    make_utf8(told.reading->words);
    std::erase_if(told.reading->where, [](auto const& place) { return !place.finite(); });
    std::erase_if(told.reading->lines, [](auto const& line) { return !line.where.finite(); });
    for (auto& line : told.reading->lines) {
      make_utf8(line.words_right);
      make_utf8(line.words_wrong);
    }
    told.reading_sentence = valid_utf8(r.reading_sentence);
  }
  if (r.inks) {
    told.inks = r.inks->inks;
    told.total_ink_max_pct = r.inks->total_max_pct;
  }
  told.tells_placement = r.tell_placement;
  if (r.tell_placement) told.placement = r.placement;
  told.of_original = r.of_original;
  told.toner = r.toner;
  if (r.plate) told.plate = ToldPlate{r.page.number, r.plate->dpi, r.plate->ink_pt2, r.plate->white_pt2};
  add_findings(told, r.findings);
  told.picture_data = r.picture_data;
  told.picture_area = r.picture_area;
  told.reading_picture_data = r.reading_picture_data;
  told.reading_picture_area = r.reading_picture_area;
  return told;
}

PageSummary told_page(int number, std::vector<Finding> const& findings) {
  PageSummary told;
  told.number = number;
  told.verdict = verdict_of(findings);
  add_findings(told, findings);
  return told;
}

std::string reading_word(PageSummary const& page) { return page.reading ? std::string(word(page.reading->reading)) : std::string(); }

std::string plate_words(ToldPlate const& plate, Unit unit) {
  constexpr double kInch = 72, kCentimetre = 72 / 2.54;
  bool const inches = unit == Unit::inch || unit == Unit::point;
  double const side = inches ? kInch : kCentimetre;
  return "white plate of " + format_number(plate.white_pt2 / (side * side), 2) + (inches ? " square inches" : " square centimeters");
}

}  // namespace layright
