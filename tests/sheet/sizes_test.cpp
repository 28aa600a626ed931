#include "sheet/sizes.h"

#include <cups/cups.h>
#include <cups/pwg.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

using namespace layright;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {
constexpr double kNoise = 1e-6;  // points

void check_size(SheetSize const& size, double width_pt, double length_pt) {
  CHECK_THAT(size.width.in_points(), WithinAbs(width_pt, kNoise));
  CHECK_THAT(size.length.in_points(), WithinAbs(length_pt, kNoise));
}
double mm(double v) { return v * 72 / 25.4; }
}  // namespace

// Points by hand: 1 in = 72 pt, 1 mm = 72/25.4 pt. The two film sizes are common practice, no published source.
TEST_CASE("two lengths make a size, the shorter side first") {
  auto const [text, width, length] = GENERATE(table<std::string, double, double>({
      {"8.5x17in", 612, 1224},
      {"8.5\"x17\"", 612, 1224},
      {"8.5\" x 17\"", 612, 1224},
      {"8.5x17\"", 612, 1224},
      {"8 1/2 x 17in", 612, 1224},
      {"8.5 inches x 17 inches", 612, 1224},
      {"8.5\u201d\u00d717\u201d", 612, 1224},
      {"17x8.5in", 612, 1224},
      {"12.5x19in", 900, 1368},
      {"17 x 8.5 in", 612, 1224},
      {"  8.5 in x 17 in  ", 612, 1224},
      {"8.5inx17in", 612, 1224},
      {"8.5X17IN", 612, 1224},
      {"8.5×17in", 612, 1224},
      {"8.5 × 17 in", 612, 1224},
      {"8.5\tx\t17in", 612, 1224},
      {"612x1224pt", 612, 1224},
      {"215.9x431.8mm", 612, 1224},
      {"21.59x43.18cm", 612, 1224},
      {"8.5in x 431.8mm", 612, 1224},
      {"431.8mm x 8.5in", 612, 1224},
      {"216x432mm", mm(216), mm(432)},
      {".5x.25in", 18, 36},
      {"5x5in", 360, 360},
      {"200x200in", 14400, 14400},
      {"5080x1mm", mm(1), 14400},
      {"14400x14400pt", 14400, 14400},
  }));
  CAPTURE(text);
  auto const size = parse_size(text);
  REQUIRE(size);
  check_size(*size, width, length);
}

// PWG 5101.1: class_name_WIDTHxLENGTHunit.
TEST_CASE("self-describing names are read") {
  auto const [text, width, length] = GENERATE(table<std::string, double, double>({
      {"na_ledger_11x17in", 792, 1224},
      {"na_letter_8.5x11in", 612, 792},
      {"iso_a4_210x297mm", mm(210), mm(297)},
      {"iso_sra3_320x450mm", mm(320), mm(450)},
      {"na_12x19_12x19in", 864, 1368},
      {"asme_f_28x40in", 2016, 2880},
      {"custom_film_8.5x17in", 612, 1224},
      {"custom_wide-film.2_12.5x19in", 900, 1368},
      {"oe_film_8.5x17in", 612, 1224},
      {"custom_film_215.9x431.8mm", 612, 1224},
      {"custom_film_17x8.5in", 612, 1224},
      {" na_ledger_11x17in ", 792, 1224},
  }));
  CAPTURE(text);
  auto const size = parse_size(text);
  REQUIRE(size);
  check_size(*size, width, length);
}

TEST_CASE("malformed self-describing names are refused, though libcups takes some of them") {
  auto const [text, why] = GENERATE(table<std::string, std::string>({
      {"custom_8.5x17in", "two underscores"},
      {"custom_a_b_8.5x17in", "two underscores"},
      {"_8.5x17in", "two underscores"},
      {"custom_film_8.5x17", "in or mm at the end"},
      {"custom_film_8.5x17pt", "in or mm at the end"},
      {"custom_film_8.5x17IN", "in or mm at the end"},
      {"custom_film_8.5X17in", "must be two numbers"},
      {"custom_film_8.5in", "must be two numbers"},
      {"custom_film_-8.5x17in", "must be two numbers"},
      {"custom_film_8.5 x17in", "must be two numbers"},
      {"custom_film_8.5x17x3in", "cannot be read"},
      {"custom_film_x17in", "cannot be read"},
      {"custom_film_8.5xin", "cannot be read"},
      {"custom_film_8.5.1x17in", "cannot be read"},
      {"custom_film_0x17in", "above zero"},
      {"custom_film_8.5x201in", "too long"},
      {"custom_film_8.5x99999999999in", "too long"},
      {"custom__8.5x17in", "its name"},
      {"custom_Film_8.5x17in", "its name"},
      {"Custom_film_8.5x17in", "is no class"},
      {"own_film_8.5x17in", "is no class"},
      {"disc_standard_40x118mm", "is no class"},
      {"__", "is no class"},
  }));
  CAPTURE(text);
  auto const size = parse_size(text);
  REQUIRE_FALSE(size);
  CHECK(size.error().kind == ErrorKind::usage);
  CHECK_THAT(size.error().message, Contains(why));
}

TEST_CASE("names are known without regard to case, blanks and dashes") {
  auto const [text, width, length] = GENERATE(table<std::string, double, double>({
      {"a4", mm(210), mm(297)},
      {"sra3", mm(320), mm(450)},
      {"ANSI B", 792, 1224},
      {"ansi-b", 792, 1224},
      {"AnsiB", 792, 1224},
      {"arch e", 2592, 3456},
      {"tabloid", 792, 1224},
      {"Ledger", 792, 1224},
      {"letter", 612, 792},
      {"LEGAL", 612, 1008},
      {"Super-B", 936, 1368},
  }));
  CAPTURE(text);
  auto const size = parse_size(text);
  REQUIRE(size);
  check_size(*size, width, length);
}

TEST_CASE("what is no size is refused, and told why") {
  auto const [text, why] = GENERATE(table<std::string, std::string>({
      {"", "the size is empty"},
      {"   ", "the size is empty"},
      {"8.5x17", "has no unit at its end"},
      {"8.5inx17", "has no unit at its end"},
      {"8.5x", "has no unit at its end"},
      {"8.5in", "is no size"},
      {"8.5 17in", "is no size"},
      {"8.5*17in", "is no size"},
      {"1x2x3in", "is no size"},
      {"8,5x17in", "not a comma"},
      {"8.5x17zz", "the unit must be"},
      {"8.5 1/2x17in", "cannot be read"},
      {"1e1x17in", "cannot be read"},
      {"8.5xin", "cannot be read"},
      {"0x17in", "above zero"},
      {"8.5x0in", "above zero"},
      {"-8.5x17in", "above zero"},
      {"8.5x-17in", "above zero"},
      {"200.1x1in", "at most 200in"},
      {"5081x1mm", "at most 200in"},
      {"14400.1x1pt", "at most 200in"},
      {"tabliod", "did you mean \"tabloid\"?"},
      {"lettre", "did you mean \"letter\"?"},
      {"SRA33", "did you mean \"SRA3\"?"},
      {"x", "is no size that is known here"},
      {"nanxnanin", "is no size that is known here"},
      {"what a large sheet this is", "two lengths with their unit"},
  }));
  CAPTURE(text);
  auto const size = parse_size(text);
  REQUIRE_FALSE(size);
  CHECK(size.error().kind == ErrorKind::usage);
  CHECK_THAT(size.error().message, Contains(why));
}

TEST_CASE("every named size reads as itself, the shorter side first, once") {
  std::set<std::string_view> names;
  for (auto const& named : named_sizes()) {
    CAPTURE(named.name);
    auto const size = parse_size(named.name);
    REQUIRE(size);
    CHECK(size->width == named.size.width);
    CHECK(size->length == named.size.length);
    CHECK(size->width < size->length);
    CHECK_FALSE(named.source.empty());
    CHECK(names.insert(named.name).second);
  }
}

// libcups' own table (PWG 5101.1) judges the constants.
TEST_CASE("libcups knows each named size to 0.01 mm") {
  auto const [name, registered] = GENERATE(table<std::string, std::string>({
      {"A0", "iso_a0_841x1189mm"},      {"A1", "iso_a1_594x841mm"},       {"A2", "iso_a2_420x594mm"},      {"A3", "iso_a3_297x420mm"},
      {"A4", "iso_a4_210x297mm"},       {"A5", "iso_a5_148x210mm"},       {"A6", "iso_a6_105x148mm"},      {"A7", "iso_a7_74x105mm"},
      {"A8", "iso_a8_52x74mm"},         {"A9", "iso_a9_37x52mm"},         {"A10", "iso_a10_26x37mm"},      {"B0", "iso_b0_1000x1414mm"},
      {"B1", "iso_b1_707x1000mm"},      {"B2", "iso_b2_500x707mm"},       {"B3", "iso_b3_353x500mm"},      {"B4", "iso_b4_250x353mm"},
      {"B5", "iso_b5_176x250mm"},       {"B6", "iso_b6_125x176mm"},       {"B7", "iso_b7_88x125mm"},       {"B8", "iso_b8_62x88mm"},
      {"B9", "iso_b9_44x62mm"},         {"B10", "iso_b10_31x44mm"},       {"RA0", "iso_ra0_860x1220mm"},   {"RA1", "iso_ra1_610x860mm"},
      {"RA2", "iso_ra2_430x610mm"},     {"RA3", "iso_ra3_305x430mm"},     {"RA4", "iso_ra4_215x305mm"},    {"SRA0", "iso_sra0_900x1280mm"},
      {"SRA1", "iso_sra1_640x900mm"},   {"SRA2", "iso_sra2_450x640mm"},   {"SRA3", "iso_sra3_320x450mm"},  {"SRA4", "iso_sra4_225x320mm"},
      {"ANSI A", "na_letter_8.5x11in"}, {"ANSI B", "na_ledger_11x17in"},  {"ANSI C", "na_c_17x22in"},      {"ANSI D", "na_d_22x34in"},
      {"ANSI E", "na_e_34x44in"},       {"ANSI F", "asme_f_28x40in"},     {"Arch A", "na_arch-a_9x12in"},  {"Arch B", "na_arch-b_12x18in"},
      {"Arch C", "na_arch-c_18x24in"},  {"Arch D", "na_arch-d_24x36in"},  {"Arch E", "na_arch-e_36x48in"}, {"letter", "na_letter_8.5x11in"},
      {"legal", "na_legal_8.5x14in"},   {"tabloid", "na_ledger_11x17in"}, {"ledger", "na_ledger_11x17in"}, {"super B", "na_super-b_13x19in"},
  }));
  CAPTURE(name, registered);
  auto const* const media = pwgMediaForPWG(registered.c_str());
  REQUIRE(media != nullptr);
  auto const size = parse_size(name);
  REQUIRE(size);
  CHECK_THAT(size->width.in_millimetres() * 100, WithinAbs(media->width, 1));  // libcups counts in 1/100 mm
  CHECK_THAT(size->length.in_millimetres() * 100, WithinAbs(media->length, 1));
  CHECK(pwg_name(*size) == registered);
}

// ISO 216: each size is the one before halved across its longer side, rounded down to whole millimetres.
TEST_CASE("the A and B series halve from size to size") {
  auto const series = GENERATE(as<std::string>{}, "A", "B");
  for (int n = 0; n < 10; ++n) {
    auto const larger = parse_size(series + std::to_string(n)), smaller = parse_size(series + std::to_string(n + 1));
    REQUIRE(larger);
    REQUIRE(smaller);
    CAPTURE(series, n);
    CHECK_THAT(smaller->length.in_millimetres(), WithinAbs(larger->width.in_millimetres(), kNoise));
    CHECK_THAT(smaller->width.in_millimetres(), WithinAbs(std::floor(larger->length.in_millimetres() / 2 + 1e-9), kNoise));
  }
}

TEST_CASE("unregistered sizes get a name of their own") {
  auto const [text, name] = GENERATE(table<std::string, std::string>({
      {"8.5x17in", "custom_layright_8.5x17in"},
      {"12.5x19in", "custom_layright_12.5x19in"},
      {"17x8.5in", "custom_layright_8.5x17in"},
      {"216x432mm", "custom_layright_216x432mm"},
      {"13x19in", "na_super-b_13x19in"},
      {"12.98x19in", "custom_layright_329.69x482.6mm"},  // 0.02 in beside 13x19, which libcups alone would take for it
      {"595x842pt", "iso_a4_210x297mm"},                 // A4 in whole points: 0.28 pt off
      {"5080x1mm", "custom_layright_1x5080mm"},
  }));
  CAPTURE(text);
  CHECK(pwg_name(*parse_size(text)) == name);
}

TEST_CASE("a size's name reads as the size") {
  double const width = GENERATE(take(50, random(10.0, 14400.0)));
  double const length = GENERATE(take(4, random(10.0, 14400.0)));
  auto const size = parse_size(format_size(Length::points(width), Length::points(length), Unit::point));
  REQUIRE(size);
  auto const again = parse_size(pwg_name(*size));
  CAPTURE(width, length, pwg_name(*size));
  REQUIRE(again);
  CHECK_THAT(again->width.in_points(), WithinAbs(size->width.in_points(), 0.52));
  CHECK_THAT(again->length.in_points(), WithinAbs(size->length.in_points(), 0.52));
}

TEST_CASE("the nearest name is one that was meant, or none") {
  std::vector<std::string> const known{"margin", "size", "feed", "narrow-film", "wide-film"};
  auto const [word, nearest] = GENERATE(table<std::string, std::string>({
      {"margins", "margin"},
      {"magrin", "margin"},
      {"MARGIN", "margin"},
      {"szie", "size"},
      {"fead", "feed"},
      {"narow-film", "narrow-film"},
      {"wide_film", "wide-film"},
      {"narrow", "narrow-film"},
      {"wide", "wide-film"},
      {"", ""},
      {"x", ""},
      {"xyz", ""},
      {"completely-else", ""},
      {std::string(100000, 'm'), ""},
  }));
  CAPTURE(word);
  CHECK(nearest_name(word, known) == nearest);
  CHECK(nearest_name(word, {}).empty());
}
