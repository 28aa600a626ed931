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
CheckInfo image_orientation();
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
CheckInfo picture_ppi();
CheckInfo picture_fine();
CheckInfo picture_square();
CheckInfo picture_jpeg();
CheckInfo picture_mirror();
CheckInfo picture_alternate();
CheckInfo picture_smooth();
CheckInfo picture_fade();
CheckInfo picture_mask();
CheckInfo line_thin();
CheckInfo line_reversed();
CheckInfo text_small();
CheckInfo text_tint();
CheckInfo text_reversed();
CheckInfo font_embedded();
CheckInfo font_damaged();
CheckInfo font_type();
CheckInfo font_missing();
CheckInfo colour_space();
CheckInfo colour_intent();
CheckInfo colour_profile();
CheckInfo colour_black();
CheckInfo colour_registration();
CheckInfo colour_spot();
CheckInfo colour_twin();
CheckInfo colour_overprint();
CheckInfo white_paint();
CheckInfo white_half();
CheckInfo white_plate();
CheckInfo page_ground();
CheckInfo page_blend();
CheckInfo page_scan();
CheckInfo page_marks();
CheckInfo file_claim();
CheckInfo ink_total();

}  // namespace layright
