#include "setup/press_setup.h"

#include "place/correction.h"
#include "setup/blank_edges.h"
#include "setup/press_queue.h"
#include "setup/render.h"

namespace layright {
namespace {

void add_own(PressSetup& setup, PressOptions const& options, Topic topic, White const& white, char const* why) {
  for (auto const& [name, written] : options) setup.settings.push_back({topic, name, with_percent(written, white), {}, {}, why});
}

/// What the trial sheet showed, against what this target needs: what stayed blank at the edges, and whether the press reversed it.
void report_trial(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit, std::vector<Finding>& findings) {
  auto const& trial = target.press.trial;
  if (!trial) return;
  report_blank_edges(target, printable_at_press(target), ink, "its trial sheet of " + trial->date + " showed it", unit, findings);
  if (trial->leading == Corner::top_right || trial->leading == Corner::bottom_left) {
    Finding edge;
    edge.check = "press.feed";
    edge.level = Level::hold;
    edge.message = "its trial sheet of " + trial->date + " came out with the edge with " + edge_words(*trial->leading) +
                   " first, but the sheet must go in " + feed_words(target.sheet.feed) +
                   ": turn the paper in the tray or the tray's setting at the press, and print the trial sheet again";
    findings.push_back(std::move(edge));
  }
  bool const shall = target.reverse_at == ReverseAt::printer, did = trial->reads == Reading::wrong;
  if (!trial->reads || did == shall) return;
  Finding finding;
  finding.check = "press.mirror";
  // What is reversed in the file and again at the press comes out the wrong way round.
  bool const twice = did && target.reading != WantedReading::as_is && target.reverse_at == ReverseAt::file;
  if (twice) finding.level = Level::hold;
  finding.message = "the press " + std::string(did ? "mirrored" : "did not mirror") + " its trial sheet of " + trial->date +
                    ", and for this target it must" + (did ? " not" : "") + ": " + (twice ? "what the file mirrors would be mirrored twice; " : "") +
                    "unless the trial was sent for a target that differs in that, set its mirroring right at the press and try it again" +
                    (twice ? ", or let the press do it (reverse-at = \"printer\")" : "");
  findings.push_back(std::move(finding));
}

}  // namespace

PressSetup keyword_setup(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit) {
  Press const& press = target.press;
  bool const reverse = target.reverse_at == ReverseAt::printer;
  PressSetup setup;
  auto const add = [&](Topic topic, char const* option, std::string const& choice, std::string why) {
    if (!choice.empty()) setup.settings.push_back({topic, option, choice, {}, {}, std::move(why)});
  };
  add(Topic::size, "media-size", format_size(target.sheet.width, target.sheet.length, unit), "the sheet, " + feed_words(target.sheet.feed));
  add(Topic::tray, "media-source", press.media_source, "from the press's table");
  add(Topic::media, "media-type", press.media_type, "from the press's table");
  add(Topic::exit, "output-bin", press.output_bin, "from the press's table");
  add(Topic::sides, "sides", "one-sided", "film takes one side");
  add(Topic::resolution, "printer-resolution", press.printer_resolution, "from the press's table");
  add(Topic::quality, "print-quality", press.print_quality, "from the press's table");
  add(Topic::colour, "print-color-mode", press.print_color_mode, "from the press's table");
  add(Topic::intent, "print-rendering-intent", intent_keyword(target.render),
      target.render == Render::pictures ? "the art is mostly pictures" : "the art is mostly graphics");
  add_own(setup, target.white.on ? press.white_on : press.white_off, Topic::white, target.white,
          target.white.on ? "the target wants a white layer" : "the target wants no white layer");
  add_own(setup, reverse ? press.mirror_on : press.mirror_off, Topic::mirror, target.white,
          reverse ? "the printer does the one mirroring" : "the printer must not mirror");
  add_own(setup, press.no_size_check, Topic::size_check, target.white, "the press must not check the size of the film");
  add_own(setup, press.no_tray_switch, Topic::tray_switch, target.white, "the press must not switch to another tray");
  add_own(setup, press.options, Topic::own, target.white, "from the press's table");
  if (reverse && press.mirror_on.empty())
    setup.report("press.mirror", Level::hold, "the printer is to mirror, and no standard attribute asks for that",
                 "name the press's own under mirror-on, switch it on at the press, or let the file be mirrored (reverse-at = \"file\")",
                 Topic::mirror);
  if (press.print_unknown_size && press.no_size_check.empty())
    setup.report("press.size-check", Level::note, "no standard attribute lets the press print a size that it does not know",
                 "set the press so, be there to let it go on, or name its own option, unknown-size.print = { … }", Topic::size_check);
  if (press.never_other_tray && press.no_tray_switch.empty())
    setup.report("press.tray-switch", Level::note, "no standard attribute keeps the press from going on from another tray",
                 "set the press so, empty the others, or name its own option, other-tray.never = { … }", Topic::tray_switch);
  report_trial(target, ink, unit, setup.findings);
  return setup;
}

Result<PressSetup> setup_with(Ppd& ppd, Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit) {
  auto setup = ppd.setup(target, ink, unit);
  if (setup) report_trial(target, ink, unit, setup->findings);
  return setup;
}

Result<PreparedPress> prepare_press(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit) {
  PreparedPress prepared;
  std::string unasked;
  auto ppd = driver_of(target.press, unasked);
  if (!ppd && !target.press.ppd.empty()) return ppd.error();
  if (!ppd || !*ppd) {  // also where a queue does not answer: the keywords hold for any press
    prepared.setup = keyword_setup(target, ink, unit);
    return prepared;
  }
  prepared.ppd = std::move(ppd).value();
  auto setup = setup_with(*prepared.ppd, target, ink, unit);
  if (!setup) return setup.error();
  prepared.setup = std::move(setup).value();
  return prepared;
}

std::string option_lines(std::vector<std::pair<std::string, std::string>> const& options) {
  std::string text;
  for (auto const& [name, choice] : options) text += name + "=" + choice + "\n";
  return text;
}

}  // namespace layright
