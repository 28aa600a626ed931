#include "report/html_page.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "report/html_text.h"

namespace layright {
namespace {

constexpr double kThin = 9;  // points: no page is so narrow, and no line so wide that one would not say it in points

std::string number_text(double v) { return format_number(v, 3); }

/// "width_pt" and 612: "width", "8.5 in".
std::pair<std::string, std::string> figure_words(std::string name, Figure const& figure, Unit unit) {
  auto const ends = [&](std::string_view suffix) {
    if (!name.ends_with(suffix)) return false;
    name.resize(name.size() - suffix.size());
    return true;
  };
  std::string text;
  if (auto const* value = std::get_if<double>(&figure); value && std::isfinite(*value)) {
    bool const small = name == "em_pt" || name.ends_with("stroke_pt") || (name == "width_pt" && *value < kThin);
    text = number_text(*value);
    if (ends("_pt2")) text += " square pt";
    else if (ends("_pt")) text = format_length(Length::points(*value), small ? Unit::point : unit);
    else if (ends("_pct")) text += " %";
  } else if (auto const* flag = std::get_if<bool>(&figure)) {
    text = *flag ? "yes" : "no";
  } else if (auto const* words = std::get_if<std::string>(&figure)) {
    text = *words;
  }
  std::replace(name.begin(), name.end(), '_', ' ');
  return {name, text};
}

std::string figures_html(Finding const& finding, Unit unit) {
  std::string html;
  auto const row = [&](Figures const& figures, char const* label) {
    if (figures.empty()) return;
    std::string words;
    for (auto const& [name, value] : figures) {
      auto const [n, text] = figure_words(name, value, unit);
      words += (words.empty() ? "" : ", ") + n + " " + text;
    }
    html += std::string("<dt>") + label + "</dt><dd>" + html_text(words) + "</dd>";
  };
  row(finding.measured, "Measured");
  row(finding.wanted, "Wanted");
  return html.empty() ? html : "<dl>" + html + "</dl>";
}

/// A number in a shape that tells its level without its colour: hold a square, fix a disc, note a square on its corner.
std::string badge(double x, double y, double r, Level level, int number) {
  auto const n = [](double v) { return format_number(v, 2); };
  std::string shape;
  if (level == Level::hold)
    shape = "<rect class=\"badge hold\" x=\"" + n(x - r) + "\" y=\"" + n(y - r) + "\" width=\"" + n(2 * r) + "\" height=\"" + n(2 * r) + "\"/>";
  else if (level == Level::fix) shape = "<circle class=\"badge fix\" cx=\"" + n(x) + "\" cy=\"" + n(y) + "\" r=\"" + n(r) + "\"/>";
  else
    shape = "<path class=\"badge note\" d=\"M" + n(x) + " " + n(y - 1.3 * r) + "L" + n(x + 1.3 * r) + " " + n(y) + "L" + n(x) + " " + n(y + 1.3 * r) +
            "L" + n(x - 1.3 * r) + " " + n(y) + "z\"/>";
  return shape + "<text class=\"badge-number\" x=\"" + n(x) + "\" y=\"" + n(y) + "\" font-size=\"" + n(1.15 * r) + "\">" + std::to_string(number) +
         "</text>";
}

std::string figure_html(PageSummary const& page) {
  if (page.picture_data.empty() || !page.size) return {};
  auto const n = [](double v) { return format_number(v, 2); };
  double const w = page.size->width, h = page.size->height, r = std::max(w, h) / 45;
  auto const& area = page.picture_area;
  std::string svg = "<image href=\"" + html_text(page.picture_data) + "\" x=\"" + n(area.x0) + "\" y=\"" + n(h - area.y1) + "\" width=\"" +
                    n(area.width()) + "\" height=\"" + n(area.height()) + "\" preserveAspectRatio=\"none\"/>";
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
  for (auto const& f : page.findings) {
    ++number;
    auto const mark = [&](Rect<SeenSpace> const& where) {
      double const x0 = std::clamp(where.x0, 0.0, w), y0 = std::clamp(h - where.y1, 0.0, h), x1 = std::clamp(where.x1, 0.0, w),
                   y1 = std::clamp(h - where.y0, 0.0, h);
      std::string const box =
          "x=\"" + n(x0) + "\" y=\"" + n(y0) + "\" width=\"" + n(std::max(x1 - x0, 1.0)) + "\" height=\"" + n(std::max(y1 - y0, 1.0)) + "\"/>";
      svg += "<rect class=\"rim\" " + box + "<rect class=\"place " + std::string(word(f.level)) + "\" " + box;
      auto const [x, y] = free_spot(x0, y0);
      badges += badge(x, y, r, f.level, number);
      ++places;
    };
    if (f.where) mark(*f.where);
    for (auto const& where : f.places) mark(where);
  }
  std::string const page_number = std::to_string(page.number);
  return "<figure><svg viewBox=\"0 0 " + n(w) + " " + n(h) + "\" role=\"img\" aria-label=\"Page " + page_number + " with " + std::to_string(places) +
         (places == 1 ? " marked place" : " marked places") + "\">" + svg + badges + "</svg><figcaption>As it came, page " + page_number +
         "</figcaption><button type=\"button\" class=\"zoom\" aria-pressed=\"false\" hidden>Larger picture of page " + page_number +
         "</button></figure>\n";
}

/// The lines that were looked at and did not settle how the page reads: as they are and reversed, so that a person sees which it is.
std::string reading_html(PageSummary const& page) {
  if (page.reading_picture_data.empty()) return {};
  auto const n = [](double v) { return format_number(v, 2); };
  auto const& area = page.reading_picture_area;
  double const w = area.width(), h = area.height();
  std::string marks = "<image href=\"" + html_text(page.reading_picture_data) + "\" x=\"0\" y=\"0\" width=\"" + n(w) + "\" height=\"" + n(h) +
                      "\" preserveAspectRatio=\"none\"/>";
  if (page.reading && page.reading->letters != LettersSeen::not_looked)
    for (auto const& line : page.reading->lines) {
      auto const& r = line.where;
      marks += "<rect class=\"line\" x=\"" + n(r.x0 - area.x0) + "\" y=\"" + n(area.y1 - r.y1) + "\" width=\"" + n(r.width()) + "\" height=\"" +
               n(r.height()) + "\"/>";
    }
  auto const view = [&](char const* name, std::string const& inner) {
    return "<svg viewBox=\"0 0 " + n(w) + " " + n(h) + "\" role=\"img\" aria-label=\"The lines that were looked at, " + name + "\">" + inner +
           "</svg>";
  };
  return "<figure class=\"reading\">" + view("as they are", marks) +
         view("reversed", "<g transform=\"translate(" + n(w) + " 0) scale(-1 1)\">" + marks + "</g>") +
         "<figcaption>The lines that were looked at: as they are, and reversed</figcaption></figure>\n";
}

std::string facts_html(PageSummary const& page, ReportStyle const& style) {
  std::string html;
  auto const row = [&](char const* label, std::string const& text) { html += std::string("<dt>") + label + "</dt><dd>" + html_text(text) + "</dd>"; };
  if (page.size)
    row("As it came", format_size(Length::points(page.size->width), Length::points(page.size->height), style.unit) +
                          (page.reading ? ", reads " + reading_word(page) : std::string()));
  if (page.reports_placement && !page.placement) row("On the sheet", "lay would refuse it");
  if (page.placement) {
    auto const& p = *page.placement;
    std::string words = "at " + format_number(p.scale * 100, 2) + " %";
    if (p.turn != Turn::none) words += ", turned " + std::to_string(degrees(p.turn)) + " degrees";
    if (p.reversed) words += ", reversed";
    row("On the sheet", words);
  }
  if (page.plate) row("White", plate_words(*page.plate, style.unit));
  if (page.toner) row("Toner", toner_words(*page.toner) + " (an estimate)");
  if (!page.reading_sentence.empty()) row("Reading", page.reading_sentence);
  return html.empty() ? html : "<dl>" + html + "</dl>\n";
}

}  // namespace

std::string html_findings(std::vector<Finding> const& findings, ReportStyle const& style) {
  std::string html;
  int number = 1;
  for (auto const& f : findings) {
    if (f.suppressed) continue;
    std::string const level(word(f.level)), said = style.command == "lay" && f.level == Level::fix ? "mends" : level;
    html += "<li class=\"is-" + level + "\"><span class=\"word " + level + "\">" + std::to_string(number++) + ". " + said +
            (f.accepted ? " (accepted)" : "") + "</span> <code>" + html_text(f.check) + "</code><p>" + html_text(f.message) + "</p>" +
            figures_html(f, style.unit) + "</li>\n";
  }
  return html.empty() ? html : "<ol class=\"findings\" start=\"1\">\n" + html + "</ol>\n";
}

std::string html_page(PageSummary const& page, int file, ReportStyle const& style) {
  std::string const number = std::to_string(page.number), verdict(word(page.verdict)), id = "file-" + std::to_string(file) + "-page-" + number;
  auto const figure = figure_html(page);
  return "<article class=\"page" + std::string(figure.empty() ? " bare" : "") + "\" aria-labelledby=\"" + id + "\">\n" + figure + "<div>\n<h3 id=\"" +
         id + "\">Page " + number + (page.member.empty() ? std::string() : " (" + html_text(page.member) + ")") + ": <span class=\"word " + verdict +
         "\">" + verdict + "</span></h3>\n" + facts_html(page, style) + reading_html(page) + html_findings(page.findings, style) +
         "</div>\n</article>\n";
}

}  // namespace layright
