#include "setup/send_request.h"

#include <algorithm>

#include "setup/fitted_job.h"
#include "setup/loaded.h"
#include "setup/press_queue.h"
#include "setup/press_setup.h"
#include "setup/queue_guards.h"

namespace layright {
namespace {

void add(std::vector<Finding>& to, std::vector<Finding> more) {
  to.insert(to.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

/// To a queue with a driver, in that driver's words. What the press's table names as its PPD must be the same.
Outcome ask_queue(Target const& target, PressAnswer const& press, std::optional<Rect<SheetSpace>> const& ink, Unit unit, SendAsked& asked) {
  auto setup = setup_with(*press.ppd, target, ink, unit);
  if (!setup) return setup.error();
  add(asked.findings, std::move(setup->findings));
  if (!target.press.ppd.empty()) {
    auto const named = Ppd::open(target.press.ppd);
    if (!named) return named.error();
    add(asked.findings, queue_mismatches(target.press, **named, *press.ppd, *setup));
  }
  asked.request.options = queue_options(target, *setup, press.ppd.get(), &press.offer);
  asked.counts_sheets = counts_sheets(*press.ppd);
  add(asked.findings, lasting_defaults(press.offer, asked.request.options));
  report_supplies(press.offer, asked.findings);
  return done();
}

}  // namespace

Result<SendAsked> ask_for(Target const& wanted, PressAnswer const& press, std::string const& path, std::string const& job_name,
                          std::optional<Rect<SheetSpace>> const& ink, Unit unit) {
  SendAsked asked;
  asked.request.file = path;
  asked.request.job_name = job_name;
  Target target = wanted;
  if (auto const added = add_instance(target.press, press.ppd.get(), asked.findings); !added) return added.error();
  add(asked.findings, unfit_queue(press));
  if (press.ppd) {
    if (auto const done = ask_queue(target, press, ink, unit, asked); !done) return done.error();
    return asked;
  }
  asked.counts_sheets = !press.offer.is_queue;
  add(asked.findings, unsupported_settings(target, press.offer, unit));
  add(asked.findings, keyword_setup(target, ink, unit).findings);
  asked.request.attributes = fitted_attributes(target, press.offer);
  return asked;
}

void ask_for_page(SendAsked& asked, int page) {
  auto& options = asked.request.options;
  if (options.empty()) {
    asked.request.attributes.push_back({"page-ranges", IppRange{page, page}});
    return;
  }
  std::erase_if(options, [](auto const& option) { return option.first == "page-ranges"; });
  options.emplace_back("page-ranges", std::to_string(page));
}

}  // namespace layright
