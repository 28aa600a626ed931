// Where everything of the job sheet goes.
#pragma once
#include "report/paper_module/paper_canvas.h"

namespace layright {

/// The whole page. Throws what PaperCanvas throws.
std::string draw_job_sheet(JobSheet const& sheet);

/// job_sheet_picture.cpp: the first sheet with its feed edge, live area and art, and under it the other pages, inside the rectangle.
void draw_page_pictures(PaperCanvas& pen, JobSheet const& sheet, double x0, double y0, double x1, double y1);

}  // namespace layright
