#include "watch/decision.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "check/check.h"
#include "geometry/length.h"
#include "report/page_json.h"
#include "report/short_words.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

constexpr char const* kKinds[] = {"release", "again", "discard", "hold"};

bool has(std::vector<std::string> const& list, std::string const& word) { return std::ranges::find(list, word) != list.end(); }

std::vector<Json> findings_of(LedgerEntry const& entry) {
  auto const findings = Json::parse(entry.findings.empty() ? "[]" : entry.findings, nullptr, false);
  std::vector<Json> list;
  for (auto const& f : findings)
    if (f.is_object()) list.push_back(f);
  return list;
}

bool is_hold(Json const& finding) { return finding.value("level", "") == "hold"; }

/// Of a file that cannot be opened no page is known; what is asked for anew is not for a person here to accept.
bool can_be_laid(LedgerEntry const& entry) {
  auto const findings = findings_of(entry);
  bool const pages = std::ranges::any_of(findings, [](Json const& f) { return f.contains("page"); });
  return std::ranges::none_of(findings, [&](Json const& f) {
    auto const check = f.value("check", "");
    bool const unreadable = !pages && (check == "file.damaged" || check == "file.format");
    return is_hold(f) && (unreadable || (!can_be_accepted(check) && !is_about_size(check)));
  });
}

/// The width of its picture at 300 pixels to the inch.
std::string sensible_width(LedgerEntry const& entry) {
  constexpr double kUsualDensity = 300;  // common practice, no published source
  for (auto const& f : findings_of(entry))
    if (f.value("check", "") == "picture.density" && f.contains("measured") && f["measured"].contains("width_px"))
      return format_number(f["measured"].value("width_px", 0.0) / kUsualDensity, 2) + "in";
  return "4in";
}

}  // namespace

std::string decision_text(Decision const& d) {
  return json_text({{"do", kKinds[static_cast<int>(d.kind)]},
                    {"incoming", d.incoming},
                    {"scale", d.scale},
                    {"width", d.width},
                    {"target", d.target},
                    {"accept", d.accept},
                    {"why", d.why},
                    {"sheet", d.sheet},
                    {"copies", d.copies}});
}

Result<Decision> parse_decision(std::string const& text) {
  auto const json = Json::parse(text, nullptr, false);
  if (!json.is_object()) return Error{ErrorKind::data, "a decision in the ledger cannot be read: " + text};
  Decision d;
  auto const kind = json.value("do", "release");
  for (int k = 0; k < static_cast<int>(std::size(kKinds)); ++k)
    if (kind == kKinds[k]) d.kind = static_cast<Decision::Kind>(k);
  d.incoming = json.value("incoming", "");
  d.scale = json.value("scale", "");
  d.width = json.value("width", "");
  d.target = json.value("target", "");
  d.accept = json.value("accept", std::vector<std::string>());
  d.why = json.value("why", "");
  d.sheet = json.value("sheet", 0);
  d.copies = json.value("copies", 0);
  return d;
}

std::vector<std::string> holding_checks(LedgerEntry const& entry) {
  std::vector<std::string> checks;
  for (auto const& f : findings_of(entry))
    if (is_hold(f) && !f.value("accepted", false) && !has(checks, f.value("check", ""))) checks.push_back(f.value("check", ""));
  return checks;
}

HoldQuestions questions_of(LedgerEntry const& entry) {
  HoldQuestions q;
  q.can_be_laid = can_be_laid(entry);
  if (!q.can_be_laid) return q;
  auto const checks = holding_checks(entry);
  q.reading = std::ranges::any_of(checks, is_about_reading);
  q.no_size = has(checks, "picture.density");
  q.too_large = !q.no_size && std::ranges::any_of(checks, is_about_size);
  if (q.no_size) q.width = sensible_width(entry);
  for (auto const& check : checks)
    if (!is_about_reading(check) && !is_about_size(check)) q.accept.push_back(check);
  return q;
}

std::vector<std::string> release_words(LedgerEntry const& entry) {
  auto const q = questions_of(entry);
  if (!q.can_be_laid) return {};
  std::vector<std::string> words{"release", std::to_string(entry.id)};
  if (q.reading) words.insert(words.end(), {"--incoming", "right"});
  if (q.no_size) words.insert(words.end(), {"--width", q.width});
  else if (q.too_large) words.insert(words.end(), {"--scale", "shrink"});
  std::string accept;
  for (auto const& check : q.accept) accept += (accept.empty() ? "" : ",") + check;
  if (!accept.empty()) words.insert(words.end(), {"--accept", accept});
  return words;
}

Outcome complete_release(Decision& d, LedgerEntry const& entry) {
  auto const job = "job " + std::to_string(entry.id);
  if (!can_be_laid(entry)) return Error{ErrorKind::usage, job + " cannot be laid. " + entry.reason};
  if (!d.accept.empty()) return done();
  bool const sized = !d.scale.empty() || !d.width.empty();
  auto const checks = holding_checks(entry);
  if (has(checks, "picture.density") && !sized && d.target.empty())
    return Error{ErrorKind::usage, job + ": how wide is the art on the goods? Say for instance --width " + sensible_width(entry)};
  std::string unsaid;
  for (auto const& check : checks) {
    if (is_about_reading(check)) {
      if (d.incoming.empty() && d.target.empty())
        return Error{ErrorKind::usage, job + ": look how it reads. Add --incoming right, or --incoming wrong if it is mirrored already"};
    } else if (check == "ink.size") {
      if (!sized && d.target.empty()) return Error{ErrorKind::usage, job + ": the art is too large. Add --scale shrink, --width or another --target"};
    } else if (sized && !is_about_size(check)) {
      unsaid += (unsaid.empty() ? "" : ",") + check;
    } else if (!sized) {
      d.accept.push_back(check);
    }
  }
  if (unsaid.empty()) return done();
  return Error{ErrorKind::usage, job + " is held for more than its size. Once you have looked, add --accept " + unsaid};
}

Decision with_said_before(Decision later, Decision const& before, std::string const& target) {
  if (later.incoming.empty()) later.incoming = before.incoming;
  if (!later.target.empty() && later.target != target) return later;
  if (later.scale.empty() && later.width.empty()) {
    later.scale = before.scale;
    later.width = before.width;
  }
  for (auto const& check : before.accept)
    if (!has(later.accept, check)) later.accept.push_back(check);
  return later;
}

Decision said_before(std::vector<LedgerEvent> const& story) {
  Decision said;
  for (auto const& event : story) {
    if (event.what == kDecideAnew) said = {};
    auto const released = event.what == "released" ? parse_decision(event.why) : Result<Decision>(Error{});
    if (released) said = with_said_before(*released, said, {});
  }
  said.target.clear();
  said.why.clear();
  return said;
}

std::vector<std::string> release_words_of(std::vector<LedgerEvent> const& events) {
  std::vector<std::string> lines;
  for (auto const& event : events) {
    if (event.what == kDecideAnew) lines.clear();
    auto const decision = event.what == "released" ? parse_decision(event.why) : Result<Decision>(Error{});
    if (!decision) continue;
    std::vector<std::string> what = decision->accept;
    if (!decision->incoming.empty()) what.push_back(decision->incoming == "right" ? "reads right" : "came mirrored");
    if (!decision->scale.empty()) what.push_back("scale " + decision->scale);
    if (!decision->width.empty()) what.push_back("width " + decision->width);
    if (!decision->target.empty()) what.push_back("target " + decision->target);
    std::string line = event.who + " " + local_text(event.at).substr(0, 10) + ":";
    for (auto const& each : what) line += (line.ends_with(':') ? " " : ", ") + each;
    if (!decision->why.empty()) line += " (" + decision->why + ")";
    lines.push_back(std::move(line));
  }
  return lines;
}

}  // namespace layright
