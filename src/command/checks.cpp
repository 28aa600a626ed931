#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "check/check.h"
#include "command/check_facts.h"
#include "command/command.h"
#include "command/file_run.h"

namespace layright {
namespace {

void list_as_json() {
  Json list = Json::array();
  for (auto const& c : all_checks())
    list.push_back({{"check", c.id},
                    {"levels", c.levels},
                    {"finds", c.title},
                    {"measures", c.measures},
                    {"limit", c.limit},
                    {"source", c.source},
                    {"does_not_cover", c.does_not_cover},
                    {"explain", c.explain}});
  std::fprintf(stdout, "%s\n", list.dump(1).c_str());
}

ExitStatus run_checks(std::string const& format_word) {
  auto const format = parse_format(format_word);
  if (!format) return fail(format.error());
  if (*format == ReportFormat::json) list_as_json();
  else std::ranges::for_each(all_checks(), print_facts);
  return ExitStatus::ready;
}

}  // namespace

void print_facts(CheckInfo const& info) {
  auto const put = [](char const* what, std::string_view text) {
    if (!text.empty()) std::fprintf(stdout, "%s%.*s\n", what, static_cast<int>(text.size()), text.data());
  };
  put("", info.id);
  put("  finds:     ", info.title);
  put("  level:     ", info.levels);
  put("  measures:  ", info.measures);
  put("  limit:     ", info.limit);
  put("  source:    ", info.source);
  put("  finds not: ", info.does_not_cover);
}

Run add_checks(CLI::App& command) {
  auto format = std::make_shared<std::string>();
  command.add_option("--format", *format, "text (the default) or json")->type_name("FORMAT");
  return [format] { return run_checks(*format); };
}

}  // namespace layright
