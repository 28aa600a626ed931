#include "report/short_words.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "check/check.h"

namespace layright {
namespace {

double figure(Figures const& figures, std::string_view name) {
  for (auto const& [known, value] : figures)
    if (auto const* number = std::get_if<double>(&value); number && known == name) return *number;
  return 0;
}

std::string size_of(Figures const& figures, Unit unit) {
  return format_size(Length::points(figure(figures, "width_pt")), Length::points(figure(figures, "height_pt")), unit);
}

/// Of checks that need no figure.
struct Sentence {
  std::string_view check, text;
};
constexpr std::array<Sentence, 23> kSentences{{
    {"ink.guide", "Guide box will print. Delete it, or --accept ink.guide."},
    {"ink.blank", "Nothing prints on it. Leave it out, or --accept ink.blank."},
    {"file.password", "It has a password. Ask for it unlocked, or --password-file."},
    {"file.permission", "Its maker forbids printing. Ask for another file."},
    {"file.limit", "Too big or too slow to read. Ask for a simpler file."},
    {"font.missing", "A font is missing. Ask for outlines, or --accept font.missing."},
    {"font.embedded", "A font is not in the file. Ask for outlines, or --accept font.embedded."},
    {"annot.print", "A note or form field would print. Flatten it, or --accept annot.print."},
    {"colour.registration", "Registration color in the art. Ask for CMYK, or --accept colour.registration."},
    {"reading.unknown", "Cannot tell how it reads. Look: --incoming right, or wrong if mirrored."},
    {"reading.none", "No letters tell how it reads. Look: --incoming right, or wrong if mirrored."},
    {"reading.mixed", "It reads both ways. Look: --incoming right, or wrong if mirrored."},
    {"reading.conflict", "Text and letters disagree. Look: --incoming right, or wrong if mirrored."},
    {"press.mirror", "The press mirrors, too. Switch mirror OFF there."},
    {"page.ground", "A solid color block prints behind the art. Remove it?"},
    {"page.mixed", "Pages differ in size. One job? --pages takes some."},
    {"picture.alpha", "Clear areas of the picture print nothing."},
    {"picture.jpeg", "JPEG blocks will show. Ask for a better picture."},
    {"line.thin", "Lines may be too thin to print."},
    {"text.small", "Text may be too small to read."},
    {"text.outlined", "Text is outlines; small letters lose their hinting."},
    {"file.format", "The name says another kind of file than it is."},
    {"page.crop", "Part of the page is cropped away and will not print."},
}};

std::string capital(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

/// Without what would accept it: nobody is asked to.
std::string note_text(std::string_view text) {
  auto const accept = text.find(", or --accept");
  return std::string(text.substr(0, accept)) + (accept == std::string_view::npos ? "" : ".");
}

}  // namespace

bool is_always_fixed(std::string const& check) { return check == "page.size" || check == "reading.reverse" || check == "view.scale"; }

int sheets_of(Finding const& f) { return static_cast<int>(figure(f.measured, "sheets")); }

bool is_about_size(std::string const& check) { return check == "ink.size" || check == "ink.margin" || check == "picture.density"; }

bool is_about_reading(std::string const& check) {
  return check == "reading.unknown" || check == "reading.none" || check == "reading.mixed" || check == "reading.conflict";
}

std::string short_words(Finding const& f, Unit unit) {
  bool const open = f.level == Level::hold && !f.accepted;
  auto const length = [&](Figures const& figures, char const* name) { return format_length(Length::points(figure(figures, name)), unit); };
  if (f.check == "ink.size")
    return "Art is " + size_of(f.measured, unit) + ", live area " + size_of(f.wanted, unit) + ". " +
           (!open              ? "Will be scaled."
            : sheets_of(f) > 1 ? "Try --scale shrink, or part it: " + std::to_string(sheets_of(f)) + " sheets."
                               : "Try --scale shrink.");
  if (f.check == "ink.margin") return "Ink in the margin. " + length(f.wanted, "left_pt") + " must stay clear.";
  if (f.check == "ink.cut") return "Page edge cuts the art by " + length(f.measured, "beyond_pt") + ". Ask for a larger page, or --accept ink.cut.";
  if (f.check == "picture.ppi")
    return format_number(figure(f.measured, "ppi"), 0) + " ppi; " + format_number(figure(f.wanted, "ppi"), 0) + " needed.";
  if (f.check == "picture.density")
    return open ? "No ppi in the picture. Say how wide, for instance --width " + format_number(figure(f.measured, "width_px") / 300, 2) + "in."
                : "No ppi in the picture; laid at the size asked for.";
  if (f.check == "white.lost")
    return open ? "White parts will not print on dark goods. Use a press with white, or --accept white.lost." : "White parts will not print.";
  if (f.check == "file.damaged") return "The file is damaged. Ask for it again" + std::string(open ? ", or look and --accept file.damaged." : ".");
  if (f.check == "file.missing") {  // "NAME: why", and the line names the file already
    auto const name = f.message.rfind(": ");
    return capital(name == std::string::npos ? f.message : f.message.substr(name + 2)) + ".";
  }
  if (f.check == "page.scan") return "It is one picture. Edges are only as sharp as that.";
  for (auto const& sentence : kSentences)
    if (sentence.check == f.check) return open ? std::string(sentence.text) : note_text(sentence.text);
  auto const* info = find_check(f.check);
  std::string text = info ? capital(std::string(info->title)) : f.check;
  return text + "." + (open && can_be_accepted(f.check) ? " Look, then --accept " + f.check + "." : "");
}

std::string placed_words(Placement const& placement, Target const& target) {
  auto const at = target.placement.at;
  std::string text = at == Anchor::centre ? "centered" : "at " + std::string(word(at));
  if (placement.turn != Turn::none) text += ", turned " + std::to_string(degrees(placement.turn));
  if (auto const scale = format_number(placement.scale * 100, 1); scale != "100") text += ", at " + scale + "%";
  if (placement.reversed) text += ", mirrored";
  return text;
}

std::string piece_words(Placement const& placement) {
  std::string text = placement.reversed ? "mirrored" : "as it comes";
  if (auto const scale = format_number(placement.scale * 100, 1); scale != "100") text += ", at " + scale + "%";
  return text;
}

std::vector<std::string> options_that_help(std::vector<Finding> const& holds) {
  std::vector<std::string> options;
  auto const held = [&](std::string_view check) { return std::ranges::any_of(holds, [&](auto const& f) { return f.check == check; }); };
  std::string accept;
  for (auto const& f : holds) {
    if (is_about_size(f.check) || is_about_reading(f.check)) continue;
    if (!can_be_accepted(f.check)) return {};
    if (accept.find(f.check) == std::string::npos) accept += (accept.empty() ? "" : ",") + f.check;
  }
  if (std::ranges::any_of(holds, [](auto const& f) { return is_about_reading(f.check); })) options.insert(options.end(), {"--incoming", "right"});
  for (auto const& f : holds)
    if (f.check == "picture.density" && options.end() == std::ranges::find(options, "--width"))
      options.insert(options.end(), {"--width", format_number(figure(f.measured, "width_px") / 300, 2) + "in"});
  if (!held("picture.density") && held("ink.size")) options.insert(options.end(), {"--scale", "shrink"});
  if (!accept.empty()) options.insert(options.end(), {"--accept", accept});
  return options;
}

}  // namespace layright
