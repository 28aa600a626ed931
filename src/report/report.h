// What a run has to tell, as it becomes known: files one after another, their pages in order.
#pragma once
#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "report/manifest.h"
#include "report/page_json.h"
#include "report/page_summary.h"

namespace layright {

/// What is known of a file before its pages.
struct FileHead {
  std::string path;    // as the person wrote it, any bytes
  std::string sha256;  // empty where it could not be read
  std::string format;  // "pdf", or empty where it is none that is taken
  int page_count = 0;
};

/// What is known of a file after its pages.
struct FileTail {
  std::vector<Finding> findings;
  Verdict verdict = Verdict::ready;
  std::string output;                     // for `lay`: the file that was written, or empty
  std::string refusal;                    // for `lay`: why none was
  std::vector<std::string> held_by = {};  // for `lay`: the checks whose holds nobody has accepted
  std::vector<std::string> accept = {};   // for `lay`: what would have to be accepted for it to be written; empty where that alone would not do
  std::string wanted_output = {};         // for `lay`: where it was to be written
  std::vector<PlateSummary> plates = {};  // for `lay`: of the white plates on its pages
  std::string plate_output = {};          // for `lay`: the plates' own file, where they have one
  bool piece_ready = false;               // for `gang`: all of its pages could go on sheets
  bool verified = false;                  // the output was read back and shows the same marks
  std::optional<Manifest> manifest = {};  // for `tile`: which part lies on which sheet
};

struct ReportStyle {
  Unit unit = Unit::inch;
  bool colour = false;                  // only ever beside words, never instead of them
  std::string command;                  // "check", "lay", "tile" or "gang": what the person asked for
  std::string assumed;                  // a sentence about a target that nobody named, or empty
  std::vector<std::string> asked = {};  // the words that ask the same of `lay`, for the command that fixes or accepts
  bool reading_open = false;            // nobody said how the printed sheet must read: it is checked as it comes
};

class Report {
 public:
  virtual ~Report() = default;
  virtual void begin_file(FileHead const& head) = 0;
  virtual void page(PageSummary const& page) = 0;
  virtual void end_file(FileHead const& head, FileTail const& tail) = 0;
  virtual void end_run(Verdict verdict) = 0;
};

/// DESIGN section 5; pages are written as they come, each verdict after what it rests on.
std::unique_ptr<Report> json_report(std::FILE* out, Target const& target);
/// For people who want all of it: one line a page when all is well, else what, where, by how much, and the command that fixes it. Verdict last.
std::unique_ptr<Report> text_report(std::FILE* out, Target const& target, ReportStyle const& style);

/// Control characters and bytes that are no UTF-8 made visible, for terminals.
std::string shown_name(std::string_view bytes);

}  // namespace layright
