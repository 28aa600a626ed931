// Between file, printer and RIP there must be exactly one reversal.
#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> press_mirror_findings(FileView const& view) {
  Target const& target = view.target;
  auto const& trial = target.press.trial;
  if (!trial || trial->reads != Reading::wrong || target.reverse_at != ReverseAt::file || target.reading == WantedReading::as_is) return {};
  Finding f{.check = "press.mirror", .level = Level::hold};
  f.message = "the press " + target.press.name + " reversed its trial sheet of " + trial->date +
              ", and the file is to carry the one reversal: it would be reversed twice; switch the "
              "reversal off at the press and try it again (layright trial), or let the press do it (reverse-at = \"printer\")";
  f.measured = {{"trial_reads", std::string(word(Reading::wrong))}};
  f.wanted = {{"trial_reads", std::string(word(Reading::right))}};
  return {f};
}

}  // namespace

CheckInfo press_mirror() {
  return {
      .id = "press.mirror",
      .levels = "hold",
      .title = "the press is known to reverse as well",
      .measures = "whether the press's last trial sheet came out reversed",
      .limit = "it must not, where the file carries the one reversal (reverse-at = \"file\")",
      .source = "common practice, no published source",
      .does_not_cover = "a press that was never tried; what the printer's dialog is set to today",
      .explain =
          "A trial sheet shows whether the press, as it is set up, reverses what it prints. Where it does, and the target has the reversal made in "
          "the file, the art would be reversed twice and read the wrong way on the goods. Either the press's reversal is switched off, and the "
          "press tried again, or the target lets the printer do it. Accept it only where the trial sheet was sent for a target whose printer "
          "reverses on purpose.",
      .file = press_mirror_findings};
}

}  // namespace layright
