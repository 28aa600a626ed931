#include "report/page_json.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

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
    char before = '[';
    for (double const value : values) {
      text_ += before;
      add(value);
      before = ',';
    }
    text_ += ']';
  }
  template <class Space>
  void rect(std::string_view key, Rect<Space> const& r) {
    numbers(key, {in_thousandths(r.x0), in_thousandths(r.y0), in_thousandths(r.x1), in_thousandths(r.y1)});
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

std::string placement_text(Placement const& p) {
  ObjectText object;
  object.matrix("matrix", p.matrix);
  object.number("scale", p.scale);
  object.number("turn", degrees(p.turn));
  object.flag("reversed", p.reversed);
  if (p.correction != Matrix<SheetSpace, SheetSpace>{}) object.matrix("correction", p.correction);
  if (p.ink) object.rect("ink_on_sheet_pt", *p.ink);
  else object.put("ink_on_sheet_pt", "null");
  if (p.outside) object.flag("outside_live_area", true);
  return std::move(object).finish();
}

}  // namespace

Json points_json(double points) { return number_json(in_thousandths(points)); }

std::string findings_text(std::vector<Finding> const& findings) {
  std::string list = "[";
  for (auto const& f : findings) {
    ObjectText object;
    object.words("check", f.check);
    object.words("level", word(f.level));
    object.words("message", f.message);
    if (f.where) object.rect("where_pt", *f.where);
    object.figures("measured", f.measured);
    object.figures("wanted", f.wanted);
    if (f.accepted) object.flag("accepted", true);
    list += (list.size() > 1 ? "," : "") + std::move(object).finish();
  }
  return list + "]";
}

std::string page_text(PageReport const& r) {
  Page const& page = r.page;
  ObjectText object;
  object.number("number", page.number);
  object.words("verdict", word(r.verdict));
  if (page.has_boxes) {
    object.put("boxes", boxes_text(page.boxes));
    if (page.clockwise) object.number("rotate", degrees(*page.clockwise));
    else object.put("rotate", "null");
    object.number("user_unit", page.user_unit);
    if (page.usable && page.clockwise) object.numbers("seen_size_pt", {in_thousandths(page.seen.width), in_thousandths(page.seen.height)});
  }
  if (r.tell_ink && r.marks) {
    if (r.marks->ink) object.rect("ink_pt", *r.marks->ink);
    else object.put("ink_pt", "null");
  }
  if (r.reading) {
    object.words("reading", word(r.reading->reading));
    object.words("reading_from", r.reading->from);
    if (!r.reading->words.empty()) object.put("reading_words", json_text(r.reading->words));
    if (!r.reading_sentence.empty()) object.words("reading_sentence", r.reading_sentence);
  }
  if (r.tell_images && r.marks) object.put("images", images_text(r.marks->images, r.placement ? r.placement->scale : 1));
  if (r.tell_placement) object.put("placement", r.placement ? placement_text(*r.placement) : "null");
  object.put("findings", findings_text(r.findings));
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
  object["margin_pt"] = Json::array({points_json(m.left.in_points()), points_json(m.bottom.in_points()),
                                     points_json(m.right.in_points()), points_json(m.top.in_points())});
  object["reading"] = word(t.reading);
  object["reverse_at"] = word(t.reverse_at);
  object["white_prints"] = t.white_prints();
  return object;
}

std::string json_text(Json const& value) { return value.dump(-1, ' ', false, Json::error_handler_t::replace); }

}  // namespace layright
