#include "setup/ipp.h"

#include <algorithm>
#include <cmath>

#include "place/correction.h"
#include "setup/ipp_values.h"
#include "setup/ppd_words.h"
#include "setup/render.h"

namespace layright {
namespace {

IppCollection media_col(Target const& target) {
  Sheet const& sheet = target.sheet;
  IppCollection media{{"media-size", IppCollection{{"x-dimension", hundredths_of_mm(sheet.width)}, {"y-dimension", hundredths_of_mm(sheet.length)}}}};
  if (!target.press.media_source.empty()) media.push_back({"media-source", IppKeyword{target.press.media_source}});
  if (!target.press.media_type.empty()) media.push_back({"media-type", IppKeyword{target.press.media_type}});
  // PWG 5100.13: margins are those of the medium with the short side as its width. A page laid long edge first is the medium turned
  // a quarter counterclockwise, so its left is the medium's top.
  auto const page = sheet.page(), live = live_area_at_press(target);
  auto const room = [](double points) { return Length::points(std::max(0.0, points)); };
  Margins m{room(live.x0 - page.x0), room(live.y0 - page.y0), room(page.x1 - live.x1), room(page.y1 - live.y1)};
  if (sheet.feed == Feed::long_edge) m = {m.bottom, m.right, m.top, m.left};
  media.push_back({"media-top-margin", hundredths_of_mm(m.top)});
  media.push_back({"media-bottom-margin", hundredths_of_mm(m.bottom)});
  media.push_back({"media-left-margin", hundredths_of_mm(m.left)});
  media.push_back({"media-right-margin", hundredths_of_mm(m.right)});
  return media;
}

void add_own(std::vector<IppMember>& job, PressOptions const& options, White const& white, OfferedSyntaxes const& syntaxes) {
  for (auto const& [name, written] : options) {
    auto const same = [&own = name](IppMember const& m) { return m.name == own; };
    std::erase_if(job, same);
    auto const choice = with_percent(written, white);
    job.push_back({name, ipp_value(name, choice, syntaxes).value_or(IppName{choice})});
  }
}

std::string quoted(std::string const& text) {
  std::string out = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\' || c == '$') out += '\\';
    out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  }
  return out + "\"";
}

struct Written {
  std::string syntax, value;
};

Written written(IppValue const& value, std::string const& indent);

std::string members(IppCollection const& collection, std::string const& indent) {
  std::string text = "{\n";
  for (auto const& member : collection) {
    auto const w = written(member.value, indent + "  ");
    text += indent + "  MEMBER " + w.syntax + " " + member.name + " " + w.value + "\n";
  }
  return text + indent + "}";
}

Written written(IppValue const& value, std::string const& indent) {
  if (auto const* keyword = std::get_if<IppKeyword>(&value)) return {"keyword", keyword->word};
  if (auto const* name = std::get_if<IppName>(&value)) return {"name", quoted(name->text)};
  if (auto const* dots = std::get_if<IppResolution>(&value))
    return {"resolution", std::to_string(dots->across) + "x" + std::to_string(dots->along) + (dots->metric ? "dpcm" : "dpi")};
  if (auto const* number = std::get_if<IppEnum>(&value)) return {"enum", std::to_string(number->value)};
  if (auto const* range = std::get_if<IppRange>(&value)) return {"rangeOfInteger", std::to_string(range->from) + "-" + std::to_string(range->to)};
  if (auto const* number = std::get_if<int>(&value)) return {"integer", std::to_string(*number)};
  if (auto const* flag = std::get_if<bool>(&value)) return {"boolean", *flag ? "true" : "false"};
  if (auto const* several = std::get_if<IppSeveral>(&value)) {
    Written all;
    for (auto const& each : several->values) {
      auto const one = written(each.value, indent);
      all = {one.syntax, all.value + (all.value.empty() ? "" : ",") + one.value};
    }
    return all;
  }
  return {"collection", members(std::get<IppCollection>(value), indent)};
}

int quality_enum(std::string const& word) { return word == "draft" ? 3 : word == "high" ? 5 : 4; }  // RFC 8011, 5.2.13

}  // namespace

std::optional<Finding> unknown_resolution(Target const& target) {
  if (target.press.printer_resolution != kFinest) return std::nullopt;
  Finding finding;
  finding.check = "press.resolution";
  finding.message =
      "the finest resolution is left out, since only the press knows which one that is: name it in the press's table, such as "
      "printer-resolution = \"1200dpi\", give the press its PPD, or ask again while the press answers";
  return finding;
}

int hundredths_of_mm(Length length) { return static_cast<int>(std::lround(length.in_millimetres() * 100)); }

std::vector<IppMember> ipp_job_attributes(Target const& target, OfferedSyntaxes const& syntaxes) {
  Press const& press = target.press;
  std::vector<IppMember> job{{"media-col", media_col(target)},
                             {"print-scaling", IppKeyword{"none"}},  // PWG 5100.16
                             {"sides", IppKeyword{"one-sided"}},
                             {"copies", target.copies}};
  if (!press.output_bin.empty()) job.push_back({"output-bin", IppKeyword{press.output_bin}});
  if (!press.print_quality.empty()) job.push_back({"print-quality", IppEnum{quality_enum(press.print_quality)}});
  if (auto const dots = parse_resolution(press.printer_resolution); dots.across)
    job.push_back({"printer-resolution", IppResolution{dots.across, dots.along, false}});
  if (!press.print_color_mode.empty()) job.push_back({"print-color-mode", IppKeyword{press.print_color_mode}});
  job.push_back({"print-rendering-intent", IppKeyword{intent_keyword(target.render)}});
  add_own(job, press.options, target.white, syntaxes);
  add_own(job, target.white.on ? press.white_on : press.white_off, target.white, syntaxes);
  add_own(job, target.reverse_at == ReverseAt::printer ? press.mirror_on : press.mirror_off, target.white, syntaxes);
  add_own(job, press.no_size_check, target.white, syntaxes);
  add_own(job, press.no_tray_switch, target.white, syntaxes);
  return job;
}

std::string ipptool_request(Target const& target, std::string const& job_name, std::string const& document_format) {
  return ipptool_request(ipp_job_attributes(target), job_name, document_format);
}

std::string ipptool_request(std::vector<IppMember> const& attributes, std::string const& job_name, std::string const& document_format) {
  std::string text =
      "# Page setup by layright. Send it with: ipptool -tf FILE PRINTER-URI THIS-FILE\n"
      "# No standard attribute reverses a page, and a tray's feed direction is its own: see the operator's list.\n{\n"
      "  NAME " +
      quoted("Print " + job_name) +
      "\n  OPERATION Print-Job\n\n  GROUP operation-attributes-tag\n"
      "  ATTR charset attributes-charset utf-8\n  ATTR naturalLanguage attributes-natural-language en\n"
      "  ATTR uri printer-uri $uri\n  ATTR name requesting-user-name $user\n"
      "  ATTR name job-name " +
      quoted(job_name) + "\n  ATTR mimeMediaType document-format " + document_format +
      "\n"
      "  ATTR boolean ipp-attribute-fidelity true\n\n  GROUP job-attributes-tag\n";
  for (auto const& attribute : attributes) {
    auto const w = written(attribute.value, "  ");
    text += "  ATTR " + w.syntax + " " + attribute.name + " " + w.value + "\n";
  }
  return text + "\n  FILE $filename\n  STATUS successful-ok\n  EXPECT job-id\n}\n";
}

}  // namespace layright
