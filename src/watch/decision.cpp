#include "watch/decision.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/page_json.h"

namespace layright {
namespace {

constexpr char const* kKinds[] = {"release", "again", "discard"};

bool has(std::vector<std::string> const& list, char const* word) { return std::find(list.begin(), list.end(), word) != list.end(); }

}  // namespace

std::string decision_text(Decision const& d) {
  return json_text({{"do", kKinds[static_cast<int>(d.kind)]},
                    {"incoming", d.incoming},
                    {"scale", d.scale},
                    {"target", d.target},
                    {"accept", d.accept},
                    {"why", d.why}});
}

Result<Decision> parse_decision(std::string const& text) {
  auto const json = Json::parse(text, nullptr, false);
  if (!json.is_object()) return Error{ErrorKind::data, "a decision in the ledger cannot be read: " + text};
  Decision d;
  auto const kind = json.value("do", "release");
  d.kind = kind == "again" ? Decision::Kind::again : kind == "discard" ? Decision::Kind::discard : Decision::Kind::release;
  d.incoming = json.value("incoming", "");
  d.scale = json.value("scale", "");
  d.target = json.value("target", "");
  d.accept = json.value("accept", std::vector<std::string>());
  d.why = json.value("why", "");
  return d;
}

std::vector<std::string> holding_checks(LedgerEntry const& entry) {
  std::vector<std::string> checks;
  auto const findings = Json::parse(entry.findings.empty() ? "[]" : entry.findings, nullptr, false);
  if (!findings.is_array()) return checks;
  for (auto const& f : findings)
    if (f.value("level", "") == "hold" && !f.value("accepted", false) && !has(checks, f.value("check", "").c_str()))
      checks.push_back(f.value("check", ""));
  return checks;
}

std::vector<std::string> release_words(LedgerEntry const& entry) {
  auto const checks = holding_checks(entry);
  std::vector<std::string> words{"release", std::to_string(entry.id)};
  if (has(checks, "reading.unknown") || has(checks, "reading.none") || has(checks, "reading.mixed") || has(checks, "reading.conflict"))
    words.insert(words.end(), {"--incoming", "right"});
  if (has(checks, "ink.size")) words.insert(words.end(), {"--scale", "shrink"});
  return words;
}

}  // namespace layright
