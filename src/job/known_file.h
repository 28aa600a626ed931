// What whoever sets up or sends a job has to know of its file.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "report/report.h"
#include "setup/operator_list.h"

namespace layright {

struct KnownFile {
  JobFile file;
  std::string format;                   // "pdf", or empty
  Verdict verdict = Verdict::hold;      // against the target of the options
  std::vector<std::string> reported;    // messages of all findings that are no notes
  std::optional<Rect<SheetSpace>> ink;  // over all pages, on the sheet
  std::optional<double> toner_cost;     // of all pages, in the press's currency; nothing: not known
  std::string currency;
  Render render = Render::graphics;  // chosen from the art: ISO 32000-1, Table 70 gives the uses
};

/// A report that keeps what pages tell instead of printing it. `known` must outlive it. With `laid` it keeps what is true of the pages once
/// they are laid as told.
std::unique_ptr<Report> report_into(KnownFile& known, bool laid = false);

/// A press's table as a target has it, with `render` settled: what the target says, else what the art says.
Target settled(Target target, std::optional<KnownFile> const& file);

/// Today in UTC, YYYY-MM-DD; SOURCE_DATE_EPOCH (seconds) is taken instead where it is set, so that output can be repeated.
std::string today();

}  // namespace layright
