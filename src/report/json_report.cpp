#include <nlohmann/json.hpp>

#include "base/version.h"
#include "report/report.h"

namespace layright {
namespace {

class JsonReport : public Report {
 public:
  JsonReport(std::FILE* out, Target const& target) : out_(out) {
    put("{\"layright\": " + json_text(program_version()) + ",\n \"target\": " + json_text(target_json(target)) + ",\n \"files\": [");
  }

  void begin_file(FileHead const& head) override {
    Json const format = head.format.empty() ? Json(nullptr) : Json(head.format);
    Json const digest = head.sha256.empty() ? Json(nullptr) : Json(head.sha256);
    put((files_++ ? ",\n  {" : "\n  {") + std::string("\"path\": ") + json_text(head.path) + ", \"sha256\": " + json_text(digest) +
        ", \"format\": " + json_text(format) + ", \"page_count\": " + json_text(head.page_count) + ",\n   \"pages\": [");
    pages_ = 0;
  }

  void page(PageSummary const& page) override {
    put(pages_++ ? ",\n    " : "\n    ");
    put(page_text(page));
  }

  void end_file(FileHead const&, FileTail const& tail) override {
    std::string rest = "],\n   \"findings\": " + reported_text(tail.findings);
    if (auto const left_out = suppressed_text(tail.findings); !left_out.empty()) rest += ", \"suppressed\": " + left_out;
    if (!tail.output.empty()) rest += ", \"output\": " + json_text(tail.output) + ", \"verified\": " + json_text(tail.verified);
    if (tail.manifest) rest += ", " + manifest_members(*tail.manifest);
    if (!tail.plate_output.empty()) rest += ", \"plate_output\": " + json_text(tail.plate_output);
    if (!tail.plates.empty()) rest += ", \"plates\": " + plates_text(tail.plates);
    if (!tail.held_by.empty()) rest += ", \"held_by\": " + json_text(tail.held_by);
    if (!tail.refusal.empty()) rest += ", \"refused\": " + json_text(tail.refusal);
    put(rest + ", \"verdict\": " + json_text(word(tail.verdict)) + "}");
  }

  void end_run(Verdict verdict) override { put("],\n \"verdict\": " + json_text(word(verdict)) + "}\n"); }

 private:
  void put(std::string const& text) { std::fwrite(text.data(), 1, text.size(), out_); }
  std::FILE* out_;
  int files_ = 0, pages_ = 0;
};

}  // namespace

std::unique_ptr<Report> json_report(std::FILE* out, Target const& target) { return std::make_unique<JsonReport>(out, target); }

}  // namespace layright
