#include "report/html_page.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "report/html_text.h"

namespace layright {
namespace {

constexpr double kThin = 9;  // points: no page is so narrow, and no line so wide that one would not say it in points

std::string number_text(double v) { return format_number(v, 3); }

/// "width_pt" and 612: "width", "8.5 in".
std::pair<std::string, std::string> figure_words(std::string name, Json const& value, Unit unit) {
  std::string text = value.is_string() ? value.get<std::string>() : value.is_boolean() ? (value.get<bool>() ? "yes" : "no") : value.is_number() ? number_text(value.get<double>()) : "";
  auto const ends = [&](std::string_view suffix) {
    if (!name.ends_with(suffix)) return false;
    name.resize(name.size() - suffix.size());
    return true;
  };
  bool const thin = name == "width_pt" && value.is_number() && value.get<double>() < kThin;
  bool const small = name == "em_pt" || name.ends_with("stroke_pt") || thin;
  if (value.is_number() && ends("_pt2")) text += " square pt";
  else if (value.is_number() && ends("_pt")) text = format_length(Length::points(value.get<double>()), small ? Unit::point : unit);
  else if (value.is_number() && ends("_pct")) text += " %";
  std::replace(name.begin(), name.end(), '_', ' ');
  return {name, text};
}

std::string figures_html(Json const& finding, Unit unit) {
  std::string html;
  auto const row = [&](char const* key, char const* label) {
    auto const found = finding.find(key);
    if (found == finding.end()) return;
    std::string words;
    for (auto const& [name, value] : found->items()) {
      auto const [n, text] = figure_words(name, value, unit);
      words += (words.empty() ? "" : ", ") + n + " " + text;
    }
    html += std::string("<dt>") + label + "</dt><dd>" + html_text(words) + "</dd>";
  };
  row("measured", "Measured");
  row("wanted", "Wanted");
  return html.empty() ? html : "<dl>" + html + "</dl>";
}

double at(Json const& list, std::size_t i) { return list.at(i).get<double>(); }

/// A number in a shape that tells its level without its colour: hold a square, fix a disc, note a square on its corner.
std::string badge(double x, double y, double r, std::string const& level, int number) {
  auto const n = [](double v) { return format_number(v, 2); };
  std::string shape;
  if (level == "hold") shape = "<rect class=\"badge hold\" x=\"" + n(x - r) + "\" y=\"" + n(y - r) + "\" width=\"" + n(2 * r) + "\" height=\"" + n(2 * r) + "\"/>";
  else if (level == "fix") shape = "<circle class=\"badge fix\" cx=\"" + n(x) + "\" cy=\"" + n(y) + "\" r=\"" + n(r) + "\"/>";
  else shape = "<path class=\"badge note\" d=\"M" + n(x) + " " + n(y - 1.3 * r) + "L" + n(x + 1.3 * r) + " " + n(y) + "L" + n(x) + " " + n(y + 1.3 * r) + "L" + n(x - 1.3 * r) + " " + n(y) + "z\"/>";
  return shape + "<text class=\"badge-number\" x=\"" + n(x) + "\" y=\"" + n(y) + "\" font-size=\"" + n(1.15 * r) + "\">" + std::to_string(number) + "</text>";
}

std::string figure_html(Json const& page, int number_of_page) {
  auto const picture = page.find("picture");
  auto const size = page.find("seen_size_pt");
  if (picture == page.end() || size == page.end()) return {};
  auto const n = [](double v) { return format_number(v, 2); };
  double const w = at(*size, 0), h = at(*size, 1), r = std::max(w, h) / 45;
  auto const& area = picture->at("area");
  std::string svg = "<image href=\"" + html_text(picture->at("data").get<std::string>()) + "\" x=\"" + n(at(area, 0)) + "\" y=\"" + n(h - at(area, 3)) + "\" width=\"" +
                    n(at(area, 2) - at(area, 0)) + "\" height=\"" + n(at(area, 3) - at(area, 1)) + "\" preserveAspectRatio=\"none\"/>";
  std::string badges;
  std::vector<std::pair<double, double>> taken;
  // Beside one that is there already, so that each number can be read.
  auto const free_spot = [&](double x, double y) {
    x = std::clamp(x, 1.3 * r, std::max(1.3 * r, w - 1.3 * r));
    y = std::clamp(y, 1.3 * r, std::max(1.3 * r, h - 1.3 * r));
    auto const meets = [&](auto const& t) { return std::abs(t.first - x) < 2 * r && std::abs(t.second - y) < 2 * r; };
    while (x + 2.7 * r < w && std::any_of(taken.begin(), taken.end(), meets)) x += 2.7 * r;
    taken.emplace_back(x, y);
    return taken.back();
  };
  int number = 0, places = 0;
  for (auto const& f : page.at("findings")) {
    ++number;
    std::string const level = f.value("level", "note");
    auto const mark = [&](Json const& where) {
      double const x0 = std::clamp(at(where, 0), 0.0, w), y0 = std::clamp(h - at(where, 3), 0.0, h), x1 = std::clamp(at(where, 2), 0.0, w), y1 = std::clamp(h - at(where, 1), 0.0, h);
      std::string const box = "x=\"" + n(x0) + "\" y=\"" + n(y0) + "\" width=\"" + n(std::max(x1 - x0, 1.0)) + "\" height=\"" + n(std::max(y1 - y0, 1.0)) + "\"/>";
      svg += "<rect class=\"rim\" " + box + "<rect class=\"place " + html_text(level) + "\" " + box;
      auto const [x, y] = free_spot(x0, y0);
      badges += badge(x, y, r, level, number);
      ++places;
    };
    if (f.contains("where_pt")) mark(f["where_pt"]);
    if (f.contains("places_pt"))
      for (auto const& where : f["places_pt"]) mark(where);
  }
  return "<figure><svg viewBox=\"0 0 " + n(w) + " " + n(h) + "\" role=\"img\" aria-label=\"Page " + std::to_string(number_of_page) + " with " + std::to_string(places) +
         (places == 1 ? " marked place" : " marked places") + "\">" + svg + badges + "</svg><figcaption>As it came, page " + std::to_string(number_of_page) +
         "</figcaption><button type=\"button\" class=\"zoom\" aria-pressed=\"false\" hidden>Larger picture of page " + std::to_string(number_of_page) + "</button></figure>\n";
}

/// The lines that were looked at and did not settle how the page reads: as they are and reversed, so that a person sees which it is.
std::string reading_html(Json const& page) {
  auto const picture = page.find("reading_picture");
  if (picture == page.end()) return {};
  auto const n = [](double v) { return format_number(v, 2); };
  auto const& area = picture->at("area");
  double const w = at(area, 2) - at(area, 0), h = at(area, 3) - at(area, 1);
  std::string marks = "<image href=\"" + html_text(picture->at("data").get<std::string>()) + "\" x=\"0\" y=\"0\" width=\"" + n(w) + "\" height=\"" + n(h) + "\" preserveAspectRatio=\"none\"/>";
  if (auto const evidence = page.find("reading_evidence"); evidence != page.end() && evidence->contains("letters"))
    for (auto const& line : evidence->at("letters").at("lines")) {
      auto const& r = line.at("where_pt");
      marks += "<rect class=\"line\" x=\"" + n(at(r, 0) - at(area, 0)) + "\" y=\"" + n(at(area, 3) - at(r, 3)) + "\" width=\"" + n(at(r, 2) - at(r, 0)) + "\" height=\"" + n(at(r, 3) - at(r, 1)) + "\"/>";
    }
  auto const view = [&](char const* name, std::string const& inner) {
    return "<svg viewBox=\"0 0 " + n(w) + " " + n(h) + "\" role=\"img\" aria-label=\"The lines that were looked at, " + name + "\">" + inner + "</svg>";
  };
  return "<figure class=\"reading\">" + view("as they are", marks) + view("reversed", "<g transform=\"translate(" + n(w) + " 0) scale(-1 1)\">" + marks + "</g>") +
         "<figcaption>The lines that were looked at: as they are, and reversed</figcaption></figure>\n";
}

std::string facts_html(Json const& page, ReportStyle const& style) {
  std::string html;
  auto const row = [&](char const* label, std::string const& text) { html += std::string("<dt>") + label + "</dt><dd>" + html_text(text) + "</dd>"; };
  if (auto const size = page.find("seen_size_pt"); size != page.end())
    row("As it came", format_size(Length::points(at(*size, 0)), Length::points(at(*size, 1)), style.unit) +
                          (page.contains("reading") ? ", reads " + page.value("reading", "") : std::string()));
  if (page.contains("placement")) {
    auto const& p = page["placement"];
    if (p.is_null()) row("On the sheet", "lay would refuse it");
    else {
      std::string words = "at " + format_number(p.value("scale", 1.0) * 100, 2) + " %";
      if (int const turn = p.value("turn", 0)) words += ", turned " + std::to_string(turn) + " degrees";
      if (p.value("reversed", false)) words += ", reversed";
      row("On the sheet", words);
    }
  }
  if (auto const toner = page.find("toner"); toner != page.end()) row("Toner", toner->value("words", "") + " (an estimate)");
  if (page.contains("reading_sentence")) row("Reading", page.value("reading_sentence", ""));
  return html.empty() ? html : "<dl>" + html + "</dl>\n";
}

}  // namespace

std::string html_findings(Json const& findings, int first, ReportStyle const& style) {
  if (findings.empty()) return {};
  std::string html = "<ol class=\"findings\" start=\"" + std::to_string(first) + "\">\n";
  int number = first;
  for (auto const& f : findings) {
    std::string const level = f.value("level", "note");
    std::string const said = style.command == "lay" && level == "fix" ? "mends" : level;
    html += "<li class=\"is-" + html_text(level) + "\"><span class=\"word " + html_text(level) + "\">" + std::to_string(number++) + ". " + html_text(said) +
            (f.value("accepted", false) ? " (accepted)" : "") + "</span> <code>" + html_text(f.value("check", "")) + "</code><p>" + html_text(f.value("message", "")) + "</p>" +
            figures_html(f, style.unit) + "</li>\n";
  }
  return html + "</ol>\n";
}

std::string html_page(Json const& page, int file, ReportStyle const& style) {
  int const number = page.value("number", 0);
  std::string const verdict = page.value("verdict", "hold"), id = "file-" + std::to_string(file) + "-page-" + std::to_string(number);
  auto const figure = figure_html(page, number);
  return "<article class=\"page" + std::string(figure.empty() ? " bare" : "") + "\" aria-labelledby=\"" + id + "\">\n" + figure + "<div>\n<h3 id=\"" + id + "\">Page " +
         std::to_string(number) + (page.contains("member") ? " (" + html_text(page.value("member", "")) + ")" : std::string()) + ": <span class=\"word " + html_text(verdict) + "\">" + html_text(verdict) + "</span></h3>\n" + facts_html(page, style) +
         reading_html(page) + html_findings(page.at("findings"), 1, style) + "</div>\n</article>\n";
}

}  // namespace layright
