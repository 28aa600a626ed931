#include "setup/send_request.h"

#include "setup/press_setup.h"
#include "setup/send.h"

namespace layright {

Result<SendAsked> ask_for(Target const& target, Offer const& offer, std::string const& path, std::string const& job_name,
                          std::optional<Rect<SheetSpace>> const& ink, Unit unit) {
  SendAsked asked;
  asked.request.file = path;
  asked.request.job_name = job_name;
  if (offer.is_queue && !target.press.ppd.empty()) {
    auto const press = prepare_press(target, ink, unit);
    if (!press) return press.error();
    asked.findings = press->setup.findings;
    asked.request.options = queue_options(target, press->setup);
    return asked;
  }
  asked.queue_without_ppd = offer.is_queue;
  asked.findings = misfits(target, offer, unit);
  auto const more = keyword_setup(target, ink, unit).findings;
  asked.findings.insert(asked.findings.end(), more.begin(), more.end());
  asked.request.attributes = fitted_attributes(target, offer);
  return asked;
}

void ask_for_page(SendAsked& asked, int page) {
  if (asked.request.options.empty())
    asked.request.attributes.push_back({"page-ranges", IppRange{page, page}});
  else
    asked.request.options.emplace_back("page-ranges", std::to_string(page));
}

}  // namespace layright
