#include "desk/customer_request.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string_view>

#include "report/report.h"
#include "watch/decision.h"
#include "watch/ledger_json.h"

namespace layright {
namespace {

struct RequestWords {
  std::string_view check, what, text;
};
constexpr std::array kRequests = {
    RequestWords{"file.password", "an unlocked file", "It is locked with a password. Please send it without one."},
    RequestWords{"file.permission", "a file that may be printed", "It does not allow printing. Please save it again with printing allowed."},
    RequestWords{"file.damaged", "the file again", "It arrived damaged. Please save it once more and send it again."},
    RequestWords{"file.missing", "the file again", "It did not arrive whole. Please send it again."},
    RequestWords{"file.converted", "a PDF", "Parts of it may be missing in the form that we got. Please send it as a PDF."},
    RequestWords{"file.dropped", "a PDF", "Parts of it would be lost in the form that we got. Please send it as a PDF."},
    RequestWords{"font.embedded", "a file with its fonts",
                 "It lacks a font that it uses. Please save it with all fonts embedded, or with letters as outlines."},
    RequestWords{"font.missing", "a file with its fonts",
                 "It lacks a font that it uses. Please save it with all fonts embedded, or with letters as outlines."},
    RequestWords{"font.damaged", "a file with its fonts", "One of its fonts is damaged. Please save it with letters as outlines."},
    RequestWords{"ink.blank", "the right file", "There is nothing on it that would print. Is it the right file?"},
    RequestWords{"ink.cut", "a larger page", "The edge of the page cuts off part of the art. Please send it on a page that is large enough."},
    RequestWords{"ink.guide", "art without its frame",
                 "There is a frame round the art that would print. Please take it out, or tell us that it belongs to it."},
    RequestWords{"ink.size", "the width", "The art is larger than our film. How wide shall it be on the goods?"},
    RequestWords{"picture.density", "the width", "The picture does not say how large it is to be. How wide shall it be on the goods?"},
    RequestWords{"white.lost", "art without white", "White parts would stay clear with the toner of this job. Shall we print it so?"},
};
constexpr std::string_view kReading = "Please tell us which way it must read, or send a photo of how it shall look on the goods.";

RequestWords const* request_for(std::string_view check) {
  auto const found = std::ranges::find(kRequests, check, &RequestWords::check);
  return found == kRequests.end() ? nullptr : found;
}

}  // namespace

Json customer_request_json(LedgerEntry const& entry) {
  if (entry.state != LedgerState::held) return {};
  std::string what, lines;
  auto const add = [&](std::string_view asked, std::string_view line) {
    if (what.empty()) what = asked;
    if (lines.find(line) == std::string::npos) lines += "- " + std::string(line) + "\n";
  };
  for (auto const& check : holding_checks(entry)) {
    if (check.starts_with("reading.")) add("how it must read", kReading);
    else if (auto const* words = request_for(check)) add(words->what, words->text);
    else add("another file", "We cannot print it as it is. Please send another file.");
  }
  if (lines.empty() && questions_of(entry).can_be_laid) return {};  // the shop can say it alone
  if (lines.empty()) add("the file again", "We cannot use it as it came. Please send it again.");
  auto const name = shown_name(std::filesystem::path(entry.name).filename().native());
  return {{"what", what},
          {"text", "Hello,\n\nwe have your file " + name + ", and need your help before we print it:\n\n" + lines + "\nThank you!\n"}};
}

}  // namespace layright
