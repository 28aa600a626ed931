// The rows of the list of checks: one function a check, in the file of its name, so that everything about a check is in one place.
// A new check is one file, one line here, one line in check.cpp and one test.
#pragma once
#include "check/check.h"

namespace layright {

CheckInfo page_size();
CheckInfo page_feed();
CheckInfo page_rotate();
CheckInfo page_unit();
CheckInfo page_boxes();
CheckInfo page_crop();
CheckInfo page_mixed();
CheckInfo page_missing();
CheckInfo page_correction();
CheckInfo ink_margin();
CheckInfo ink_size();
CheckInfo ink_blank();
CheckInfo ink_cut();
CheckInfo ink_guide();
CheckInfo ink_edge();
CheckInfo file_missing();
CheckInfo file_format();
CheckInfo file_converted();
CheckInfo file_damaged();
CheckInfo file_password();
CheckInfo file_permission();
CheckInfo file_limit();
CheckInfo view_scale();
CheckInfo annot_print();
CheckInfo layer_hidden();
CheckInfo active_content();
CheckInfo picture_density();
CheckInfo picture_turned();
CheckInfo picture_alpha();
CheckInfo reading_unknown();
CheckInfo reading_mixed();
CheckInfo reading_conflict();
CheckInfo reading_reverse();

}  // namespace layright
