#include "job/open_holds.h"

#include <algorithm>

#include "check/check.h"
#include "report/report.h"

namespace layright {
namespace {

/// "page 1", "pages 2 and 3", "pages 1 to 7", "pages 1, 2, 5 and 9 more".
std::string page_words(std::vector<int> const& pages) {
  constexpr std::size_t kMostReported = 4;
  auto const number = [&](std::size_t i) { return std::to_string(pages[i]); };
  std::size_t const n = pages.size();
  if (n == 1) return "page " + number(0);
  if (n == 2) return "pages " + number(0) + " and " + number(1);
  if (pages.back() - pages.front() + 1 == static_cast<int>(n)) return "pages " + number(0) + " to " + number(n - 1);
  std::string text = "pages " + number(0);
  for (std::size_t i = 1; i < std::min(n, kMostReported); ++i) text += ", " + number(i);
  return n > kMostReported ? text + " and " + std::to_string(n - kMostReported) + " more" : text;
}

}  // namespace

void OpenHolds::add(std::string const& check, std::string const& message, PageSummary const* page) {
  auto found = std::ranges::find(holds_, check, &Hold::check);
  if (found == holds_.end()) found = holds_.insert(found, Hold{check, message, {}, page ? page->member : std::string()});
  if (page && (found->pages.empty() || found->pages.back() != page->number)) found->pages.push_back(page->number);
}

void OpenHolds::add(PageSummary const& page) {
  for (auto const& f : page.findings)
    if (f.level == Level::hold && !f.accepted) add(f.check, f.message, &page);
}

void OpenHolds::add(std::vector<Finding> const& of_file) {
  for (auto const& f : of_file)
    if (f.level == Level::hold && !f.accepted && !f.suppressed) add(f.check, f.message, nullptr);
}

std::vector<std::string> OpenHolds::checks() const {
  std::vector<std::string> ids;
  for (auto const& hold : holds_) ids.push_back(hold.check);
  return ids;
}

bool OpenHolds::can_all_be_accepted() const {
  return std::ranges::all_of(holds_, [](Hold const& hold) { return can_be_accepted(hold.check); });
}

std::string OpenHolds::words() const {
  auto const where = [](Hold const& hold) { return hold.pages.empty() ? std::string() : " on " + page_words(hold.pages); };
  Hold const& first = holds_.front();
  std::string text;
  if (!first.pages.empty())
    text = "page " + std::to_string(first.pages.front()) + (first.member.empty() ? "" : " (" + shown_name(first.member) + ")") + ": ";
  text += first.message + " (held by ";
  for (auto const& hold : holds_) text += (&hold == &first ? "" : ", ") + hold.check + where(hold);
  return text + ")";
}

}  // namespace layright
