#include "watch/held_note.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/version.h"
#include "report/report.h"
#include "report/short_words.h"
#include "watch/decision.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

std::string command(std::vector<std::string> const& words, std::string const& more) {
  std::string line = "layright";
  for (auto const& word : words) line += " " + word;
  return line + more;
}

std::vector<std::string> discard_words(LedgerEntry const& entry) { return {"discard", std::to_string(entry.id), "--why", "\"…\""}; }

}  // namespace

std::string place_of(Json const& finding) {
  if (!finding.contains("page")) return {};
  auto const member = finding.value("member", "");
  return "page " + std::to_string(finding.value("page", 0)) + (member.empty() ? "" : " (" + shown_name(member) + ")");
}

std::string words_of_finding(Json const& finding) {
  auto const words = finding.value("words", "");
  return words.empty() ? finding.value("message", "") : words;
}

std::string held_text(LedgerEntry const& entry, std::string const& more) {
  std::string text = shown_name(entry.name) + " is held: job " + std::to_string(entry.id) + ", " + shown_name(entry.intake) + ", " +
                     local_text(entry.arrived) + ".\n\n";
  auto const findings = Json::parse(entry.findings.empty() ? "[]" : entry.findings, nullptr, false);
  bool const several = std::ranges::any_of(findings, [](auto const& f) { return f.is_object() && (f.value("page", 1) > 1 || f.contains("member")); });
  std::string last;
  for (bool const about_size : {false, true})  // what another size fixes goes behind all else
    for (auto const& f : findings) {
      if (!f.is_object() || f.value("level", "") != "hold" || f.value("accepted", false) || is_about_size(f.value("check", "")) != about_size)
        continue;
      auto const place = several && f.contains("page") ? place_of(f) + ": " : std::string();
      auto const line = "  " + place + shown_name(words_of_finding(f)) + "\n";
      if (std::exchange(last, line) != line) text += line;
    }
  if (last.empty()) text += "  " + shown_name(entry.reason) + "\n";
  auto const words = release_words(entry);
  auto const said = [&](char const* word) { return std::ranges::find(words, word) != words.end(); };
  text += words.empty() ? "\nIt cannot be laid. Ask for the file again.\n" : "\nOnce you have looked: " + command(words, more) + "\n";
  if (said("--incoming")) text += "  right: it reads as it should. wrong: it is mirrored already.\n";
  if (said("--width")) text += "  width: on the goods; this one gives 300 ppi.\n";
  if (said("--accept")) text += "  accept: you looked, and it is meant to be so.\n";
  text += std::string(entry.is_batch() ? "Or hold each of its pieces by itself: " : "Or put it away: ") + command(discard_words(entry), more) + "\n";
  text += "All about it: " + command({"ledger", "show", std::to_string(entry.id)}, more) + "\n";
  return text;
}

Json held_json(LedgerEntry const& entry, std::string const& more) {
  auto findings = Json::parse(entry.findings.empty() ? "[]" : entry.findings, nullptr, false);
  if (!findings.is_array()) findings = Json::array();
  return {{"layright", program_version()},
          {"job", entry.id},
          {"intake", entry.intake},
          {"name", entry.name},
          {"sha256", entry.digest},
          {"bytes", entry.mark.bytes},
          {"arrived", utc_text(entry.arrived)},
          {"target", entry.target},
          {"verdict", "hold"},
          {"reason", entry.reason},
          {"same_as", entry.same_as > 0 ? Json(entry.same_as) : Json()},
          {"findings", findings},
          {"release", release_words(entry).empty() ? Json() : Json(command(release_words(entry), more))},
          {"discard", command(discard_words(entry), more)}};
}

}  // namespace layright
