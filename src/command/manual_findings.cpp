// layright-findings(7), from the list of checks.
#include "check/check.h"
#include "command/manual.h"

namespace layright {
namespace {

void put_fact(std::string& page, char const* what, std::string_view words) {
  if (!words.empty()) page += ".br\n\\fI" + std::string(what) + ":\\fR " + roff(words) + "\n";
}

}  // namespace

std::string findings_page() {
  auto page = page_head("layright-findings", 7, "what check finds, against which limit, by which source");
  page +=
      ".SH DESCRIPTION\nA finding has a level, which says who acts: fix (lay does), hold (a person looks first), note (worth knowing).\n"
      "\\-\\-only and \\-\\-skip choose checks, \\-\\-accept lets a hold pass. A profile in layright.toml sets levels and limits.\n";
  std::string group;
  for (auto const& check : all_checks()) {
    std::string const of(check.id.substr(0, check.id.find('.')));
    if (of != group) page += ".SH " + (of == "colour" ? "color" : of) + "\n";
    group = of;
    page += tagged(check.id, check.title);
    put_fact(page, "level", check.levels);
    put_fact(page, "measures", check.measures);
    put_fact(page, "limit", check.limit);
    put_fact(page, "source", check.source);
    put_fact(page, "does not find", check.does_not_cover);
    page += ".IP\n" + roff(check.explain) + "\n";
  }
  return page + ".SH SEE ALSO\nlayright\\-check(1), layright\\-checks(1), layright.toml(5)\n";
}

}  // namespace layright
