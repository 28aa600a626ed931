// How letters that are outlines or pixels read. The pages are drawn here by the PDF library with its built-in fonts, and only their
// pixels are handed on. Rates and separations over many fonts: tests/reading.
#include "reading/letters.h"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "mupdf/library.h"
#include "raster/blobs.h"
#include "reading/letter_lines.h"
#include "support/pdf_maker.h"

using namespace layright;
using test::PdfMaker;

namespace {

LetterEngine& engine() {
  static auto const loaded = prepare_letters({"eng"});
  REQUIRE(loaded.has_value());
  return **loaded;
}

/// What a page of 300 x 200 pt shows that paints `operators`, with /F as a serif, /S as a sans and /G as Greek letters.
PagePicture picture_of(std::string const& operators, double dpi = 200) {
  PdfMaker pdf;
  pdf.page()
      .media("[0 0 300 200]")
      .use("Font", "F", pdf.font("Times-Roman"))
      .use("Font", "S", pdf.font("Helvetica-Bold"))
      .use("Font", "G", pdf.font("Symbol"))
      .content(operators);
  std::string const bytes = pdf.bytes();
  fz_context* const c = fz_new_context(nullptr, nullptr, FZ_STORE_DEFAULT);
  fz_register_document_handlers(c);
  fz_buffer* const buffer = fz_new_buffer_from_shared_data(c, reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size());
  fz_stream* const stream = fz_open_buffer(c, buffer);
  fz_document* const document = fz_open_document_with_stream(c, "pdf", stream);
  fz_page* const page = fz_load_page(c, document, 0);
  auto picture = draw_page(c, page, {0, 0, 300, 200}, dpi);
  fz_drop_page(c, page);
  fz_drop_document(c, document);
  fz_drop_stream(c, stream);
  fz_drop_buffer(c, buffer);
  fz_drop_context(c);
  REQUIRE(picture);
  return *picture;
}

std::string words(std::string const& text, int size = 36, std::string const& before = "") {
  return before + " BT /F " + std::to_string(size) + " Tf 20 100 Td (" + text + ") Tj ET";
}

PagePicture reversed(PagePicture p) {
  PagePicture const old = p;
  for (int y = 0; y < p.height; ++y)
    for (int x = 0; x < p.width; ++x)
      for (int k = 0; k < 3; ++k)
        p.rgb[static_cast<std::size_t>(3 * (y * p.width + x) + k)] = old.rgb[static_cast<std::size_t>(3 * (y * p.width + p.width - 1 - x) + k)];
  return p;
}

/// A quarter turn counterclockwise.
PagePicture turned(PagePicture const& old) {
  PagePicture p = old;
  p.width = old.height;
  p.height = old.width;
  for (int y = 0; y < p.height; ++y)
    for (int x = 0; x < p.width; ++x)
      for (int k = 0; k < 3; ++k)
        p.rgb[static_cast<std::size_t>(3 * (y * p.width + x) + k)] = old.rgb[static_cast<std::size_t>(3 * (x * old.width + old.width - 1 - y) + k)];
  return p;
}

Reading read(PagePicture const& picture) { return read_letters(engine(), picture).reading; }

}  // namespace

TEST_CASE("letters tell right from wrong in every turn", "[letters][long]") {
  struct Case {
    char const* name;
    std::string operators;
  };
  auto const c = GENERATE(Case{"black on white", words("Lanternwick fog")}, Case{"capitals", words("FERGANEL SPRIL")},
                          Case{"small", words("Gastrel findery porgan", 9)},
                          Case{"light on dark", words("Lanternwick", 40, "0.1 0.1 0.2 rg 0 0 300 200 re f 1 g")},
                          Case{"colours of one lightness", words("Ferganel", 44, "0.1 0.51 0.55 rg 0 0 300 200 re f 0.85 0.25 0.2 rg")},
                          Case{"strokes only", words("Peldragos", 54, "1 Tr 0.9 w 0 G")},
                          Case{"slanted by 8 degrees", words("Ferganel lost", 36, "0.990 0.139 -0.139 0.990 10 -10 cm")},
                          Case{"one short word", "BT /S 60 Tf 60 90 Td (Fergs) Tj ET"});
  CAPTURE(c.name);
  PagePicture picture = picture_of(c.operators);
  for (int turn = 0; turn < 4; ++turn) {
    CAPTURE(turn);
    CHECK(read(picture) == Reading::right);
    CHECK(read(reversed(picture)) == Reading::wrong);
    picture = turned(picture);
  }
}

TEST_CASE("what says nothing is left unknown", "[letters]") {
  auto const operators = GENERATE(std::string(), words("AVA", 60), words("TOOT", 60), words("MUM", 60), words("O", 90), words("R", 90),
                                  words("BOOK", 60), words("RRR RR RRRR RR", 24), std::string("40 40 60 60 re 150 40 60 60 re f"),
                                  std::string("20 w 30 30 m 270 170 l S 30 170 m 270 30 l S"), std::string("0.3 g 0 0 300 200 re f"));
  CAPTURE(operators);
  auto const picture = picture_of(operators);
  CHECK(read(picture) == Reading::unknown);
  CHECK(read(reversed(picture)) == Reading::unknown);
}

TEST_CASE("letters on an arc are straightened", "[letters]") {
  std::string operators = "BT /F 24 Tf ";
  std::string const text = "Ferganel lost";
  for (std::size_t i = 0; i < text.size(); ++i) {
    double const angle = 0.75 - 0.125 * static_cast<double>(i), sine = std::sin(angle), cosine = std::cos(angle);
    operators += std::to_string(cosine) + " " + std::to_string(sine) + " " + std::to_string(-sine) + " " + std::to_string(cosine) + " " +
                 std::to_string(150 - 110 * sine) + " " + std::to_string(20 + 110 * cosine) + " Tm (" + text[i] + ") Tj ";
  }
  auto const picture = picture_of(operators + "ET");
  CHECK(read(picture) == Reading::right);
  CHECK(read(reversed(picture)) == Reading::wrong);
}

TEST_CASE("a page that reads both ways is mixed, with where", "[letters]") {
  auto const picture = picture_of("BT /F 30 Tf 20 150 Td (Ferganel lost Grany) Tj ET BT /F 30 Tf -1 0 0 1 280 40 Tm (Sparel) Tj ET");
  auto const result = read_letters(engine(), picture);
  CHECK(result.reading == Reading::mixed);
  REQUIRE(result.where.size() == 1);
  CHECK(result.where[0].y1 < 80);
  CHECK(result.where[0].x0 > 150);
}

// Each sheet's truth is how its pieces are drawn here: one of them in a mirror.
TEST_CASE("a sheet with one piece the other way round is never told to read one way", "[letters]") {
  auto const large = [](std::string const& word) { return "BT /F 30 Tf 20 150 Td (" + word + ") Tj ET "; };
  auto const odd = [](std::string const& word, int size) { return "BT /S " + std::to_string(size) + " Tf -1 0 0 1 180 60 Tm (" + word + ") Tj ET "; };
  std::string const pieces =
      GENERATE_COPY(large("Repgeffsto") + odd("dundri", 24), large("Nelpesk Class") + odd("Soccer", 18), large("Plumbing") + odd("Bowling", 16),
                    large("Drofog NOR") + odd("Band", 14), large("Harbor Green") + odd("Club", 14),
                    // White upon a patch, beside letters in a frame of the same height.
                    "0.1 0.3 0.2 rg 10 80 130 60 re f 1 g BT /S 20 Tf -1 0 0 1 135 102 Tm (Harbor Club) Tj ET 0 G 2 w 150 85 140 50 re S 0 g "
                    "BT /S 20 Tf 155 102 Td (Nelpesk Hall) Tj ET",
                    // Side by side on one line, and so near that they could be two words.
                    "BT /F 26 Tf 20 100 Td (Limrepfer) Tj ET BT /F 26 Tf -1 0 0 1 260 100 Tm (Ladies) Tj ET");
  CAPTURE(pieces);
  auto const picture = picture_of(pieces);
  auto const one_way = [](Reading reading) { return reading == Reading::right || reading == Reading::wrong; };
  CHECK_FALSE(one_way(read(picture)));
  CHECK_FALSE(one_way(read(reversed(picture))));
}

TEST_CASE("letters of stripes are read, whichever way the stripes run", "[letters][long]") {
  std::string stripes = "q 1 1 1 RG 1.5 w ";
  auto const slanted = GENERATE(0, 60, -120);
  CAPTURE(slanted);
  for (double x = -250; x < 550; x += 3) stripes += std::to_string(x) + " 0 m " + std::to_string(x + slanted) + " 200 l S ";
  auto const picture = picture_of("BT 3 Tc /F 56 Tf 12 110 Td (Geffrida) Tj 0 -70 Td (Spelz kof) Tj ET " + stripes + "Q");
  auto const as_is = read(picture), back = read(reversed(picture));
  CHECK(as_is != Reading::wrong);
  CHECK(back != Reading::right);
  CHECK((as_is == Reading::right || back == Reading::wrong));  // the stripes fall otherwise on the pixels, and one may be left unknown
}

TEST_CASE("the pitch of a screen is found, and joining takes the screen away", "[letters]") {
  GreyPicture picture{210, 70, {}};
  for (int y = 0; y < picture.height; ++y)
    for (int x = 0; x < picture.width; ++x) picture.pixels.push_back(x % 7 < 3 ? 0 : 255);
  CHECK(screen_pitch(picture) == 7);
  auto const smooth = joined(picture, 7);
  int const mean = 255 * 4 / 7;  // of every seven pixels four are white
  CHECK(std::abs(smooth.at(100, 30) - mean) <= 2);
  CHECK(std::abs(smooth.at(103, 30) - mean) <= 2);
  picture.pixels.assign(picture.pixels.size(), 255);
  CHECK(screen_pitch(picture) == 0);
}

TEST_CASE("the words that were read are reported", "[letters]") {
  auto const result = read_letters(engine(), picture_of(words("Lanternwick fog")));
  REQUIRE(result.reading == Reading::right);
  CHECK(result.words == std::vector<std::string>{"Lanternwick", "fog"});
  REQUIRE_FALSE(result.where.empty());
  CHECK(Rect<SeenSpace>{15, 85, 280, 135}.contains(result.where[0]));
}

TEST_CASE("a missing language names its package", "[letters]") {
  auto const missing = prepare_letters({"eng", "xyz_abc"});
  REQUIRE_FALSE(missing.has_value());
  CHECK(missing.error().kind == ErrorKind::usage);
  CHECK(missing.error().message.find("tesseract-ocr-xyz-abc") != std::string::npos);
  auto const path = prepare_letters({"../eng"});
  REQUIRE_FALSE(path.has_value());
  CHECK(path.error().kind == ErrorKind::usage);
}

TEST_CASE("reading opens no file once it is prepared", "[letters]") {
  LetterEngine& ready = engine();
  auto const picture = picture_of(words("Lanternwick fog"));
  pid_t const child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    rlimit const none{0, 0};
    if (setrlimit(RLIMIT_NOFILE, &none) != 0) _exit(2);
    for (std::size_t i = 0; i < ready.languages() + ready.neighbours(); ++i)
      if (!ready.ready(i)) _exit(3);
    _exit(read_letters(ready, picture).reading == Reading::right ? 0 : 1);
  }
  int status = -1;
  REQUIRE(waitpid(child, &status, 0) == child);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);
}

TEST_CASE("pictures stay within their budget of pixels", "[letters]") {
  struct Case {
    Rect<SeenSpace> ink;
    double dpi;
  };
  // By hand: sqrt(4e6 / square inches), 36 to 300.
  auto const c = GENERATE(Case{{0, 0, 72, 72}, 300}, Case{{0, 0, 720, 720}, 200}, Case{{0, 0, 612, 1224}, std::sqrt(4e6 / (8.5 * 17))},
                          Case{{0, 0, 72000, 72000}, 36}, Case{{5, 5, 5, 5}, 300});
  CHECK(dpi_for_letters(c.ink) == Approx(c.dpi));
}

TEST_CASE("a place in the picture is a place on the page", "[letters]") {
  PagePicture picture;
  picture.dpi = 144;
  picture.area = {10, 20, 110, 220};
  CHECK(picture.on_page(0, 0, 20, 40) == Rect<SeenSpace>{10, 200, 20, 220});
}

TEST_CASE("a language of each neighbouring script is at hand", "[letters]") {
  REQUIRE(engine().languages() == 1);
  CHECK(engine().neighbours() == 2);
  auto const two_scripts = prepare_letters({"fra", "ell"});
  REQUIRE(two_scripts.has_value());
  CHECK((*two_scripts)->languages() == 2);
  CHECK((*two_scripts)->neighbours() == 1);
}

TEST_CASE("Greek letters upside down in a mirror look Latin, and decide nothing for a reader of Latin ones", "[letters][long]") {
  // λαρ becomes yab, σολ becomes yoo. Each word is one that an engine without its neighbours reads the wrong way round.
  auto const alone = LetterEngine::load({"eng"}, false);
  REQUIRE(alone.has_value());
  int decided_wrong = 0;
  for (char const* text : {"larlar FeV FeVlarsol", "Genreklar FeV", "Genzirdar rek rek", "Sol darlar", "solsol larsol", "Soldar larlar"})
    for (int size : {24, 30}) {
      std::string const operators = "BT /G " + std::to_string(size) + " Tf 10 100 Td (" + text + ") Tj ET";
      PagePicture const picture = picture_of(operators);
      INFO(text << " at " << size);
      CHECK(read_letters(engine(), picture).reading != Reading::wrong);
      CHECK(read_letters(engine(), reversed(picture)).reading != Reading::right);
      // What the test stands on: the Latin reader alone does read them that way.
      decided_wrong += read_letters(**alone, picture).reading == Reading::wrong;
    }
  CHECK(decided_wrong > 0);
}

namespace {

/// One letter after another, each laid by its own matrix.
std::string laid(std::vector<std::pair<char, char const*>> const& letters, int step = 40) {
  std::string operators = "BT /S 50 Tf ";
  int x = 20;
  for (auto const& [letter, matrix] : letters) {
    bool const back = matrix[0] == '-', down = std::string(matrix).ends_with("-1");
    operators += std::string(matrix) + " " + std::to_string(back ? x + 34 : x) + " " + std::to_string(down ? 136 : 100) + " Tm (" + letter + ") Tj ";
    x += step;
  }
  return operators + "ET";
}

}  // namespace

TEST_CASE("initials and numbers tell right from wrong", "[letters]") {
  auto const text = GENERATE(as<std::string>(), "JJ96", "OTTO 59", "TAO22", "YRH 254", "RP 47", "KID 64", "555-0147", "294");
  CAPTURE(text);
  auto const picture = picture_of("BT /S 48 Tf 20 90 Td (" + text + ") Tj ET");
  CHECK(read(picture) == Reading::right);
  CHECK(read(reversed(picture)) == Reading::wrong);
}

TEST_CASE("numbers and initials that read both ways are left unknown", "[letters]") {
  auto const text = GENERATE(as<std::string>(), "88", "808", "HA 18", "1001", "OX 80", "8", "4", "11", "TAM 0");
  CAPTURE(text);
  auto const picture = picture_of("BT /S 60 Tf 20 90 Td (" + text + ") Tj ET");
  CHECK(read(picture) == Reading::unknown);
  CHECK(read(reversed(picture)) == Reading::unknown);
}

TEST_CASE("letters that are turned or reversed one by one are left to a person", "[letters]") {
  constexpr char const *kUp = "1 0 0 1", *kTurned = "-1 0 0 -1", *kBack = "-1 0 0 1";
  SECTION("turned ones among upright ones, as some scripts have them") {
    auto const picture = picture_of(laid({{'L', kTurned}, {'R', kUp}, {'G', kTurned}, {'F', kUp}, {'J', kTurned}, {'P', kUp}}));
    CHECK(read(picture) == Reading::unknown);
    CHECK(read(reversed(picture)) == Reading::unknown);
  }
  SECTION("reversed ones among upright ones, as for a joke") {
    auto const picture = picture_of(laid({{'R', kBack}, {'F', kUp}, {'G', kBack}, {'J', kUp}, {'N', kBack}, {'4', kUp}}));
    CHECK(read(picture) == Reading::unknown);
    CHECK(read(reversed(picture)) == Reading::unknown);
  }
}

TEST_CASE("letters that fill their picture are no holes in its ground", "[letters]") {
  GreyPicture art{60, 46, std::vector<std::uint8_t>(60 * 46, 255)};  // L and L, 20 x 30 each, 8 around them and 4 between
  for (int left : {8, 32})
    for (int y = 8; y < 38; ++y)
      for (int x = 0; x < 20; ++x)
        if (x < 6 || y >= 32) art.pixels[static_cast<std::size_t>(y * 60 + left + x)] = 0;
  auto const lines = find_lines(find_blobs(art, 128, 1000), 4);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].blobs.size() == 2);
}

TEST_CASE("a fold parts paper from paper, not letters from it", "[letters]") {
  GreyPicture scan{400, 300, {}};
  for (int i = 0; i < 400 * 300; ++i) {
    int const x = i % 400, grain = (i * 7919) % 9;
    scan.pixels.push_back(static_cast<std::uint8_t>(x % 40 < 3 ? 50 + x / 8 + grain : (x < 200 ? 200 : 235) + grain));
  }
  auto const levels = thresholds(scan);
  REQUIRE_FALSE(levels.empty());
  CHECK(levels[0] > 110);
  CHECK(levels[0] < 200);
}

TEST_CASE("paper of many tones is one colour", "[letters]") {
  GreyPicture scan{400, 300, {}};
  for (int i = 0; i < 400 * 300; ++i) {
    int const x = i % 400, grain = (i * 7919) % 13;
    scan.pixels.push_back(static_cast<std::uint8_t>(x % 40 < 3 ? 50 + grain : 205 + x / 12 + grain));
  }
  auto const levels = thresholds(scan);
  REQUIRE_FALSE(levels.empty());
  CHECK(levels[0] > 70);
  CHECK(levels[0] < 200);
}
