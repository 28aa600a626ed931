#include "setup/postscript.h"

#include <algorithm>
#include <cctype>

#include "setup/ipp.h"
#include "setup/ppd_words.h"
#include "setup/render.h"
#include "setup/setting.h"

namespace layright {
namespace {

/// Errors are told in words and never printed as a page, whatever handler the pages' own prolog or the press has: film is dear. What has
/// no place to put it in (PLRM 3, 3.11.3) is passed over.
constexpr char kErrorsInWords[] =
    "mark {\nerrordict /handleerror {\n$error begin newerror {\n"
    "(%%[ Error: ) print errorname 128 string cvs print\n"
    "(; OffendingCommand: ) print mark { /command load 128 string cvs print } stopped cleartomark\n"
    "( ]%%\\n) print flush /newerror false def\n} if end\n} bind put\n} stopped cleartomark\n";

constexpr std::size_t kLongestComment = 200;  // DSC 3.0, 3.3: lines end before 255 characters

bool by_hand(Press const& press) { return press.media_source == "manual" || press.media_source == "by-pass-tray"; }

/// A value from the press's table: numbers, true, false, names and strings as they are written, anything else as a string.
std::string value_of(std::string const& written) {
  bool const number = !written.empty() && written.find_first_not_of("+-.0123456789") == std::string::npos;
  bool const name = written.size() > 1 && written[0] == '/' && std::all_of(written.begin() + 1, written.end(), [](unsigned char c) {
                      return std::isalnum(c) || c == '_' || c == '-' || c == '.';
                    });
  if (number || name || written == "true" || written == "false" || written == "null") return written;
  return postscript_string(written);
}

/// A key from the press's table, if it can be a PostScript name.
bool is_key(std::string const& name) {
  return !name.empty() && std::all_of(name.begin(), name.end(), [](unsigned char c) { return std::isalnum(c) || c == '_'; });
}

std::string comment_text(std::string const& text) {
  std::string out = postscript_string(text);
  return out.size() > kLongestComment ? out.substr(0, kLongestComment) + "...)" : out;
}

/// `%%BeginFeature: KEYWORD CHOICE` around one setpagedevice. A device that refuses stops the job: nothing is caught here.
std::string feature(std::string const& keyword, std::string const& choice, std::string const& entries) {
  return "%%BeginFeature: *" + keyword + " " + choice + "\n<< " + entries + " >> setpagedevice\n%%EndFeature\n";
}

std::string media_word(Press const& press) {
  // The names that PostScript devices use for what IPP calls so; a press with another name gives it under options (MediaType).
  if (press.media_type == "transparency" || press.media_type == "film") return "Transparency";
  return press.media_type;
}

std::string header(Target const& target, std::string const& title) {
  auto const page = target.sheet.page();
  std::string const size = format_number(page.width(), 2) + " " + format_number(page.height(), 2);
  std::string const type = media_word(target.press).empty() ? "()" : postscript_string(media_word(target.press));
  std::string text = "%!PS-Adobe-3.0\n%%Title: " + comment_text(title) + "\n%%Creator: (layright)\n%%LanguageLevel: 3\n";
  text += "%%Orientation: " + std::string(page.width() > page.height() ? "Landscape" : "Portrait") + "\n";
  text += "%%DocumentMedia: film " + size + " 0 () " + type + "\n%%Requirements: numcopies(" + std::to_string(target.copies) + ")\n";
  return text + "%%EndComments\n%%BeginDefaults\n%%PageMedia: film\n%%EndDefaults\n%%BeginProlog\n";
}

std::string policy(SizePolicy size) {
  // PolicyNotFound 1: a key that this device does not know is passed over (PLRM 3, 6.2.7); size and media are not.
  return "/Policies << /PolicyNotFound 1 /PageSize " + std::to_string(static_cast<int>(size)) + " /MediaType 2 >>";
}

/// Which edge leads: the top of the page as laid, which is a short edge of an upright page and, of one that lies across, the long
/// edge that is left on the device's upright page (PLRM 3, 6.2.1, LeadingEdge: 0 top, 1 right, 2 bottom, 3 left).
std::string leading_edge(Sheet const& sheet) { return sheet.feed == Feed::short_edge ? "0" : "3"; }

bool has_key(PressOptions const& options, char const* key) { return options.find(key) != options.end(); }

/// The page size comes last of what chooses a medium, so that tray and type are already settled.
std::string size_feature(Target const& target) {
  auto const page = target.sheet.page();
  std::string const size = format_number(page.width(), 2) + " " + format_number(page.height(), 2);
  return feature("PageSize", "Custom." + format_number(page.width(), 2) + "x" + format_number(page.height(), 2),
                 policy(SizePolicy::ask_operator) + "\n   /PageSize [" + size + "] /ImagingBBox null /LeadingEdge " + leading_edge(target.sheet));
}

/// The PPD's code runs where errors are silent (PPD specification 4.3, 5.1), so the size that came out is looked at: a job for film that
/// the device would print at another size ends before anything is printed: the rest of it is read away, and errors of before are
/// forgotten, so that no handler prints them. A device may tell its sides either way round; media match within 5 units (PLRM 3, 6.2.1).
std::string size_check(Target const& target) {
  auto const page = target.sheet.page();
  std::string const least = format_number(std::min(page.width(), page.height()), 2), most = format_number(std::max(page.width(), page.height()), 2);
  return "currentpagedevice /PageSize get aload pop 2 copy lt { exch } if\n" + least + " sub abs 5 gt exch " + most +
         " sub abs 5 gt or\n{ (layright: the press did not take the size of the sheet; nothing is printed\\n) print flush\n"
         "mark { $error /newerror false put } stopped cleartomark currentfile flushfile stop } if\n";
}

std::string own_entries(PressOptions const& options, White const& white) {
  std::string entries;
  for (auto const& [name, value] : options)
    if (is_key(name)) entries += (entries.empty() ? "/" : " /") + name + " " + value_of(with_percent(value, white));
  return entries;
}

std::string media_features(Target const& target) {
  Press const& press = target.press;
  std::string text;
  if (!has_key(press.options, "MediaPosition") && !press.media_source.empty())
    text += feature("InputSlot", press.media_source, by_hand(press) ? "/ManualFeed true /TraySwitch false" : "/ManualFeed false /TraySwitch false");
  if (!has_key(press.options, "MediaType") && !media_word(press).empty())
    text += feature("MediaType", press.media_type, "/MediaType " + postscript_string(media_word(press)));
  return text;
}

std::string finish_features(Target const& target) {
  Press const& press = target.press;
  std::string text = feature("Duplex", "None", "/Duplex false /Tumble false");
  if (press.output_bin == "face-up" || press.output_bin == "face-down")
    text += feature("OutputBin", press.output_bin, std::string("/OutputFaceUp ") + (press.output_bin == "face-up" ? "true" : "false"));
  if (auto const dots = parse_resolution(press.printer_resolution); dots.across)
    text += feature("Resolution", press.printer_resolution, "/HWResolution [" + std::to_string(dots.across) + " " + std::to_string(dots.along) + "]");
  if (target.reverse_at == ReverseAt::printer) text += feature("MirrorPrint", "True", "/MirrorPrint true");
  return text + feature("NumCopies", std::to_string(target.copies), "/NumCopies " + std::to_string(target.copies));
}

void report_mirror(Target const& target, PostscriptSetup& result) {
  if (target.reverse_at == ReverseAt::printer)
    add_finding(result.findings, "press.mirror", Level::note,
                "the printer is asked to mirror (MirrorPrint); a printer that does not know the word passes it over: print a trial sheet first");
}

void report_lost(std::vector<std::string> const& lost, PostscriptSetup& result) {
  std::string list;
  for (auto const& each : lost) list += (list.empty() ? "" : ", ") + each;
  add_finding(result.findings, "press.option", Level::note,
              "the press's PPD writes " + list + " in job language but gives no envelope for it (JCLBegin), so it is left out: set it at the press");
}

}  // namespace

std::string postscript_string(std::string_view text) {
  std::string out = "(";
  for (unsigned char c : text) {
    if (c == '(' || c == ')' || c == '\\') {
      out += '\\';
      out += static_cast<char>(c);
    } else if (c < 0x20 || c > 0x7e) {
      char const octal[] = {'\\', static_cast<char>('0' + (c >> 6)), static_cast<char>('0' + ((c >> 3) & 7)), static_cast<char>('0' + (c & 7))};
      out.append(octal, sizeof octal);
    } else {
      out += static_cast<char>(c);
    }
  }
  return out + ")";
}

std::vector<int> page_size_policies(std::string_view code) {
  std::vector<int> found;
  for (auto at = code.find("/Policies"); at != std::string_view::npos; at = code.find("/Policies", at + 1)) {
    auto const end = code.find(">>", at);
    auto dictionary = code.substr(at, end == std::string_view::npos ? end : end - at);
    auto const key = dictionary.find("/PageSize");
    if (key == std::string_view::npos) continue;
    dictionary.remove_prefix(key + 9);
    while (!dictionary.empty() && std::isspace(static_cast<unsigned char>(dictionary[0]))) dictionary.remove_prefix(1);
    if (!dictionary.empty() && std::isdigit(static_cast<unsigned char>(dictionary[0]))) found.push_back(dictionary[0] - '0');
  }
  return found;
}

PostscriptSetup postscript_setup(Target const& target, std::string const& title) {
  PostscriptSetup result;
  std::string text = header(target, title) + "%%EndProlog\n%%BeginSetup\n" + kErrorsInWords;
  text += media_features(target) + size_feature(target) + finish_features(target);
  PressOptions all = target.press.options;
  Press const& press = target.press;
  for (auto const* more :
       {target.white.on ? &press.white_on : &press.white_off, target.reverse_at == ReverseAt::printer ? &press.mirror_on : &press.mirror_off,
        &press.no_size_check, &press.no_tray_switch})
    all.insert(more->begin(), more->end());
  if (auto const own = own_entries(all, target.white); !own.empty()) text += feature("Options", "Own", own);
  result.text = text + size_check(target) + "%%EndSetup\n";
  report_mirror(target, result);
  if (auto const unknown = unknown_resolution(target)) result.findings.push_back(*unknown);
  return result;
}

PostscriptSetup postscript_setup(Target const& target, std::string const& title, Ppd const& ppd, PressSetup const& setup) {
  PostscriptSetup result;
  auto const code = ppd.code();
  std::string const body = code.exit_server + code.document + code.page;
  bool const speaks = body.find("setpagedevice") != std::string::npos;
  auto envelope = ppd.envelope(title);
  if (!envelope.lost.empty()) report_lost(envelope.lost, result);
  result.job_language = std::move(envelope.before);
  result.job_language_end = std::move(envelope.after);
  std::string text = header(target, title) + code.prolog + "%%EndProlog\n%%BeginSetup\n" + kErrorsInWords + body;
  if (!body.empty() && body.back() != '\n') text += '\n';
  if (!speaks) {
    text += media_features(target) + size_feature(target);
    add_finding(result.findings, "press.size", Level::note,
                "the press's PPD sets no page in PostScript (its driver reads comments or job language): the size is set in PostScript as well");
  }
  auto const policies = page_size_policies(body);
  bool const safe = std::all_of(policies.begin(), policies.end(), [&](int p) { return p == 0 || p == 2 || (p == 7 && by_hand(target.press)); });
  if (speaks && !safe) {
    text += size_feature(target);
    add_finding(result.findings, "press.size", Level::note,
                "the press's PPD would let it scale, clip or ignore a size that it does not have (PageSize policy " +
                    std::to_string(policies.back()) + "): this is set to ask the operator instead");
  }
  std::string rest;
  if (!setup.about(Topic::sides)) rest += feature("Duplex", "None", "/Duplex false /Tumble false");
  if (!setup.about(Topic::mirror) && target.reverse_at == ReverseAt::printer) {
    rest += feature("MirrorPrint", "True", "/MirrorPrint true");
    report_mirror(target, result);
  }
  rest += feature("NumCopies", std::to_string(target.copies), "/NumCopies " + std::to_string(target.copies));
  result.text = text + rest + size_check(target) + "%%EndSetup\n";
  return result;
}

}  // namespace layright
