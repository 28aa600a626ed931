#include "setup/queue_suits.h"

#include "setup/press_setup.h"
#include "setup/queue_guards.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

Press general(Press const& press) {
  Press only;
  only.name = press.name;
  only.media_source = press.media_source;
  only.media_type = press.media_type;
  only.output_bin = press.output_bin;
  only.prints_white = press.prints_white;
  return only;
}

Finding const* first_hold(std::vector<Finding> const& findings) {
  for (auto const& finding : findings)
    if (finding.level == Level::hold) return &finding;
  return nullptr;
}

}  // namespace

QueueSuits queue_suits(Target target, PressAnswer const& answer, Unit unit) {
  target.press = general(target.press);
  target.white = {};
  target.reverse_at = ReverseAt::file;
  std::string const takes = "takes " + format_size(target.sheet.width, target.sheet.length, unit) + ", " + feed_words(target.sheet.feed);
  if (auto const unfit = unfit_queue(answer); !unfit.empty()) return {false, unfit.front().message};
  if (!answer.ppd) {
    auto const findings = unsupported_settings(target, answer.offer, unit);
    if (auto const* hold = first_hold(findings)) return {false, hold->message};
    return {true, takes + ", as it says itself"};
  }
  auto const setup = answer.ppd->setup(target, std::nullopt, unit);
  if (!setup) return {false, setup.error().message};
  if (auto const* hold = first_hold(setup->findings)) return {false, hold->message};
  if (auto const lasting = lasting_defaults(answer.offer, queue_options(target, *setup, answer.ppd.get(), &answer.offer)); !lasting.empty())
    return {false, lasting.front().message};
  std::string with;
  for (auto const topic : {Topic::size, Topic::tray, Topic::media})
    if (auto const* setting = setup->about(topic)) with += (with.empty() ? ": " : ", ") + setting->option + "=" + setting->choice;
  return {true, takes + with};
}

}  // namespace layright
