#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "check/check.h"
#include "command/command.h"
#include "command/file_run.h"

namespace layright {
namespace {

void list_as_text() {
  for (auto const& c : all_checks()) {
    auto const put = [](char const* what, std::string_view text) {
      std::fprintf(stdout, "%s%.*s\n", what, static_cast<int>(text.size()), text.data());
    };
    put("", c.id);
    put("  finds:    ", c.title);
    put("  level:    ", c.levels);
    put("  measures: ", c.measures);
    put("  limit:    ", c.limit);
    put("  source:   ", c.source);
  }
}

void list_as_json() {
  Json list = Json::array();
  for (auto const& c : all_checks())
    list.push_back({{"check", c.id}, {"levels", c.levels}, {"finds", c.title}, {"measures", c.measures}, {"limit", c.limit}, {"source", c.source}, {"explain", c.explain}});
  std::fprintf(stdout, "%s\n", list.dump(1).c_str());
}

ExitStatus run_checks(std::string const& format_word) {
  auto const format = parse_format(format_word);
  if (!format) return fail(format.error());
  *format == ReportFormat::json ? list_as_json() : list_as_text();
  return ExitStatus::ready;
}

}  // namespace

Run add_checks(CLI::App& command) {
  auto format = std::make_shared<std::string>();
  command.add_option("--format", *format, "text (the default) or json")->type_name("FORMAT");
  return [format] { return run_checks(*format); };
}

}  // namespace layright
