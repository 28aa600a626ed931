#include "report/proof.h"

#include "base/module.h"
#include "report/proof_module/entry.h"
#include "report/report.h"

namespace layright {
ProofPage proof_page(PageSummary const& reported, std::string const& file, std::vector<Finding> const& file_findings) {
  ProofPage page;
  page.file = shown_name(file);
  page.number = reported.number;
  page.verdict = reported.verdict;
  page.seen = reported.size.value_or(SeenSize{});
  page.reading = reading_word(reported);
  if (reported.placement) {
    page.placement = reported.placement->matrix;
    page.scale = reported.placement->scale;
  }
  for (auto const& f : reported.findings) {
    ProofFinding one{f.level, f.check, shown_name(f.message), f.places};
    if (f.where) one.places.insert(one.places.begin(), *f.where);
    page.findings.push_back(std::move(one));
  }
  for (auto const& f : file_findings)
    if (!f.suppressed) page.findings.push_back({f.level, f.check, shown_name(f.message), {}});
  return page;
}

Result<std::string> make_proof(Proof const& proof) {
  auto const found = load_from_module("layright-proof", kProofEntry);
  if (!found) return found.error();
  std::string text;
  if (reinterpret_cast<ProofEntry>(*found)(proof, text)) return text;
  return Error{ErrorKind::internal, "the proof could not be made: " + text};
}

Result<ProofForm> proof_form(std::string const& option, std::string const& path) {
  if (path.ends_with(".png")) return ProofForm::png;
  if (path.ends_with(".svg")) return ProofForm::svg;
  if (path.ends_with(".pdf")) return ProofForm::pdf;
  return Error{ErrorKind::usage, option + ": " + shown_name(path) + " ends neither in .png nor in .svg nor in .pdf"};
}

}  // namespace layright
