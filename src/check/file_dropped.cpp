#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

/// `plated`: what is kept with the plate that the target asks for.
std::string claim_words(FileArt const& art, KeptClaims const& kept, KeptClaims const& plated, bool tested) {
  std::vector<std::string> gone;
  if (!art.pdfua.empty()) gone.push_back("PDF/UA-" + art.pdfua + ", which rests on tags");
  std::string const why = tested ? ", which it does not keep" : ", which was not looked at";
  std::string const by_plate = ", which a white plate in the page breaks (one in a file of its own, plate-as = \"file\", does not)";
  if (!art.pdfx.empty() && !kept.pdfx) gone.push_back(art.pdfx + why);
  if (!art.pdfa.empty() && !kept.pdfa)
    gone.push_back("PDF/A-" + art.pdfa + art.pdfa_level + (art.pdfa_level == "A" || art.pdfa_level == "a" ? ", whose level A rests on tags" : why));
  if (!art.pdfx.empty() && kept.pdfx && !plated.pdfx) gone.push_back(art.pdfx + by_plate);
  if (!art.pdfa.empty() && kept.pdfa && !plated.pdfa) gone.push_back("PDF/A-" + art.pdfa + art.pdfa_level + by_plate);
  return gone.empty() ? "" : "the claim of " + joined(gone);
}

std::vector<Finding> file_dropped_findings(FileView const& view) {
  auto lost = view.document.lost_when_laid();
  auto const count = static_cast<double>(lost.size());
  auto const art = view.document.art();
  auto const kept = claims_of_laid(art, view.claims_hold);
  auto const claims = claim_words(art, kept, wants_plate(view.target, PlateAs::spot) ? claims_with_plate(art, kept) : kept, view.claims_tested);
  if (!claims.empty()) lost.push_back(claims);
  if (lost.empty()) return {};
  Finding f{.check = "file.dropped", .level = Level::note};
  f.message = "a laid file keeps what prints; `lay` leaves out " + joined(lost) + "; keep the original where somebody needs " +
              (lost.size() == 1 ? "that" : "them");
  f.measured = {{"count", count + (claims.empty() ? 0.0 : 1.0)}};
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo file_dropped() {
  return {
      .id = "file.dropped",
      .levels = "note",
      .title = "a laid file loses something that does not print",
      .measures =
          "tags, bookmarks, links, form fields, signatures, page labels, named destinations, article threads, attachments, and claims of PDF/UA, "
          "PDF/X and PDF/A that the laid file does not keep",
      .limit = "none",
      .source = "ISO 32000-1, 7.7.2, 12.3, 12.4, 12.7, 14.7; ISO 14289-1, 7.1, from memory",
      .does_not_cover = "scripts and actions (active.content), annotations (annot.print)",
      .explain =
          "`lay` takes over the pages and what they need to print as they do: layers, output intents, metadata. What leads from page to page or "
          "tells what a page means has no place on film: tags, bookmarks, links, form fields, page labels, named destinations, article "
          "threads. This is reported, so that nobody passes the laid file on in place of the original. A claim of PDF/UA goes with the tags. A claim "
          "of PDF/X or PDF/A is kept where every laid page was looked at and keeps what can be tested: fonts that come with it, an output "
          "intent, a trim box, no transparency or RGB where the standard forbids them (file.claim); else it is taken out of the metadata.",
      .file = file_dropped_findings};
}

}  // namespace layright
