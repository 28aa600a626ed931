#include "report/page_json.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <utility>

#include "report/json_turns.h"

namespace layright {
namespace {

Json number_json(double v) {
  if (std::isfinite(v) && v == std::floor(v) && std::abs(v) < 1e15) return static_cast<long long>(v);
  return v;
}

double in_thousandths(double points) {
  double const rounded = std::round(points * 1000) / 1000;
  return rounded == 0 ? 0.0 : std::isfinite(rounded) ? rounded : points;
}

double in_millionths(double money) { return std::round(money * 1e6) / 1e6; }

/// A string as JSON has it. Most need no escapes.
std::string quoted(std::string_view text) {
  auto const plain = [](char c) { return c >= ' ' && c < 0x7F && c != '"' && c != '\\'; };
  if (!std::all_of(text.begin(), text.end(), plain)) return json_text(std::string(text));
  return '"' + std::string(text) + '"';
}

/// The text of an object, member by member: there is one for every page, and building it as a value first takes three times as long.
class ObjectText {
 public:
  void put(std::string_view key, std::string_view json) {
    text_ += text_.empty() ? '{' : ',';
    text_ += quoted(key);
    text_ += ':';
    text_ += json;
  }
  void words(std::string_view key, std::string_view text) { put(key, quoted(text)); }
  void number(std::string_view key, double value) {
    put(key, "");
    add(value);
  }
  void numbers(std::string_view key, std::initializer_list<double> values) {
    put(key, "");
    add(values);
  }
  template <class Space>
  void rect(std::string_view key, Rect<Space> const& r) {
    numbers(key, {in_thousandths(r.x0), in_thousandths(r.y0), in_thousandths(r.x1), in_thousandths(r.y1)});
  }
  template <class Space>
  void rects(std::string_view key, std::vector<Rect<Space>> const& list) {
    put(key, "");
    for (char before = '['; auto const& r : list) {
      text_ += std::exchange(before, ',');
      add({in_thousandths(r.x0), in_thousandths(r.y0), in_thousandths(r.x1), in_thousandths(r.y1)});
    }
    text_ += list.empty() ? "[]" : "]";
  }
  template <class A, class B>
  void matrix(std::string_view key, Matrix<A, B> const& m) {
    numbers(key, {m.a, m.b, m.c, m.d, m.e, m.f});
  }
  void figures(std::string_view key, Figures const& figures) {
    if (figures.empty()) return;
    ObjectText object;
    for (auto const& [name, figure] : figures) {
      if (auto const* number = std::get_if<double>(&figure)) object.number(name, in_thousandths(*number));
      else if (auto const* flag = std::get_if<bool>(&figure)) object.flag(name, *flag);
      else object.words(name, std::get<std::string>(figure));
    }
    put(key, std::move(object).finish());
  }
  void flag(std::string_view key, bool value) { put(key, value ? "true" : "false"); }
  std::string finish() && {
    text_ += text_.empty() ? "{}" : "}";
    return std::move(text_);
  }

 private:
  void add(double value) {
    std::array<char, 32> digits;  // the shortest that reads back as the same takes 24 at most
    auto const end = std::to_chars(digits.data(), digits.data() + digits.size(), value == 0 ? 0.0 : value);  // no "-0"
    text_.append(std::isfinite(value) ? std::string_view(digits.data(), static_cast<std::size_t>(end.ptr - digits.data())) : "null");
  }
  void add(std::initializer_list<double> values) {
    for (char before = '['; double const value : values) {
      text_ += std::exchange(before, ',');
      add(value);
    }
    text_ += ']';
  }
  std::string text_;
};

std::string boxes_text(PageBoxes const& b) {
  ObjectText object;
  object.rect("media", b.media);
  object.rect("crop", b.crop);
  object.rect("bleed", b.bleed);
  object.rect("trim", b.trim);
  object.rect("art", b.art);
  return std::move(object).finish();
}

/// `scale`: what the placement makes of what is seen; larger pictures have fewer pixels to the inch.
std::string images_text(std::vector<ImageUse> const& images, double scale) {
  std::string list = "[";
  for (auto const& i : images) {
    ObjectText object;
    object.rect("where_pt", i.where);
    object.numbers("ppi", {in_thousandths(i.ppi_along / scale), in_thousandths(i.ppi_down / scale)});
    object.flag("reversed", i.reversed);
    list += (list.size() > 1 ? "," : "") + std::move(object).finish();
  }
  return list + "]";
}

std::string placement_text(Placement const& p, std::optional<double> of_original) {
  ObjectText object;
  object.matrix("matrix", p.matrix);
  object.number("scale", p.scale);
  if (of_original) object.number("scale_of_original", *of_original);
  object.number("turn", degrees(p.turn));
  if (p.reversed_later) {
    object.flag("reversed_later", true);
    object.number("printed_turn", degrees(turn_seen(p.turn, true)));
  }
  object.flag("reversed", p.reversed);
  if (p.correction != Matrix<SheetSpace, SheetSpace>{}) object.matrix("correction", p.correction);
  if (p.ink) object.rect("ink_on_sheet_pt", *p.ink);
  else object.put("ink_on_sheet_pt", "null");
  if (p.outside) object.flag("outside_live_area", true);
  return std::move(object).finish();
}

std::string colours_text(std::vector<ColourSummary> const& colours) {
  std::string list = "[";
  for (auto const& c : colours) {
    ObjectText object;
    object.words("space", c.space);
    object.number("marks", static_cast<double>(c.marks));
    if (!c.inks.empty()) object.put("inks", json_text(c.inks));
    if (c.where) object.rect("where_pt", *c.where);
    list += (list.size() > 1 ? "," : "") + std::move(object).finish();
  }
  return list + "]";
}

std::string fonts_text(std::vector<FontSummary> const& fonts) {
  std::string list = "[";
  for (auto const& font : fonts) {
    ObjectText object;
    object.words("name", font.name);
    object.flag("embedded", font.embedded);
    object.flag("type3", font.type3);
    object.number("letters", static_cast<double>(font.letters));
    list += (list.size() > 1 ? "," : "") + std::move(object).finish();
  }
  return list + "]";
}

/// What speaks for either reading; empty where nothing was looked at but a record or a person's word.
std::string evidence_text(PageReading const& r) {
  ObjectText object;
  bool any = false;
  if (r.text_right + r.text_wrong > 0) {
    ObjectText text;
    text.number("right", static_cast<double>(r.text_right));
    text.number("wrong", static_cast<double>(r.text_wrong));
    object.put("text", std::move(text).finish());
    any = true;
  }
  if (r.layer != Reading::unknown) {
    object.words("layer", word(r.layer));
    any = true;
  }
  if (r.letters != LettersSeen::not_looked) {
    std::string lines = "[";
    for (auto const& l : r.lines) {
      auto const side = [](std::vector<std::string> const& words, double doubt) {
        ObjectText o;
        o.put("words", json_text(words));
        o.number("doubt", in_thousandths(doubt));
        return std::move(o).finish();
      };
      ObjectText line;
      line.rect("where_pt", l.where);
      line.put("right", side(l.words_right, l.doubt_right));
      line.put("wrong", side(l.words_wrong, l.doubt_wrong));
      line.number("evidence", in_thousandths(l.evidence));
      lines += (lines.size() > 1 ? "," : "") + std::move(line).finish();
    }
    ObjectText letters;
    letters.words("reading", word(r.by_letters));
    letters.number("unread_pt2", in_thousandths(r.letters_unread));
    letters.put("lines", lines + "]");
    object.put("letters", std::move(letters).finish());
    any = true;
  }
  return any ? std::move(object).finish() : std::string();
}

std::string inks_text(std::vector<InkCoverage> const& inks) {
  std::string list = "[";
  for (auto const& ink : inks) {
    ObjectText object;
    object.words("name", ink.name);
    object.number("coverage_pct", in_thousandths(ink.coverage_pct));
    list += (list.size() > 1 ? "," : "") + std::move(object).finish();
  }
  return list + "]";
}

std::string toner_text(TonerCost const& toner) {
  std::string list = "[";
  for (auto const& use : toner.inks) {
    ObjectText object;
    object.words("name", use.ink);
    object.number("coverage_pct", in_thousandths(use.coverage_pct));
    if (use.cost) object.number("cost", in_millionths(*use.cost));
    list += (list.size() > 1 ? "," : "") + std::move(object).finish();
  }
  ObjectText object;
  object.number("cost", in_millionths(toner.cost));
  if (!toner.currency.empty()) object.words("currency", toner.currency);
  object.put("inks", list + "]");
  object.words("words", toner_words(toner));
  return std::move(object).finish();
}

std::string plate_text(PlateSummary const& plate, bool with_page) {
  ObjectText object;
  if (with_page) object.number("page", plate.page);
  object.number("dpi", in_thousandths(plate.dpi));
  object.number("white_pt2", in_thousandths(plate.white_pt2));
  object.number("ink_pt2", in_thousandths(plate.ink_pt2));
  return std::move(object).finish();
}

std::string finding_text(Finding const& f) {
  ObjectText object;
  object.words("check", f.check);
  object.words("level", word(f.level));
  object.words("message", f.message);
  if (f.where) object.rect("where_pt", *f.where);
  if (!f.places.empty()) object.rects("places_pt", f.places);
  object.figures("measured", f.measured);
  object.figures("wanted", f.wanted);
  if (f.accepted) object.flag("accepted", true);
  if (f.suppressed) object.flag("suppressed", true);
  return std::move(object).finish();
}

std::string counts_text(std::map<std::string, int> const& counts) {
  ObjectText object;
  for (auto const& [check, count] : counts) object.number(check, count);
  return std::move(object).finish();
}

std::string picture_text(Rect<SeenSpace> const& area, std::string const& data) {
  ObjectText picture;
  picture.rect("area", area);
  picture.words("data", data);
  return std::move(picture).finish();
}

}  // namespace

Json points_json(double points) { return number_json(in_thousandths(points)); }

std::string_view word(LettersSeen seen) {
  switch (seen) {
    case LettersSeen::not_looked: break;
    case LettersSeen::none: return "none";
    case LettersSeen::not_understood: return "not understood";
    case LettersSeen::read: return "read";
  }
  return {};
}

Json finding_json(Finding const& finding) { return Json::parse(finding_text(finding)); }

std::string reported_text(std::vector<Finding> const& findings) {
  std::string list = "[";
  for (auto const& f : findings)
    if (!f.suppressed) list += (list.size() > 1 ? "," : "") + finding_text(f);
  return list + "]";
}

std::string suppressed_text(std::vector<Finding> const& findings) {
  std::map<std::string, int> counts;
  for (auto const& f : findings)
    if (f.suppressed) ++counts[f.check];
  return counts.empty() ? std::string() : counts_text(counts);
}

std::string page_text(PageSummary const& page) {
  ObjectText object;
  if (!page.member.empty()) object.words("member", page.member);
  object.number("number", page.number);
  object.words("verdict", word(page.verdict));
  if (page.boxes) {
    object.put("boxes", boxes_text(*page.boxes));
    if (page.clockwise) object.number("rotate", degrees(*page.clockwise));
    else object.put("rotate", "null");
    object.number("user_unit", page.user_unit);
    if (page.size) object.numbers("seen_size_pt", {in_thousandths(page.size->width), in_thousandths(page.size->height)});
  }
  if (page.reports_ink) {
    if (page.ink) object.rect("ink_pt", *page.ink);
    else object.put("ink_pt", "null");
    if (!page.ink_known) object.put("ink_known", "false");
  }
  if (page.reading) {
    object.words("reading", word(page.reading->reading));
    object.words("reading_from", page.reading->from);
    if (!page.reading->words.empty()) object.put("reading_words", json_text(page.reading->words));
    if (!page.reading_sentence.empty()) object.words("reading_sentence", page.reading_sentence);
    if (auto const seen = word(page.reading->letters); !seen.empty()) object.words("reading_letters", seen);
    if (auto const evidence = evidence_text(*page.reading); !evidence.empty()) object.put("reading_evidence", evidence);
  }
  if (page.images) object.put("images", images_text(*page.images, page.placement ? page.placement->scale : 1));
  if (page.inks) {
    object.put("inks", inks_text(*page.inks));
    object.number("total_ink_max_pct", in_thousandths(page.total_ink_max_pct));
  }
  if (page.reports_placement) object.put("placement", page.placement ? placement_text(*page.placement, page.of_original) : "null");
  if (page.toner) object.put("toner", toner_text(*page.toner));
  if (page.is_plate) object.flag("is_plate", true);
  if (page.plate) object.put("plate", plate_text(*page.plate, false));
  if (page.colours) object.put("colours", colours_text(*page.colours));
  if (page.fonts) object.put("fonts", fonts_text(*page.fonts));
  object.put("findings", reported_text(page.findings));
  if (!page.suppressed.empty()) object.put("suppressed", counts_text(page.suppressed));
  if (!page.picture_data.empty()) object.put("picture", picture_text(page.picture_area, page.picture_data));
  if (!page.reading_picture_data.empty()) object.put("reading_picture", picture_text(page.reading_picture_area, page.reading_picture_data));
  return std::move(object).finish();
}

Json target_json(Target const& t) {
  auto const& m = t.sheet.margins;
  Json object;
  if (!t.name.empty()) object["name"] = t.name;
  object["sheet"] = {{"name", t.sheet.name},
                     {"width_pt", points_json(t.sheet.width.in_points())},
                     {"length_pt", points_json(t.sheet.length.in_points())},
                     {"feed", word(t.sheet.feed)}};
  object["margin_pt"] = Json::array(
      {points_json(m.left.in_points()), points_json(m.bottom.in_points()), points_json(m.right.in_points()), points_json(m.top.in_points())});
  object["reading"] = word(t.reading);
  object["reverse_at"] = word(t.reverse_at);
  object["white_prints"] = t.white_prints();
  return object;
}

std::string json_text(Json const& value) { return with_turns_escaped(value.dump(-1, ' ', false, Json::error_handler_t::replace)); }

std::string plates_text(std::vector<PlateSummary> const& plates) {
  std::string list = "[";
  for (auto const& plate : plates) list += (list.size() > 1 ? ", " : "") + plate_text(plate, true);
  return list + "]";
}

}  // namespace layright
