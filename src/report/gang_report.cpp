#include "report/gang_report.h"

#include <nlohmann/json.hpp>

#include "base/utf8.h"
#include "base/version.h"
#include "report/report.h"

namespace layright {
namespace {

Json rect_json(Rect<SheetSpace> const& r) { return Json::array({r.x0, r.y0, r.x1, r.y1}); }

Json copy_json(GangedCopy const& c) {
  auto const& m = c.matrix;
  return {{"path", valid_utf8(c.path)},
          {"page", c.page},
          {"sha256", c.sha256},
          {"copy", c.copy},
          {"of", c.of},
          {"sheet", c.sheet},
          {"pdf_page", c.pdf_page},
          {"label", valid_utf8(c.label)},
          {"matrix", Json::array({m.a, m.b, m.c, m.d, m.e, m.f})},
          {"cut_box_pt", rect_json(c.cut_box)}};
}

Json cut_json(StraightCut const& c) {
  return {{"sheet", c.sheet}, {"direction", c.across ? "across" : "along"}, {"at_pt", c.at}, {"from_pt", c.from}, {"to_pt", c.to}};
}

std::string counted(int n, char const* word) { return std::to_string(n) + " " + word + (n == 1 ? "" : "s"); }
std::string money(double amount) { return format_number(std::round(amount * 100) / 100, 2); }

std::string length_words(double points, Unit unit) { return format_length(Length::points(points), unit); }

/// On the printed sheet.
double from_left(GangReport const& r, double x0, double x1) { return r.mirrored_width ? *r.mirrored_width - x1 : x0; }

std::string copy_words(GangReport const& r, GangedCopy const& c, Unit unit) {
  auto const& b = c.cut_box;
  return "  " + c.label + ": " + shown_name(c.path) + (c.page > 1 ? " page " + std::to_string(c.page) : "") +
         (c.of > 1 ? ", " + std::to_string(c.copy) + " of " + std::to_string(c.of) : "") + ", " +
         format_size(Length::points(b.width()), Length::points(b.height()), unit) + ", " + length_words(from_left(r, b.x0, b.x1), unit) +
         " from the left, " + length_words(b.y0, unit) + " from the bottom\n";
}

std::string cut_words(GangReport const& r, StraightCut const& c, Unit unit) {
  double const from = c.across ? from_left(r, c.from, c.to) : c.from;
  return (c.across ? "across at " + length_words(c.at, unit) + " from the bottom"
                   : "along at " + length_words(from_left(r, c.at, c.at), unit) + " from the left") +
         ", from " + length_words(from, unit) + " to " + length_words(from + c.to - c.from, unit);
}

}  // namespace

std::string sheets_words(GangReport const& r) { return counted(r.sheets, "sheet") + "; no arrangement needs fewer than " + std::to_string(r.bound); }

std::vector<SheetCuts> cut_list(GangReport const& r, Unit unit) {
  std::vector<SheetCuts> list;
  for (auto const& cut : r.cuts) {
    if (list.empty() || list.back().sheet != cut.sheet) list.push_back({cut.sheet, {}});
    list.back().lines.push_back(cut_words(r, cut, unit));
  }
  return list;
}

std::string gang_manifest(GangReport const& r) {
  Json json;
  json["layright"] = program_version();
  json["verdict"] = r.held.empty() ? "ready" : "hold";
  json["sheets"] = r.sheets;
  json["bound"] = r.bound;
  json["sheets_alone"] = r.alone;
  json["used_pct"] = std::round(r.used_pct * 10) / 10;
  if (r.sheet_price) json["film_cost"] = {{"cost", *r.sheet_price * r.sheets}, {"alone", *r.sheet_price * r.alone}, {"currency", r.currency}};
  json["output"] = r.output.empty() ? Json() : Json(valid_utf8(r.output));
  if (!r.plate_output.empty()) json["plate_output"] = valid_utf8(r.plate_output);
  if (!r.held.empty()) json["held"] = valid_utf8(r.held);
  json["pieces"] = Json::array();
  for (auto const& c : r.copies) json["pieces"].push_back(copy_json(c));
  json["cuts"] = Json::array();
  for (auto const& c : r.cuts) json["cuts"].push_back(cut_json(c));
  return json.dump(1) + "\n";
}

std::string gang_text(GangReport const& r, Unit unit, bool verbose) {
  std::string text = sheets_words(r) + "\n";
  text += "film: " + counted(r.sheets, "sheet") + " in place of " + std::to_string(r.alone) + " with one piece a sheet, " +
          format_number(r.used_pct, 0) + "% of it used\n";
  if (r.sheet_price)
    text += "cost of film: " + money(*r.sheet_price * r.sheets) + " " + r.currency + " in place of " + money(*r.sheet_price * r.alone) + " " +
            r.currency + "\n";
  if (r.labels_left_out > 0) text += counted(r.labels_left_out, "label") + " left out: no room in the gap\n";
  auto const cuts = verbose ? cut_list(r, unit) : std::vector<SheetCuts>();
  for (int sheet = 1; verbose && sheet <= r.sheets; ++sheet) {
    text += "sheet " + std::to_string(sheet) + "\n";
    for (auto const& c : r.copies)
      if (c.sheet == sheet) text += copy_words(r, c, unit);
    int number = 0;
    for (auto const& part : cuts)
      if (part.sheet == sheet)
        for (auto const& line : part.lines) text += "  cut " + std::to_string(++number) + ": " + line + "\n";
  }
  if (!r.output.empty()) text += "written: " + shown_name(r.output) + (r.plate_output.empty() ? "" : " and " + shown_name(r.plate_output)) + "\n";
  return text;
}

}  // namespace layright
