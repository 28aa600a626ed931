#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> file_claim_findings(PageView const& view) {
  auto const broken = broken_claims(view);
  if (!broken || broken->empty()) return {};
  FileArt const& file = *view.file;
  std::string const claim = file.pdfx.empty() ? "PDF/A-" + file.pdfa : file.pdfx;
  Finding f{.check = "file.claim", .level = Level::note};
  f.message = "the file says that it is " + claim + ", and is not: " + joined(*broken) + "; do not rely on what it promises";
  f.measured = {{"count", static_cast<double>(broken->size())}};
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

std::optional<std::vector<std::string>> broken_claims(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.file || !view.structure) return std::nullopt;
  FileArt const& file = *view.file;
  std::vector<std::string> broken;
  if (file.pdfx.empty() && file.pdfa.empty()) return broken;
  auto const lacks_font = [&](FontNote const& font) {
    auto const named = [&](FontEntry const& e) { return e.name == font.name && !e.embedded; };
    return !font.type3 && std::ranges::any_of(view.structure->fonts, named);
  };
  if (std::ranges::any_of(art->fonts, lacks_font)) broken.emplace_back("a font does not come with it");
  if (file.encrypted) broken.emplace_back("it is encrypted");
  auto const shows = [&](std::string_view space) { return std::ranges::any_of(art->colours, [&](ColourNote const& c) { return c.space == space; }); };
  bool const blends = art->transparent.count > 0 || art->soft_masks || !art->blends.empty();
  auto const means = [&](std::string_view kind) { return std::ranges::any_of(file.intents, [&](OutputIntent const& i) { return i.kind == kind; }); };
  if (!file.pdfx.empty()) {
    if (!means("GTS_PDFX")) broken.emplace_back("it has no output intent for it");
    if (!view.page.has_trim && view.page.boxes.art == view.page.boxes.crop) broken.emplace_back("the page has neither a trim nor an art box");
    bool const oldest = file.pdfx.starts_with("PDF/X-1");
    if (oldest && shows("rgb")) broken.emplace_back("it has RGB colors");
    if ((oldest || file.pdfx.starts_with("PDF/X-3")) && blends) broken.emplace_back("it has transparency");
  }
  // ISO 19005-1, 6.2.3: a device's colours need the intent, unless the page gives them a profile by default (ISO 32000-1, 8.6.5.6).
  bool const bare = std::ranges::any_of(art->colours, [](ColourNote const& c) { return c.device; }) && view.structure->profiles.empty();
  if (!file.pdfa.empty() && bare && !means("GTS_PDFA1")) broken.emplace_back("its colors are a device's, and it has no output intent for them");
  if (file.pdfa == "1" && blends) broken.emplace_back("it has transparency");
  return broken;
}

CheckInfo file_claim() {
  return {.id = "file.claim",
          .levels = "note",
          .title = "the file claims to follow a standard and does not",
          .measures = "what the page shows against what the claimed standard allows",
          .limit = "none",
          .source = "ISO 32000-1, 14.11.5 (output intents) and Annex on PDF/X as it cites ISO 15930; what is compared is from memory",
          .does_not_cover = "most of what a validator looks at",
          .explain =
              "A file that says it is PDF/X or PDF/A promises embedded fonts, an output intent and more. layright tells what it sees "
              "broken on a page: fonts that do not come with the file, encryption, no output intent, no trim or art box (PDF/X), and "
              "transparency or RGB where the oldest kinds forbid them. Silence does not mean that the claim holds: use a validator for "
              "that.",
          .needs_marks = true,
          .page = file_claim_findings,
          .needs_art = true};
}

}  // namespace layright
