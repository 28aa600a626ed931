// What prints: how it is addressed, what feeds it, where the sheet comes out, whether it lays white.
#pragma once
#include <map>
#include <optional>
#include <string>

#include "sheet/trial.h"

namespace layright {

/// The press's own option names with the choice for each, sent as they are.
using PressOptions = std::map<std::string, std::string>;

/// What the toner of one ink costs. A cartridge prints `pages` pages of A4 of which it covers `coverage_pct` percent.
struct TonerPrice {
  double price = 0;  // of a cartridge, in the shop's currency
  double pages = 0;
  double coverage_pct = 5;  // common practice of makers' figures, no published source
};

/// IPP keywords (RFC 8011 and the IANA IPP registrations) where there are such; empty means that nobody said.
struct Press {
  std::string name;
  std::string ppd;                             // path of its PPD file, or empty
  std::string ipp;                             // ipp:// or ipps:// address, or empty
  std::string queue;                           // in its place: a queue as CUPS names it, film or film/instance, or empty
  std::string user, password_file;             // for a press that asks who one is; or empty
  std::string media_source;                    // e.g. by-pass-tray
  std::string media_type;                      // e.g. transparency
  std::string output_bin;                      // e.g. face-up
  std::string print_quality;                   // draft, normal, high
  std::string printer_resolution;              // e.g. 1200dpi, 600x1200dpi
  std::string print_color_mode;                // e.g. color
  std::string film_side_up;                    // free words for the operator; empty: follow the film's data sheet
  bool prints_white = false;                   // then paper-white marks are ink
  std::string white_ink = "White";             // the name of the separation that it lays white by
  double white_limit_pct = 100;                // the most white that it may lay, as a share of one full layer
  bool correct = false;                        // the file undoes the shift and stretch that the trial sheet showed
  std::optional<Trial> trial;                  // what was last read off a trial sheet; kept beside the configuration
  std::map<std::string, TonerPrice> toner;     // by ink: Cyan, Magenta, Yellow, Black, White, or a separation's own name
  std::string currency;                        // the shop's own word for its money; may be empty
  PressOptions options;                        // always sent
  PressOptions white_on, white_off;            // sent when the target wants white, or wants none
  PressOptions mirror_on, mirror_off;          // sent when the printer reverses, or must not
  bool print_unknown_size = false;             // unknown-size = "print": whatever stops it at a size that it does not know is off
  bool never_other_tray = false;               // other-tray = "never"
  PressOptions no_size_check, no_tray_switch;  // how this press says so, where its driver does not tell by itself
};

}  // namespace layright
