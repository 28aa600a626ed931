#include "report/proof.h"

#include "base/module.h"
#include "report/proof_module/entry.h"
#include "report/report.h"

namespace layright {
namespace {

ProofFinding told(Finding const& f, std::function<std::string(Finding const&)> const& words) {
  ProofFinding one{f.level, f.check, shown_name(words(f)), f.places, f.accepted};
  if (f.where) one.places.insert(one.places.begin(), *f.where);
  return one;
}

}  // namespace

ProofPage proof_page(PageSummary const& reported, std::string const& file, std::vector<Finding> const& file_findings,
                     std::function<std::string(Finding const&)> const& words) {
  ProofPage page;
  page.file = shown_name(file);
  page.number = reported.number;
  page.verdict = worse(reported.verdict, verdict_of(file_findings));  // a page of a file that is held is not laid
  page.seen = reported.size.value_or(SeenSize{});
  page.ink = reported.ink;
  if (reported.reading) page.reading = reported.reading->reading;
  if (auto const& where = reported.placement ? reported.placement : reported.as_asked) {
    page.placement = where->matrix;
    page.scale = reported.of_original.value_or(where->scale);
  }
  page.placed = reported.placement.has_value();
  for (auto const& f : reported.findings) {
    page.findings.push_back(told(f, words));
    if (f.check == "white.lost") page.lost_white = page.findings.back().places;
  }
  for (auto const& f : file_findings)
    if (!f.suppressed) page.findings.push_back(told(f, words)), page.findings.back().places.clear();
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
