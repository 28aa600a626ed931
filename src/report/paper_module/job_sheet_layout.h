// Where everything of the job sheet goes.
#pragma once
#include "report/paper_module/paper_canvas.h"

namespace layright {

/// The whole page. Throws what PaperCanvas throws.
std::string draw_job_sheet(JobSheet const& sheet);

/// job_sheet_picture.cpp: the sheet with its feed edge, live area and art, inside the given rectangle; gives its lowest y.
double draw_sheet_picture(PaperCanvas& pen, JobSheet const& sheet, double x0, double y0, double x1, double y1);

}  // namespace layright
