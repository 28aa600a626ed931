#include "report/proof.h"

#include <nlohmann/json.hpp>

#include "base/module.h"
#include "report/proof_module/entry.h"
#include "report/report.h"

namespace layright {
namespace {

Rect<SeenSpace> rect_from(Json const& list) {
  return {list.at(0).get<double>(), list.at(1).get<double>(), list.at(2).get<double>(), list.at(3).get<double>()};
}

Level level_from(std::string const& text) { return text == "hold" ? Level::hold : text == "fix" ? Level::fix : Level::note; }

}  // namespace

ProofPage proof_page(Json const& json, std::string const& file, std::vector<Finding> const& file_findings) {
  ProofPage page;
  page.file = shown_name(file);
  page.number = json.value("number", 1);
  auto const verdict = json.value("verdict", "hold");
  page.verdict = verdict == "ready" ? Verdict::ready : verdict == "fix" ? Verdict::fix : Verdict::hold;
  if (auto const size = json.find("seen_size_pt"); size != json.end()) page.seen = {size->at(0).get<double>(), size->at(1).get<double>()};
  page.reading = json.value("reading", "");
  if (auto const placement = json.find("placement"); placement != json.end() && placement->is_object()) {
    auto const& m = placement->at("matrix");
    page.placement = Matrix<SeenSpace, SheetSpace>{m.at(0).get<double>(), m.at(1).get<double>(), m.at(2).get<double>(),
                                                   m.at(3).get<double>(), m.at(4).get<double>(), m.at(5).get<double>()};
    page.scale = placement->value("scale", 1.0);
  }
  for (auto const& f : json.at("findings")) {
    ProofFinding one{level_from(f.value("level", "")), f.value("check", ""), shown_name(f.value("message", "")), {}};
    if (f.contains("where_pt")) one.places.push_back(rect_from(f["where_pt"]));
    if (f.contains("places_pt"))
      for (auto const& place : f["places_pt"]) one.places.push_back(rect_from(place));
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
