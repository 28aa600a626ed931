// A press without a queue: what is asked of it, what it says of itself, and what it lacks.
#pragma once
#include <catch2/catch.hpp>
#include <string>

#include "setup/service.h"
#include "support/press_target.h"
#include "support/test_printer.h"

inline layright::Target network_target() {
  auto target = film_target(8.5, 17);
  target.press.printer_resolution = "1200dpi";
  target.press.white_on = target.press.no_size_check = target.press.no_tray_switch = {};
  return target;
}

inline layright::Offer offer_of(TestPrinter const& printer) {
  auto const service = layright::PrintService::connect(printer.address());
  REQUIRE(service);
  auto const offer = (*service)->offer();
  REQUIRE(offer);
  return *offer;
}

/// Findings of settings that the press lacks, one a line; of one check only, where it is named.
inline std::string lacking(layright::Target const& asked, layright::Offer const& offer, std::string const& check = "") {
  std::string text;
  for (auto const& f : layright::unsupported_settings(asked, offer, layright::Unit::inch))
    if (check.empty() || f.check == check) text += (f.level == layright::Level::hold ? "hold " : "note ") + f.check + ": " + f.message + "\n";
  return text;
}
