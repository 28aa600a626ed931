#include "desk/decision_words.h"

#include <array>
#include <nlohmann/json.hpp>
#include <string_view>
#include <utility>

#include "check/check.h"
#include "report/plain_words.h"
#include "report/report.h"
#include "watch/decision.h"
#include "watch/ledger_json.h"

namespace layright {
namespace {

/// What a person says who takes a check's hold for none.
constexpr std::array<std::pair<std::string_view, char const*>, 11> kAcceptWords{{
    {"ink.guide", "Guide is part of the art"},
    {"ink.cut", "It is meant to be cut off there"},
    {"ink.blank", "The blank page is meant"},
    {"file.permission", "The customer lets us print it"},
    {"file.damaged", "What is left is enough"},
    {"file.converted", "Nothing that is needed is missing"},
    {"file.dropped", "What is lost is not needed"},
    {"font.embedded", "The letters look as they should"},
    {"font.damaged", "The letters look as they should"},
    {"colour.registration", "The marks are part of the art"},
    {"white.lost", "Print it without its white"},
}};

std::string accept_words(std::string const& check) {
  for (auto const& [id, words] : kAcceptWords)
    if (id == check) return words;
  return "It is meant to be so";
}

/// What was found, in its own words, the short ones where it has them; else what the check looks for.
std::string what_was_found(LedgerEntry const& entry, std::string const& check) {
  for (auto const& f : parsed_list(entry.findings))
    if (f.is_object() && f.value("check", "") == check && f.value("level", "") == "hold")
      return plain_words(shown_name(f.value("words", f.value("message", ""))));
  auto const* info = find_check(check);
  return info ? std::string(info->title) : check;
}

Json choice(std::string const& words, Json const& set) { return {{"words", words}, {"set", set}}; }

void add(std::string& text, std::string const& more) { text += (text.empty() ? "" : "; ") + more; }

std::string release_told(Decision const& d) {
  std::string text;
  if (d.incoming == "right") add(text, "it reads as it should");
  if (d.incoming == "wrong") add(text, "it is mirrored already");
  if (d.scale == "shrink") add(text, "shrink to fit");
  else if (!d.scale.empty()) add(text, "scale " + d.scale);
  if (!d.width.empty()) add(text, "width " + d.width);
  if (!d.target.empty()) add(text, "for " + d.target);
  for (auto const& check : d.accept) add(text, accept_words(check) + " (" + check + ")");
  if (!d.why.empty()) add(text, d.why);
  return text;
}

}  // namespace

Json questions_json(LedgerEntry const& entry) {
  auto const q = questions_of(entry);
  if (!q.can_be_laid) return {};
  Json questions = Json::array();
  if (q.reading)
    questions.push_back({{"ask", "Look at the letters: how does the art read as it came?"},
                         {"choices", Json::array({choice("It reads as it should", {{"incoming", "right"}}),
                                                  choice("It is mirrored already", {{"incoming", "wrong"}})})}});
  if (q.no_size || q.too_large) {
    auto wide = choice("Width", Json::object());
    wide["needs"] = "width";
    wide["value"] = q.width;
    auto choices = Json::array();
    if (q.too_large) choices.push_back(choice("Shrink to fit", {{"scale", "shrink"}}));
    choices.push_back(wide);
    questions.push_back({{"ask", q.no_size ? "How wide shall it be on the goods?" : "It is larger than the sheet takes."}, {"choices", choices}});
  }
  for (auto const& check : q.accept)
    questions.push_back({{"ask", what_was_found(entry, check)},
                         {"check", check},
                         {"choices", Json::array({choice(accept_words(check), {{"accept", Json::array({check})}})})}});
  if (questions.empty()) questions.push_back({{"ask", ""}, {"choices", Json::array({choice("Lay it all the same", Json::object())})}});
  return questions;
}

std::string event_words(LedgerEvent const& event) {
  auto const why = shown_name(event.why);
  if (event.what != "released") return event.what + (why.empty() ? "" : ": " + plain_words(why));
  auto const decision = parse_decision(event.why);
  auto const told = decision ? release_told(*decision) : why;
  return "released" + (told.empty() ? "" : ": " + shown_name(told));
}

}  // namespace layright
