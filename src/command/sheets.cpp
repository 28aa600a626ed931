#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "command/command.h"
#include "command/file_run.h"
#include "command/target_options.h"
#include "report/configuration_json.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

struct SheetsWords {
  std::string config, unit, format;
  bool standard = false;
};

std::string margins_text(Margins const& m, Unit unit) {
  if (m == Margins::all(m.left)) return format_length(m.left, unit);
  return format_length(m.left, unit) + " left, " + format_length(m.bottom, unit) + " bottom, " + format_length(m.right, unit) + " right, " +
         format_length(m.top, unit) + " top";
}

std::string live_text(Sheet const& s, Unit unit) {
  auto const live = s.live_area();
  return format_size(Length::points(live.width()), Length::points(live.height()), unit);
}

std::string or_nothing(std::string const& text) { return text.empty() ? "any" : text; }

void list_as_text(Configuration const& c, Unit unit) {
  auto const put = [](std::string const& line) { std::fprintf(stdout, "%s\n", line.c_str()); };
  put("sheets:");
  for (auto const& [name, s] : c.sheets)
    put("  " + name + ": " + format_size(s.width, s.length, unit) + ", " + (s.feed == Feed::short_edge ? "short" : "long") + " edge first, margin " +
        margins_text(s.margins, unit) + ", live area " + live_text(s, unit));
  put(c.presses.empty() ? "presses: none. layright init writes a layright.toml to put them in." : "presses:");
  for (auto const& [name, p] : c.presses)
    put("  " + name + ": from " + or_nothing(p.media_source) + ", media type " + or_nothing(p.media_type) + ", exit " + or_nothing(p.output_bin) +
        (p.prints_white ? ", prints white" : "") + (p.ppd.empty() ? "" : ", PPD " + p.ppd) + (p.ipp.empty() ? "" : ", at " + p.ipp));
  if (!c.targets.empty()) put("targets:");
  for (auto const& [name, t] : c.targets)
    put("  " + name + ": sheet " + t.sheet.name + (t.press.name.empty() ? "" : ", press " + t.press.name) +
        (t.reading == WantedReading::as_is ? ", reads as it comes"
                                           : ", reads " + std::string(word(t.reading)) + ", reversed in the " + std::string(word(t.reverse_at))));
}

void list_standard(Unit unit) {
  for (auto const& n : named_sizes())
    std::fprintf(stdout, "%.*s: %s (%.*s)\n", static_cast<int>(n.name.size()), n.name.data(), format_size(n.size.width, n.size.length, unit).c_str(),
                 static_cast<int>(n.source.size()), n.source.data());
}

ExitStatus run_sheets(SheetsWords const& w) {
  auto const format = parse_format(w.format);
  if (!format) return fail(format.error());
  auto const configuration = configuration_of(w.config);
  if (!configuration) return fail(configuration.error());
  Unit unit = configuration->unit;
  if (!w.unit.empty()) {
    auto const said = parse_unit(w.unit);
    if (!said) return fail({ErrorKind::usage, "--unit: " + said.error().message});
    unit = *said;
  }
  if (w.standard) list_standard(unit);
  else if (*format == ReportFormat::json) std::fprintf(stdout, "%s\n", json_text(configuration_json(*configuration)).c_str());
  else list_as_text(*configuration, unit);
  return ExitStatus::ready;
}

}  // namespace

Run add_sheets(CLI::App& command) {
  auto words = std::make_shared<SheetsWords>();
  command.add_option("--config", words->config, "the configuration; else the one that is found")->type_name("FILE");
  command.add_option("--unit", words->unit, "in, mm or pt")->type_name("UNIT");
  command.add_option("--format", words->format, "text (the default) or json")->type_name("FORMAT");
  command.add_flag("--standard", words->standard, "list the standard sizes that --sheet takes");
  return [words] { return run_sheets(*words); };
}

}  // namespace layright
