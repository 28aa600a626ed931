#include "report/paper_module/entry.h"

#include "report/not_made.h"
#include "report/paper_module/job_sheet_layout.h"
#include "report/paper_module/trial_layout.h"

namespace layright {
namespace {

template <class Draw>
bool made(std::string& out, Draw const& draw) {
  try {
    out = draw();
    return true;
  } catch (...) {
    out = why_not_made();
  }
  return false;
}

}  // namespace
}  // namespace layright

extern "C" __attribute__((visibility("default"))) bool layright_make_job_sheet(layright::JobSheet const& sheet, std::string& out) {
  return layright::made(out, [&] { return layright::draw_job_sheet(sheet); });
}

extern "C" __attribute__((visibility("default"))) bool layright_make_trial_sheet(layright::Target const& target, layright::Unit unit,
                                                                                 std::string& out) {
  return layright::made(out, [&] { return layright::draw_trial_sheet(target, unit); });
}
