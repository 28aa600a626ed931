#include "report/html_page.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "report/html_text.h"
#include "report/short_words.h"
#include "report/side_labels.h"

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
      auto const* const number = std::get_if<double>(&value);
      if (number && *number == 0 && name.starts_with("ppi")) continue;  // it says none
      auto const [n, text] = figure_words(name, value, unit);
      words += (words.empty() ? "" : ", ") + n + " " + text;
    }
    if (!words.empty()) html += std::string("<dt>") + label + "</dt><dd>" + html_text(words) + "</dd>";
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

std::string n2(double v) { return format_number(v, 2); }

std::string svg_line(char const* kind, SideLabel::Line const& l) {
  return std::string("<path class=\"") + kind + "\" d=\"M" + n2(l.x0) + " " + n2(l.y0) + "L" + n2(l.x1) + " " + n2(l.y1) + "\"/>";
}

/// The page with the places of its findings; their numbers stand beside it, so that they cover no letter of the art.
std::string figure_html(PageSummary const& page, std::vector<Finding> const& findings) {
  if (page.picture_data.empty() || !page.size) return {};
  double const w = page.size->width, h = page.size->height, r = std::max(w, h) / 45, gap = 0.6 * r, side = 2.7 * r, margin = side + 2 * gap;
  double const pad = 0.35 * r;  // the frame stands off, so that its rim cuts no letter of what it is about
  auto const& area = page.picture_area;
  std::string svg = "<image href=\"" + html_text(page.picture_data) + "\" x=\"" + n2(area.x0) + "\" y=\"" + n2(h - area.y1) + "\" width=\"" +
                    n2(area.width()) + "\" height=\"" + n2(area.height()) + "\" preserveAspectRatio=\"none\"/><rect class=\"edge\" width=\"" + n2(w) +
                    "\" height=\"" + n2(h) + "\"/>";
  std::vector<std::vector<DrawnRect>> places;
  std::size_t count = 0;
  for (auto const& f : findings) {
    auto& own = places.emplace_back();
    auto const mark = [&](Rect<SeenSpace> const& where) {
      auto const x = [&](double v) { return std::clamp(v, 0.0, w); };
      auto const y = [&](double v) { return std::clamp(v, 0.0, h); };
      DrawnRect const p{x(where.x0 - pad), y(h - where.y1 - pad), x(where.x1 + pad), y(h - where.y0 + pad)};
      std::string const box = "x=\"" + n2(p.x0) + "\" y=\"" + n2(p.y0) + "\" width=\"" + n2(std::max(p.x1 - p.x0, 1.0)) + "\" height=\"" +
                              n2(std::max(p.y1 - p.y0, 1.0)) + "\"/>";
      svg += "<rect class=\"rim\" " + box + "<rect class=\"place " + std::string(word(f.level)) + "\" " + box;
      own.push_back(p);
      ++count;
    };
    if (f.where) mark(*f.where);
    for (auto const& where : f.places) mark(where);
  }
  std::string lines, badges;
  double beside = count == 0 ? 0 : margin;
  for (auto const& label : side_labels({0, 0, w, h}, gap, side, places)) {
    auto const level = findings[label.finding].level;
    for (auto const& l : label.lines) lines += svg_line("rim", l) + svg_line(("lead " + std::string(word(level))).c_str(), l);
    double const x = (label.box.x0 + label.box.x1) / 2, y = (label.box.y0 + label.box.y1) / 2;
    badges += badge(x, y, r, level, static_cast<int>(label.finding) + 1);
    if (label.count <= label.lines.size()) continue;  // it stands for more places than lines go to: it says how many
    beside = margin + 2 * r;
    badges += "<text class=\"many\" text-anchor=\"" + std::string(label.right ? "start" : "end") + "\" x=\"" +
              n2(x + (label.right ? 1.5 : -1.5) * r) + "\" y=\"" + n2(y + 0.36 * r) + "\" font-size=\"" + n2(r) + "\">x" +
              std::to_string(label.count) + "</text>";
  }
  std::string const page_number = std::to_string(page.number);
  return "<figure><svg viewBox=\"" + n2(-beside) + " 0 " + n2(w + 2 * beside) + " " + n2(h) + "\" role=\"img\" aria-label=\"Page " + page_number +
         " with " + std::to_string(count) + (count == 1 ? " marked place" : " marked places") + "\">" + svg + lines + badges +
         "</svg><figcaption>As it came, page " + page_number +
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
         view("mirrored", "<g transform=\"translate(" + n(w) + " 0) scale(-1 1)\">" + marks + "</g>") +
         "<figcaption>The lines that were looked at: as they are, and mirrored</figcaption></figure>\n";
}

std::string plain_reading(Reading reading) {
  switch (reading) {
    case Reading::right: return "right";
    case Reading::wrong: return "mirrored";
    case Reading::mixed: return "both ways";
    case Reading::unknown: break;
  }
  return "unknown";
}

std::string facts_html(PageSummary const& page, ReportStyle const& style) {
  std::string html;
  auto const row = [&](char const* label, std::string const& text) { html += std::string("<dt>") + label + "</dt><dd>" + html_text(text) + "</dd>"; };
  if (page.size)
    row("As it came", format_size(Length::points(page.size->width), Length::points(page.size->height), style.unit) +
                          (page.reading ? ", reads " + plain_reading(page.reading->reading) : std::string()));
  if (page.reports_placement && !page.placement) row("On the sheet", "not laid while a hold is open");
  if (page.placement) {
    auto const& p = *page.placement;
    std::string words = "at " + format_number(p.scale * 100, 2) + " %";
    if (p.turn != Turn::none) words += ", turned " + std::to_string(degrees(p.turn)) + " degrees";
    if (p.reversed) words += ", mirrored";
    row("On the sheet", words);
  }
  if (page.plate) row("White", plate_words(*page.plate, style.unit));
  if (page.toner) row("Toner", toner_words(*page.toner) + " (an estimate)");
  if (!page.reading_sentence.empty())
    html += "<dt>Reading</dt><dd><details><summary>More</summary><p>" + html_text(page.reading_sentence) + "</p></details></dd>";
  return html.empty() ? html : "<dl>" + html + "</dl>\n";
}

/// In a few words; all that is known, and the figures, for who asks.
std::string words_html(Finding const& finding, Unit unit) {
  auto const few = short_words(finding, unit);
  auto const more = (few == finding.message ? std::string() : "<p>" + html_text(finding.message) + "</p>") + figures_html(finding, unit);
  return "<p>" + html_text(few) + "</p>" + (more.empty() ? std::string() : "<details><summary>More</summary>" + more + "</details>");
}

}  // namespace

std::string html_findings(std::vector<Finding> const& findings, ReportStyle const& style) {
  std::string html;
  int number = 1;
  for (auto const& f : findings) {
    if (f.suppressed) continue;
    std::string const level(word(f.level)), said = style.command == "lay" && f.level == Level::fix ? "fixed" : level;
    html += "<li class=\"is-" + level + "\"><span class=\"word " + level + "\">" + std::to_string(number++) + ". " + said +
            (f.accepted ? " (accepted)" : "") + "</span> <code>" + html_text(f.check) + "</code>" + words_html(f, style.unit) + "</li>\n";
  }
  return html.empty() ? html : "<ol class=\"findings\" start=\"1\">\n" + html + "</ol>\n";
}

std::vector<Finding> holds_first(std::vector<Finding> findings) {
  std::ranges::stable_sort(findings, [](auto const& a, auto const& b) { return a.level > b.level; });
  return findings;
}

std::string html_page(PageSummary const& page, int file, ReportStyle const& style) {
  std::string const number = std::to_string(page.number), verdict(word(page.verdict)), id = "file-" + std::to_string(file) + "-page-" + number;
  auto const findings = holds_first(page.findings);
  auto const figure = figure_html(page, findings);
  return "<article class=\"page" + std::string(figure.empty() ? " bare" : "") + "\" aria-labelledby=\"" + id + "\">\n" + figure + "<div>\n<h3 id=\"" +
         id + "\">Page " + number + (page.member.empty() ? std::string() : " (" + html_text(page.member) + ")") + ": <span class=\"word " + verdict +
         "\">" + verdict + "</span></h3>\n" + facts_html(page, style) + reading_html(page) + html_findings(findings, style) + "</div>\n</article>\n";
}

}  // namespace layright
