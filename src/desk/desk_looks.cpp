// Pictures of jobs, and what the presses say: all of it by children, and kept.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "desk/day_json.h"
#include "desk/desk.h"
#include "desk/guard.h"
#include "desk/job_steps.h"
#include "report/report.h"

namespace layright {
WebAnswer Desk::look_of_job(WebRequest const& request, Ledger const& ledger, LedgerEntry const& entry) {
  auto const page = whole_number(request.asked("page").empty() ? "1" : request.asked("page"), kMostPage);
  if (!page || *page < 1) return error_answer(404, "That is no number of a page.");
  auto const laid = file_of_job(ledger, entry, "laid");
  bool const shows_laid = entry.state == LedgerState::ready && laid && !laid->empty();
  CheckOrder order{shows_laid ? *laid : entry.place, {}, entry.target, static_cast<int>(*page)};
  auto const view = request.asked("view");
  if (view == "came") order = {entry.place, {}, entry.target, order.page, CheckOrder::View::came};
  else if (view == "worn") order.view = CheckOrder::View::worn;
  else if (view == "sheet") order.view = CheckOrder::View::sheet;
  else if (view == "art") order.view = CheckOrder::View::art;
  else if (!view.empty() && view != "lies") return error_answer(404, "There are the views lies, came, worn, sheet and art.");
  if (order.file.empty()) return error_answer(404, "Its file is no longer kept.");
  if (order.view != CheckOrder::View::came && !shows_laid) {
    auto const story = ledger.events_of(entry.id);
    if (!story) return error_of(story.error());
    auto words = decided_words(request, entry, *story);
    if (!words) return error_of(words.error());
    order.decided = std::move(*words);
  }
  return look(entry.name, entry.digest + (order.file != entry.place ? " laid " + std::to_string(entry.run) : ""), std::move(order));
}

WebAnswer Desk::look(std::string const& name, std::string const& digest, CheckOrder order) {
  if (!shop_.now()->configuration.targets.contains(order.target)) return error_answer(422, "There is no target " + shown_name(order.target) + ".");
  auto const key = proof_key(digest, order);
  auto const page = proofs_.look(key, [&](std::filesystem::path const& picture) {
    order.picture = picture;
    return hands_.check(order);
  });
  if (!page) return error_of(page.error());
  return json_answer(look_json(**page, name, order.page, key));
}

WebAnswer Desk::proof(std::string const& key) {
  auto const page = proofs_.kept(key.ends_with(".png") ? key.substr(0, key.size() - 4) : "");
  if (!page || page->bytes == 0) return error_answer(404, "That picture is not kept any more.");
  auto answer = file_answer(page->picture.native(), "image/png");
  std::erase_if(answer.headers, [](auto const& header) { return header.first == "Content-Disposition"; });
  return answer;
}

/// The art as worn, for lists: of a held job as it would be by what is known of it.
WebAnswer Desk::picture_of_job(Ledger const& ledger, LedgerEntry const& entry) {
  WebRequest asked;
  asked.query = {{"view", "art"}};
  auto const look = look_of_job(asked, ledger, entry);
  if (look.status != 200) return error_answer(404, "There is no picture of it.");
  auto const address = Json::parse(look.text, nullptr, false)["picture"];
  if (!address.is_string()) return error_answer(404, "There is no picture of it.");
  auto const path = address.get<std::string>();
  return proof(path.substr(path.rfind('/') + 1));
}

WebAnswer Desk::presses() {
  auto const shop = shop_.now();
  return json_answer(presses_.answers(shop->configuration, shop->intakes.empty() ? "" : shop->intakes.front().target));
}

}  // namespace layright
