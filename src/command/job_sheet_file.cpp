#include "command/job_sheet_file.h"

#include <span>

#include "command/command.h"
#include "command/look_at.h"
#include "setup/press_setup.h"
#include "write/output_file.h"

namespace layright {

ExitStatus write_job_sheet(JobSheetFile const& file, Target const& laid_for, Unit unit, std::filesystem::path const& laid,
                           std::vector<SheetCuts> const& cuts) {
  auto options = std::make_shared<InspectOptions>();
  options->target = laid_for;
  options->unit = unit;
  auto const known = look_at(laid, options);
  auto const target = settled(laid_for, known);
  auto const press = prepare_press(target, known.ink, unit);
  if (!press) return fail(press.error());
  JobSheetOptions sheet{target, known, laid, file.paper, unit};
  sheet.cuts = cuts;
  auto const pdf = job_sheet_pdf(sheet, press->setup);
  if (!pdf) return fail(pdf.error());
  auto others = file.inputs;
  others.push_back(laid);
  auto out = OutputFile::create(file.path, file.force, others);
  if (!out) return fail(out.error());
  if (auto const o = out->write(std::as_bytes(std::span(*pdf))); !o) return fail(o.error());
  if (auto const o = out->commit(); !o) return fail(o.error());
  return ExitStatus::ready;
}

}  // namespace layright
