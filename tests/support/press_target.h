// A target for film on the invented press of testfiles/press.
#pragma once
#include "sheet/target.h"
#include "support/pdf_maker.h"

inline layright::Target film_target(double width_in, double length_in) {
  layright::Target target;
  target.name = "dark-shirt";
  target.sheet.name = "film";
  target.sheet.width = layright::Length::inches(width_in);
  target.sheet.length = layright::Length::inches(length_in);
  target.reading = layright::WantedReading::wrong;
  target.white = {true, 80};
  auto& press = target.press;
  press.name = "bench";
  press.media_source = "by-pass-tray";
  press.media_type = "transparency";
  press.output_bin = "face-up";
  press.print_quality = "high";
  press.printer_resolution = "finest";
  press.print_color_mode = "color";
  press.prints_white = true;
  press.white_on = {{"WhiteLayer", "Under"}, {"WhiteShare", "P{percent}"}};
  press.white_off = {{"WhiteLayer", "Off"}};
  press.print_unknown_size = press.never_other_tray = true;
  press.no_size_check = {{"SizeStop", "False"}};
  press.no_tray_switch = {{"TraySwitch", "False"}};
  return target;
}

/// A page of the target's sheet with a mark on it: something to send.
inline std::string page_for(layright::Target const& target) {
  layright::test::PdfMaker pdf;
  auto const sheet = target.sheet.page();
  pdf.page().media("[0 0 " + std::to_string(sheet.width()) + " " + std::to_string(sheet.height()) + "]").content("72 72 144 36 re f");
  return pdf.bytes();
}
