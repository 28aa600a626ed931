#include "sheet/sizes.h"

namespace layright {

namespace {

constexpr std::string_view kA = "ISO 216 (A series)";
constexpr std::string_view kB = "ISO 216 (B series)";
constexpr std::string_view kRaw = "ISO 217";
constexpr std::string_view kAnsi = "ANSI/ASME Y14.1";
constexpr std::string_view kPwg = "PWG 5101.1";

constexpr SheetSize mm(double width, double length) { return {Length::millimetres(width), Length::millimetres(length)}; }
constexpr SheetSize in(double width, double length) { return {Length::inches(width), Length::inches(length)}; }

}  // namespace

// ISO 216 has another B series than JIS P 0138: a B size here is always ISO's.
std::vector<NamedSize> const& named_sizes() {
  static std::vector<NamedSize> const sizes{
      {"A0", mm(841, 1189), kA},      {"A1", mm(594, 841), kA},      {"A2", mm(420, 594), kA},      {"A3", mm(297, 420), kA},
      {"A4", mm(210, 297), kA},       {"A5", mm(148, 210), kA},      {"A6", mm(105, 148), kA},      {"A7", mm(74, 105), kA},
      {"A8", mm(52, 74), kA},         {"A9", mm(37, 52), kA},        {"A10", mm(26, 37), kA},       {"B0", mm(1000, 1414), kB},
      {"B1", mm(707, 1000), kB},      {"B2", mm(500, 707), kB},      {"B3", mm(353, 500), kB},      {"B4", mm(250, 353), kB},
      {"B5", mm(176, 250), kB},       {"B6", mm(125, 176), kB},      {"B7", mm(88, 125), kB},       {"B8", mm(62, 88), kB},
      {"B9", mm(44, 62), kB},         {"B10", mm(31, 44), kB},       {"RA0", mm(860, 1220), kRaw},  {"RA1", mm(610, 860), kRaw},
      {"RA2", mm(430, 610), kRaw},    {"RA3", mm(305, 430), kRaw},   {"RA4", mm(215, 305), kRaw},   {"SRA0", mm(900, 1280), kRaw},
      {"SRA1", mm(640, 900), kRaw},   {"SRA2", mm(450, 640), kRaw},  {"SRA3", mm(320, 450), kRaw},  {"SRA4", mm(225, 320), kRaw},
      {"ANSI A", in(8.5, 11), kAnsi}, {"ANSI B", in(11, 17), kAnsi}, {"ANSI C", in(17, 22), kAnsi}, {"ANSI D", in(22, 34), kAnsi},
      {"ANSI E", in(34, 44), kAnsi},  {"ANSI F", in(28, 40), kAnsi}, {"Arch A", in(9, 12), kPwg},   {"Arch B", in(12, 18), kPwg},
      {"Arch C", in(18, 24), kPwg},   {"Arch D", in(24, 36), kPwg},  {"Arch E", in(36, 48), kPwg},  {"letter", in(8.5, 11), kPwg},
      {"legal", in(8.5, 14), kPwg},   {"tabloid", in(11, 17), kPwg}, {"ledger", in(11, 17), kPwg},  {"super B", in(13, 19), kPwg},
  };
  return sizes;
}

}  // namespace layright
