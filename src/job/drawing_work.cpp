#include "job/drawing_work.h"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cmath>
#include <cstring>

#include "base/write_all.h"
#include "check/check.h"
#include "convert/bytes.h"
#include "convert/dsc.h"
#include "convert/font_names.h"
#include "convert/frame_pages.h"
#include "convert/svg_source.h"
#include "isolate/input_file.h"
#include "marks/reader.h"

namespace layright {
namespace {

// A page of a size that nobody asks for, so that it can be told from one that the file chose; within the 14,400 of ISO 32000-1, Annex C.
constexpr SeenSize kPlaceholder{14399, 14398};
constexpr double kRoomBelow = 72;                  // between the placeholder's corner and a bounding box moved there
constexpr double kProgramSeconds = 5;              // times what a page may take
constexpr std::size_t kProgramBytes = 600u << 20;  // address space that the programs and their libraries need for themselves
constexpr std::size_t kScratchBytes = 512u << 20;  // all scratch files of one of them
constexpr int kThreadsForFilters = 16;             // librsvg's, which has some of them at work on blurs
constexpr std::size_t kMostText = 256u << 20;      // of an unpacked drawing

Outcome put(int descriptor, std::string_view text) {
  int const error = write_all(descriptor, text);
  if (error != 0) return Error{ErrorKind::io, std::string("a copy of it cannot be kept: ") + std::strerror(error)};
  return done();
}

/// Ghostscript fails at a box without numbers: such lines become comments that mean nothing ("% BoundingBox: (atend)").
Outcome put_postscript(int descriptor, std::string_view text, std::vector<std::size_t> const& no_boxes) {
  std::size_t from = 0;
  for (auto const at : no_boxes) {
    if (auto const kept = put(descriptor, text.substr(from, at + 1 - from)); !kept) return kept;
    if (auto const kept = put(descriptor, " "); !kept) return kept;
    from = at + 2;
  }
  return put(descriptor, text.substr(from));
}

std::string listed(std::vector<std::string> const& names) {
  std::string out;
  for (auto const& n : names) out += (out.empty() ? "" : ", ") + n;
  return out;
}

Result<DrawingPlan> plan_postscript(Format format, std::span<std::byte const> bytes, DrawingFiles const& files) {
  auto const facts = read_dsc(bytes);
  if (!facts) return facts.error();
  if (!facts->plates.empty())
    return Error{ErrorKind::usage,
                 "its colors lie in several files or parts, one for each ink (DCS), which only some RIPs put together; ask the "
                 "customer for one composite PDF, or an EPS with all colors in it"};
  if (!facts->ends)
    return Error{ErrorKind::data,
                 "it is cut short: its PostScript stops in the middle, without an end of its own; ask the customer to send it again"};
  if (auto const kept = put_postscript(files.source.get(), text_of(bytes.subspan(facts->from, facts->length)), facts->no_boxes); !kept)
    return kept.error();
  bool const eps = format == Format::eps || facts->eps;
  double const dx = eps && facts->box ? std::round(kRoomBelow - facts->box->x0) : 0,
               dy = eps && facts->box ? std::round(kRoomBelow - facts->box->y0) : 0;
  return DrawingPlan{eps, facts->box, facts->media, dx, dy, {}, {}, 0};
}

Result<DrawingPlan> plan_svg(std::span<std::byte const> bytes, DrawingFiles const& files, OriginalFile& source) {
  auto const svg = read_svg_source(bytes, kMostText);
  if (!svg) return svg.error();
  if (!svg->outside.empty())
    source.remarks.push_back({ConversionNote::Kind::left_out,
                              "it asks for things outside of itself, which are never fetched, so the art lacks them: " + listed(svg->outside) +
                                  "; ask the customer for it with everything embedded, or as PDF"});
  for (auto const& why : svg->damaged)
    source.remarks.push_back(
        {ConversionNote::Kind::damaged, "a picture that is embedded in it " + why + "; ask the customer to send it again, or for PDF"});
  for (auto const& why : svg->not_drawn)
    source.remarks.push_back({ConversionNote::Kind::left_out,
                              "a picture that is embedded in it " + why + "; ask the customer for it with PNG or JPEG pictures in it, or as PDF"});
  if (!svg->not_drawn_styles.empty())
    source.remarks.push_back(
        {ConversionNote::Kind::left_out,
         "its style sheet stands apart from it, and is not drawn by; ask the customer for it with its styles inside, or for PDF"});
  if (!svg->sized)
    source.remarks.push_back(
        {ConversionNote::Kind::reported, "it does not say how large it is: its page was made around its ink, 96 px to the inch"});
  if (auto const kept = put(files.source.get(), svg->text); !kept) return kept.error();
  DrawingPlan plan;
  plan.families = svg->families;
  plan.remarks = source.remarks;
  plan.pictures = svg->plain_pictures;
  return plan;
}

/// What a child told; what is of another kind than looking at a drawing gives is for a person to look at.
void repeat_remarks(DrawingPlan const& plan, OriginalFile& source) {
  using Kind = ConversionNote::Kind;
  for (auto const& r : plan.remarks)
    source.remarks.push_back({r.kind == Kind::reported || r.kind == Kind::damaged ? r.kind : Kind::left_out, r.text});
}

/// Fonts that the interpreter put in the place of others: "Substituting font A for B."
void report_substitutes(std::string_view said, OriginalFile& source) {
  constexpr std::size_t kLongestName = 127;  // ISO 32000-1, Annex C
  constexpr std::string_view kSays = "Substituting font ", kFor = " for ";
  std::vector<std::string> missing;
  for (auto at = said.find(kSays); at != std::string_view::npos && missing.size() < 8; at = said.find(kSays, at + 1)) {
    auto const line = said.substr(at, said.find('\n', at) - at);
    auto const of = line.find(kFor);
    if (of == std::string_view::npos) continue;
    std::string name(line.substr(of + kFor.size()));
    if (name.ends_with('.')) name.pop_back();
    if (name.size() > kLongestName) continue;
    if (std::ranges::find(missing, name) == missing.end()) missing.push_back(name);
  }
  if (!missing.empty())
    source.remarks.push_back({ConversionNote::Kind::left_out,
                              "its text is set in fonts that are not in the file, so other fonts stand in their place: " + listed(missing) +
                                  "; ask the customer for it with text turned into outlines, or as PDF with its fonts embedded"});
}

/// Where ink lies on a page that is only a placeholder.
std::optional<Rect<PageSpace>> ink_of(std::span<std::byte const> pdf, int number, Target const& target) {
  auto opened = Document::open(pdf, "pages", {});
  auto const* const document = std::get_if<std::unique_ptr<Document>>(&opened);
  auto const reader = MarksReader::open(pdf, {});
  if (!document || !reader || number > (*document)->page_count()) return std::nullopt;
  MarksWanted wanted;
  wanted.images = wanted.frames = wanted.cut = wanted.text = false;
  wanted.white_prints = target.white_prints();
  wanted.seconds = target.limits.seconds_a_page;
  auto const marks = (*reader)->read((*document)->page(number), wanted);
  if (!marks.ink) return std::nullopt;
  return Rect<PageSpace>{marks.ink->x0, marks.ink->y0, marks.ink->x1, marks.ink->y1};
}

/// Pictures in what the drawing library wrote, which has each of them once, and the transparency of some as one more.
std::size_t pictures_in(std::string_view pdf) {
  auto const count = [&](std::string_view what) {
    std::size_t found = 0;
    for (auto at = pdf.find(what); at != std::string_view::npos; at = pdf.find(what, at + what.size())) ++found;
    return found;
  };
  auto const all = count("/Subtype /Image"), masks = count("/Type /Mask") > 0 ? 0 : count("/SMask ");
  return all - std::min(all, masks);
}

/// Of what a program said: its error, which has a name of PostScript's own (PLRM 3, 3.11.1), in our words. Never its greeting, the numbers of a
/// library's own, the state of its stacks, or what the file itself had it say. Empty where it named none.
std::string what_failed(std::string const& said) {
  struct Kind {
    std::string_view names, words;
  };
  static constexpr std::array<Kind, 5> kKinds{{
      {" undefined undefinedfilename undefinedresource invalidfont ", "it needs something that is not in it"},
      {" invalidfileaccess ", "it asks for files of this machine"},
      {" limitcheck VMerror dictfull dictstackoverflow execstackoverflow stackoverflow interrupt timeout ", "it asks for more than there may be"},
      {" ioerror ", "its data are spoiled or cut short"},
      {" configurationerror ", "it asks for a page that cannot be made"},
  }};
  constexpr std::string_view kSays = "Error: /";
  auto const error = said.find(kSays);
  if (error == std::string::npos) return {};
  auto const rest = std::string_view(said).substr(error + kSays.size());
  auto const name = " " + std::string(rest.substr(0, rest.find_first_of(" \r\n"))) + " ";
  for (auto const& kind : kKinds)
    if (kind.names.find(name) != std::string_view::npos) return std::string(kind.words);
  return "its PostScript is faulty";
}

/// Error where the program did not do its work; nothing of what it wrote is used then.
Outcome ran_well(Outcome const& ran, char const* reader) {
  if (ran) return done();
  if (ran.error().kind == ErrorKind::hold)
    return Error{ErrorKind::hold, "drawing it " + ran.error().message.substr(ran.error().message.find(' ') + 1) +
                                      ", as a file does that never ends; ask for a simpler one, or for PDF"};
  if (ran.error().kind == ErrorKind::io) return ran;
  if (ran.error().message.ends_with(" is not installed") || ran.error().message.ends_with(" must be"))
    return Error{ErrorKind::internal, ran.error().message};
  auto const what = what_failed(ran.error().message);
  return Error{ErrorKind::data,
               std::string(reader) + " cannot draw it" + (what.empty() ? "" : ": " + what) + "; ask the customer to save it again, or for PDF"};
}

Outcome finish_postscript(DrawingPlan const& plan, std::span<std::byte const> made, Target const& target, int output, OriginalFile& source) {
  auto const& box = plan.box;
  bool around_ink = false, by_box = false;
  auto const frame = [&](int page) -> std::optional<Rect<PageSpace>> {
    if (box) {
      by_box = true;
      return box->moved(plan.dx, plan.dy);
    }
    around_ink = true;
    return ink_of(made, page, target);
  };
  auto const framed = frame_pages(made, kPlaceholder, frame, output);
  if (around_ink)
    source.remarks.push_back({ConversionNote::Kind::reported, std::string("it does not say how large it is (no ") +
                                                                  (plan.eps ? "%%BoundingBox" : "page size, %%DocumentMedia or %%BoundingBox") +
                                                                  "): its page was made around its ink"});
  if (by_box && !plan.eps) source.remarks.push_back({ConversionNote::Kind::reported, "it sets no page size: its page was made by its %%BoundingBox"});
  return framed;
}

}  // namespace

Result<DrawingPlan> plan_drawing(Format format, std::span<std::byte const> bytes, DrawingFiles const& files, OriginalFile& source) {
  return format == Format::svg ? plan_svg(bytes, files, source) : plan_postscript(format, bytes, files);
}

SandboxedProgram drawing_program(Format format, DrawingPlan const& plan, DrawingFiles const& files, Limits const& limits) {
  SandboxedProgram program;
  program.input = files.source.get();
  program.output = files.made.get();
  program.messages = files.said.get();
  program.seconds = kProgramSeconds * limits.seconds_a_page;
  program.scratch_bytes = kScratchBytes;
  program.resident_bytes = static_cast<std::size_t>(limits.memory_mb * 1024 * 1024);
  program.memory_bytes = static_cast<std::size_t>(limits.memory_mb * 1024 * 1024) + kProgramBytes;
  if (format == Format::svg) {
    program.threads = kThreadsForFilters;
    program.words = {"rsvg-convert", "--format=pdf", "--dpi-x=96", "--dpi-y=96", "--keep-image-data"};
    return program;
  }
  auto const& media = plan.media;
  bool const eps = plan.eps;
  double const w = media && !eps ? media->x1 : kPlaceholder.width, h = media && !eps ? media->y1 : kPlaceholder.height;
  auto const number = [](double v) { return format_number(v, 3); };
  program.words = {"gs",
                   "-dSAFER",
                   "-dBATCH",
                   "-dNOPAUSE",
                   "-dNOPROMPT",
                   "-sDEVICE=pdfwrite",
                   "-sstdout=%stderr",
                   "-sOutputFile=%stdout",
                   "-dCompatibilityLevel=1.7",
                   "-dAutoRotatePages=/None",
                   "-dColorConversionStrategy=/LeaveColorUnchanged",
                   "-dEmbedAllFonts=true",
                   "-dDownsampleColorImages=false",
                   "-dDownsampleGrayImages=false",
                   "-dDownsampleMonoImages=false",
                   "-dAutoFilterColorImages=false",
                   "-dAutoFilterGrayImages=false",
                   "-dColorImageFilter=/FlateEncode",
                   "-dGrayImageFilter=/FlateEncode",
                   "-dDEVICEWIDTHPOINTS=" + number(w),
                   "-dDEVICEHEIGHTPOINTS=" + number(h)};
  if (eps) program.words.push_back("-dFIXEDMEDIA");
  // What the fourteen standard fonts look like differs from machine to machine unless they come along as well.
  program.words.insert(program.words.end(), {"-c", "<</NeverEmbed []>> setdistillerparams"});
  if (eps) program.words.push_back("<</PageOffset [" + number(plan.dx) + " " + number(plan.dy) + "]>> setpagedevice");
  program.words.insert(program.words.end(), {"-f", "-"});
  return program;
}

Outcome finish_drawing(Format format, DrawingPlan const& plan, Outcome const& ran, DrawingFiles const& files, Target const& target, int output,
                       OriginalFile& source) {
  repeat_remarks(plan, source);
  if (auto const well = ran_well(ran, format == Format::svg ? "librsvg" : "Ghostscript"); !well) return well;
  auto const made = map_whole(files.made.get());
  if (made.empty()) return Error{ErrorKind::data, "there is no page in it; ask the customer to save it again, or for PDF"};
  if (format != Format::svg) {
    report_substitutes(text_of(map_whole(files.said.get())), source);
    return finish_postscript(plan, made, target, output, source);
  }
  auto const fonts = font_names(made);
  std::vector<std::string> missing;
  for (auto const& list : plan.families) {
    auto family = list.substr(0, list.find(','));
    std::erase_if(family, [](char c) { return c == '"' || c == '\''; });
    if (!fonts.empty() && !has_family(fonts, family)) missing.push_back(family);
  }
  std::size_t const asked = plan.pictures, drawn = pictures_in(text_of(made));
  if (drawn < asked)
    source.remarks.push_back({ConversionNote::Kind::left_out, "of " + std::to_string(asked) + " different pictures that lie in sight, only " +
                                                                  std::to_string(drawn) + " were drawn; ask the customer for PDF"});
  if (!missing.empty())
    source.remarks.push_back({ConversionNote::Kind::left_out,
                              "its text asks for fonts that are not on this machine, so other fonts stand in their place: " + listed(missing) +
                                  "; ask the customer for it with text turned into outlines (paths), or as PDF"});
  return put(output, text_of(made));
}

}  // namespace layright
