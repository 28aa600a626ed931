// A target for film on the invented press of testfiles/press.
#pragma once
#include "sheet/target.h"

inline layright::Target film_target(double width_in, double length_in) {
  layright::Target target;
  target.name = "dark-shirt";
  target.sheet.name = "film";
  target.sheet.width = layright::Length::inches(width_in);
  target.sheet.length = layright::Length::inches(length_in);
  target.reading = layright::WantedReading::wrong;
  target.white = {true, 150};
  auto& press = target.press;
  press.name = "bench";
  press.media_source = "by-pass-tray";
  press.media_type = "transparency";
  press.output_bin = "face-up";
  press.print_quality = "high";
  press.printer_resolution = "finest";
  press.print_color_mode = "color";
  press.prints_white = true;
  press.white_on = {{"WhiteLayer", "Under"}, {"WhiteCover", "P{percent}"}};
  press.white_off = {{"WhiteLayer", "Off"}};
  press.no_size_check = {{"SizeWatch", "Off"}};
  press.no_tray_switch = {{"TrayFollow", "Off"}};
  return target;
}
