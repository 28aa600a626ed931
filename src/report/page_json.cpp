#include "report/page_json.h"

#include <cmath>

namespace layright {
namespace {

template <class Space>
Json rect_json(Rect<Space> const& r) {
  return Json::array({points_json(r.x0), points_json(r.y0), points_json(r.x1), points_json(r.y1)});
}

Json number_json(double v) {
  if (std::isfinite(v) && v == std::floor(v) && std::abs(v) < 1e15) return static_cast<long long>(v);
  return v;
}

Json figures_json(Figures const& figures) {
  Json object = Json::object();
  for (auto const& [name, figure] : figures)
    object[name] = std::visit(
        [](auto const& v) -> Json {
          if constexpr (std::is_same_v<std::decay_t<decltype(v)>, double>) return points_json(v);
          else return v;
        },
        figure);
  return object;
}

Json boxes_json(PageBoxes const& b) {
  return {{"media", rect_json(b.media)}, {"crop", rect_json(b.crop)}, {"bleed", rect_json(b.bleed)},
          {"trim", rect_json(b.trim)},   {"art", rect_json(b.art)}};
}

Json images_json(std::vector<ImageUse> const& images, double scale) {
  Json list = Json::array();
  for (auto const& i : images)
    list.push_back({{"where_pt", rect_json(i.where)},
                    {"ppi", Json::array({points_json(i.ppi_along / scale), points_json(i.ppi_down / scale)})},
                    {"reversed", i.reversed}});
  return list;
}

template <class A, class B>
Json matrix_json(Matrix<A, B> const& m) {
  return Json::array({number_json(m.a), number_json(m.b), number_json(m.c), number_json(m.d), number_json(m.e), number_json(m.f)});
}

Json colours_json(std::vector<ColourNote> const& colours) {
  Json list = Json::array();
  for (auto const& c : colours) {
    Json one{{"space", c.space}, {"marks", c.marks.count}};
    if (!c.inks.empty()) one["inks"] = c.inks;
    if (!c.marks.first.empty()) one["where_pt"] = rect_json(c.marks.first.front());
    list.push_back(std::move(one));
  }
  return list;
}

/// Of fonts that text shows in; one that the file names nowhere is the reader's own.
Json fonts_json(ArtNotes const& art, ArtStructure const& structure) {
  Json list = Json::array();
  for (auto const& font : art.fonts) {
    bool embedded = font.type3;
    for (auto const& entry : structure.fonts) embedded = embedded || (entry.name == font.name && entry.embedded);
    list.push_back({{"name", font.name}, {"embedded", embedded}, {"type3", font.type3}, {"letters", font.glyphs.count}});
  }
  return list;
}

Json placement_json(Placement const& p) {
  Json object{{"matrix", matrix_json(p.matrix)},
              {"scale", number_json(p.scale)},
              {"turn", degrees(p.turn)},
              {"reversed", p.reversed},
              {"ink_on_sheet_pt", nullptr}};
  if (p.correction != Matrix<SheetSpace, SheetSpace>{}) object["correction"] = matrix_json(p.correction);
  if (p.ink) object["ink_on_sheet_pt"] = rect_json(*p.ink);
  if (p.outside) object["outside_live_area"] = true;
  return object;
}

}  // namespace

Json points_json(double points) {
  double const rounded = std::round(points * 1000) / 1000;
  return number_json(rounded == 0 ? 0.0 : std::isfinite(rounded) ? rounded : points);
}

Json finding_json(Finding const& f) {
  Json object{{"check", f.check}, {"level", word(f.level)}, {"message", f.message}};
  if (f.where) object["where_pt"] = rect_json(*f.where);
  for (auto const& place : f.places) object["places_pt"].push_back(rect_json(place));
  if (!f.measured.empty()) object["measured"] = figures_json(f.measured);
  if (!f.wanted.empty()) object["wanted"] = figures_json(f.wanted);
  if (f.accepted) object["accepted"] = true;
  if (f.suppressed) object["suppressed"] = true;
  return object;
}

Json findings_json(std::vector<Finding> const& findings) {
  Json list = Json::array();
  for (auto const& f : findings) list.push_back(finding_json(f));
  return list;
}

std::pair<std::vector<Finding>, Json> told_and_suppressed(std::vector<Finding> const& findings) {
  std::vector<Finding> told;
  Json suppressed = Json::object();
  for (auto const& f : findings) {
    if (!f.suppressed) told.push_back(f);
    else suppressed[f.check] = suppressed.value(f.check, 0) + 1;
  }
  return {std::move(told), std::move(suppressed)};
}

Json page_json(PageReport const& r) {
  Page const& page = r.page;
  Json object{{"number", page.number}, {"verdict", word(r.verdict)}};
  if (page.has_boxes) {
    object["boxes"] = boxes_json(page.boxes);
    object["rotate"] = page.clockwise ? Json(degrees(*page.clockwise)) : Json(nullptr);
    object["user_unit"] = number_json(page.user_unit);
    if (page.usable && page.clockwise)
      object["seen_size_pt"] = Json::array({points_json(page.seen.width), points_json(page.seen.height)});
  }
  if (r.tell_ink && r.marks) object["ink_pt"] = r.marks->ink ? rect_json(*r.marks->ink) : Json(nullptr);
  if (r.reading) {
    object["reading"] = word(r.reading->reading);
    object["reading_from"] = r.reading->from;
    if (!r.reading->words.empty()) object["reading_words"] = r.reading->words;
    if (!r.reading_sentence.empty()) object["reading_sentence"] = r.reading_sentence;
  }
  if (r.tell_images && r.marks) object["images"] = images_json(r.marks->images, r.placement && r.placement->scale > 0 ? r.placement->scale : 1);
  if (r.inks) {
    object["inks"] = Json::array();
    for (auto const& ink : r.inks->inks) object["inks"].push_back({{"name", ink.name}, {"coverage_pct", points_json(ink.coverage_pct)}});
    object["total_ink_max_pct"] = points_json(r.inks->total_max_pct);
  }
  if (r.tell_placement) object["placement"] = r.placement ? placement_json(*r.placement) : Json(nullptr);
  if (r.tell_images && r.marks && r.marks->art) object["colours"] = colours_json(r.marks->art->colours);
  if (r.tell_images && r.marks && r.marks->art && r.structure) object["fonts"] = fonts_json(*r.marks->art, *r.structure);
  auto const [told, suppressed] = told_and_suppressed(r.findings);
  object["findings"] = findings_json(told);
  if (!suppressed.empty()) object["suppressed"] = suppressed;
  return object;
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
