// Values are computed by hand from the rules of src/reading/text_reading.cpp unless a row says otherwise.
#include "reading/text_reading.h"

#include <catch2/catch.hpp>
#include <string_view>

using namespace layright;

namespace {

constexpr Matrix<GlyphSpace, SeenSpace> kUpright{10, 0, 0, 10, 0, 0};

struct Line {
  Matrix<GlyphSpace, SeenSpace> to_seen = kUpright;
  bool visible = true, type3 = false;
  int font = 1;
  double x = 50, y = 500;
};

GlyphSeen seen(char32_t letter, Line const& line, double x) {
  static int const fonts[10] = {};
  GlyphSeen glyph;
  glyph.unicode = letter == U'?' ? -1 : static_cast<int>(letter);
  glyph.to_seen = line.to_seen;
  glyph.visible = line.visible;
  glyph.type3 = line.type3;
  glyph.font = &fonts[line.font];
  glyph.where = {x, line.y, x + 5.5, line.y + 7};
  return glyph;
}

/// Letters 6 pt wide side by side; a line of its own. '?' is a glyph without a name.
void write(TextReading& reading, std::u32string_view text, Line const& line = {}) {
  double x = line.x;
  for (char32_t letter : text) {
    if (letter != U' ') reading.add(seen(letter, line, x));
    x += 6;
  }
}

Line mirrored() {
  Line line;
  line.to_seen.a = -10;
  return line;
}

Reading read(TextReading const& reading, std::vector<Rect<SeenSpace>> const& pictures = {}) { return reading.result(pictures).reading; }

/// L, drawn by hand.
GlyphPicture l_shape(bool reversed) {
  GlyphPicture p;
  for (int y = 0; y < GlyphPicture::kSide; ++y)
    for (int x = 0; x < GlyphPicture::kSide; ++x) {
      int const from_stem = reversed ? GlyphPicture::kSide - 1 - x : x;
      if (from_stem < 3 || y < 2) p.ink[static_cast<std::size_t>(y * GlyphPicture::kSide + x)] = 255;
    }
  return p;
}
/// P: a stem and a bowl in the upper half.
GlyphPicture p_shape(bool reversed) {
  GlyphPicture p;
  for (int y = 0; y < GlyphPicture::kSide; ++y)
    for (int x = 0; x < GlyphPicture::kSide; ++x) {
      int const from_stem = reversed ? GlyphPicture::kSide - 1 - x : x;
      bool const bowl = (y == 5 || y == 6 || y >= 10) || (y > 6 && from_stem > 9);
      if (from_stem < 3 || bowl) p.ink[static_cast<std::size_t>(y * GlyphPicture::kSide + x)] = 255;
    }
  return p;
}
/// F: a stem and two bars.
GlyphPicture f_shape(bool reversed) {
  GlyphPicture p;
  for (int y = 0; y < GlyphPicture::kSide; ++y)
    for (int x = 0; x < GlyphPicture::kSide; ++x) {
      int const from_stem = reversed ? GlyphPicture::kSide - 1 - x : x;
      bool const bar = y >= 10 || ((y == 5 || y == 6) && from_stem < 9);
      if (from_stem < 3 || bar) p.ink[static_cast<std::size_t>(y * GlyphPicture::kSide + x)] = 255;
    }
  return p;
}

/// Shows the reader what the font's L, P and F look like.
void show_font(TextReading& reading, Line const& line, bool reversed) {
  reading.add_picture(seen(U'L', line, line.x), l_shape(reversed));
  reading.add_picture(seen(U'P', line, line.x), p_shape(reversed));
  reading.add_picture(seen(U'F', line, line.x), f_shape(reversed));
}

}  // namespace

TEST_CASE("live text tells by its own matrix, whatever turns it", "[reading]") {
  struct Case {
    char const* name;
    Matrix<GlyphSpace, SeenSpace> m;
    Reading expected;
  };
  auto const c =
      GENERATE(Case{"upright", {10, 0, 0, 10, 0, 0}, Reading::right}, Case{"a quarter turn", {0, 10, -10, 0, 0, 0}, Reading::right},
               Case{"a half turn", {-10, 0, 0, -10, 0, 0}, Reading::right}, Case{"slanted by 7 degrees", {9.9, 1.2, -1.2, 9.9, 0, 0}, Reading::right},
               Case{"reversed", {-10, 0, 0, 10, 0, 0}, Reading::wrong}, Case{"upside down in a mirror", {10, 0, 0, -10, 0, 0}, Reading::wrong},
               Case{"reversed and turned", {0, 10, 10, 0, 0, 0}, Reading::wrong}, Case{"flat", {10, 0, 0, 0, 0, 0}, Reading::unknown},
               Case{"not a number", {NAN, 0, 0, 1, 0, 0}, Reading::unknown});
  CAPTURE(c.name);
  TextReading reading;
  Line line;
  line.to_seen = c.m;
  write(reading, U"Lantern", line);
  CHECK(read(reading) == c.expected);
}

TEST_CASE("letters that look the same reversed tell only by their order", "[reading]") {
  struct Case {
    std::u32string_view text;
    Reading expected;
  };
  auto const c = GENERATE(Case{U"AVA", Reading::unknown}, Case{U"TOOT", Reading::unknown}, Case{U"MUM", Reading::unknown},
                          Case{U"O", Reading::unknown}, Case{U"OX", Reading::unknown}, Case{U"", Reading::unknown}, Case{U"...!*", Reading::unknown},
                          Case{U"TOMATO", Reading::right}, Case{U"AVIATOR", Reading::right}, Case{U"R", Reading::right},
                          Case{U"ΑΛΛΑ", Reading::unknown}, Case{U"жёлтый", Reading::right}, Case{U"שלום", Reading::right},
                          Case{U"سلام", Reading::right}, Case{U"山田", Reading::right}, Case{U"\u2192\u2192\u2192\u2192", Reading::unknown});
  CAPTURE(c.text.size());
  TextReading reading, other;
  write(reading, c.text);
  write(other, c.text, mirrored());
  CHECK(read(reading) == c.expected);
  CHECK(read(other) == reversed(c.expected));  // reversing flips right and wrong and leaves unknown
}

TEST_CASE("an ornament does not make a page mixed, a word does", "[reading]") {
  TextReading ornament;
  write(ornament, U"TOYS ");
  write(ornament, U"R", mirrored());
  write(ornament, U" EVERYWHERE ");
  CHECK(read(ornament) == Reading::right);

  TextReading word;
  for (int i = 0; i < 20; ++i) {
    Line line;
    line.y = 700 - 12 * i;
    write(word, U"the long text of a page", line);
  }
  Line back = mirrored();
  back.x = 300, back.y = 50;
  write(word, U"GRENZE", back);
  auto const result = word.result({});
  CHECK(result.reading == Reading::mixed);
  REQUIRE(result.where.size() == 1);
  CHECK(result.where[0] == Rect<SeenSpace>{300, 50, 335.5, 57});

  TextReading half;
  write(half, U"RE");
  write(half, U"RE", mirrored());
  CHECK(read(half) == Reading::mixed);
}

TEST_CASE("invisible text on a picture is reported and decides nothing", "[reading]") {
  TextReading reading;
  Line layer = mirrored();
  layer.visible = false;
  write(reading, U"what the scan says", layer);
  CHECK(reading.result({}).layer == Reading::unknown);
  CHECK(reading.result(std::vector<Rect<SeenSpace>>{{400, 0, 500, 100}}).layer == Reading::unknown);
  auto const on = reading.result(std::vector<Rect<SeenSpace>>{{0, 0, 612, 792}});
  CHECK(on.reading == Reading::unknown);
  CHECK(on.layer == Reading::wrong);
  CHECK(on.layer_on_picture);

  write(reading, U"a stamp", Line{});
  CHECK(read(reading) == Reading::right);
  CHECK(read(reading, {{0, 0, 612, 792}}) == Reading::right);
}

TEST_CASE("text that is not sure to be seen counts where a picture shows it", "[reading]") {
  auto const unsure = [](TextReading& reading, std::u32string_view text, Line const& line) {
    double x = line.x;
    for (char32_t letter : text) {
      GlyphSeen glyph = seen(letter, line, x);
      glyph.sure = false;
      reading.add(glyph);
      x += 6;
    }
  };
  Line back = mirrored();
  back.y = 100;
  TextReading reading;
  write(reading, U"Lantern");
  CHECK_FALSE(reading.asks_sight({}));
  unsure(reading, U"Gastrel", back);
  auto const around = reading.asks_sight({});
  REQUIRE(around);
  CHECK(*around == Rect<SeenSpace>{50, 100, 91.5, 507});
  CHECK(reading.result({}).reading == Reading::mixed);
  // `until`: the part of the line that is seen.
  auto const sight = [&](double share, double until = 1000) {
    return reading.result({}, [share, until](Rect<SeenSpace> const& place, auto const& others) {
      CHECK(place.y0 == 100);     // only what is not sure is asked about …
      CHECK(others.size() == 1);  // … without what sure text shows
      return place.x1 <= until ? share * place.area() : 0.0;
    });
  };
  CHECK(sight(0.3).reading == Reading::mixed);
  CHECK(sight(0.02).reading == Reading::right);
  // Two letters of seven show in full: such text is neither believed nor forgotten.
  CHECK(sight(0.6, 65).reading == Reading::right);
  CHECK(sight(0.6, 65).wrong == 0);
  CHECK(sight(0.6, 65).doubted == 7);
  CHECK(sight(0.6, 80).reading == Reading::mixed);

  TextReading sticks_out;  // one letter sure, the rest of its word in its ground's colour
  write(sticks_out, U"K");
  Line rest;
  rest.x = 56;
  unsure(sticks_out, U"ind", rest);
  auto const nothing = [](auto const&, auto const&) { return 0.0; };
  CHECK(sticks_out.asks_sight({}));
  CHECK(sticks_out.result({}).reading == Reading::right);
  CHECK(sticks_out.result({}, nothing).reading == Reading::unknown);
  CHECK(sticks_out.result({}, nothing).doubted == 1);

  TextReading agreeing;  // where both say the same nobody need look
  write(agreeing, U"Lantern");
  unsure(agreeing, U"Gastrel", Line{});
  CHECK_FALSE(agreeing.asks_sight({}));
}

TEST_CASE("what was painted over in parts is no longer sure to be seen", "[reading]") {
  TextReading reading;
  write(reading, U"Lantern");
  reading.cover({0, 0, 40, 792});     // beside it
  reading.cover({50, 490, 56, 520});  // a seventh of it
  CHECK_FALSE(reading.asks_sight({}));
  for (double x : {56.0, 62.0}) reading.cover({x, 490, x + 6, 520});
  CHECK(reading.asks_sight({}));
  write(reading, U"Lantern");  // on top of all that
  CHECK_FALSE(reading.asks_sight({}));
}

TEST_CASE("glyphs without a name are taken for text only when many agree", "[reading]") {
  TextReading few, many, both;
  write(few, U"???????");
  write(many, U"????????");
  write(both, U"????????");
  write(both, U"?", mirrored());
  CHECK(read(few) == Reading::unknown);
  CHECK(read(many) == Reading::right);
  CHECK(read(both) == Reading::unknown);
}

TEST_CASE("a Type 3 font is not trusted by its matrix alone", "[reading]") {
  TextReading reading;
  Line line;
  line.type3 = true;
  write(reading, U"Lantern", line);
  auto const result = reading.result({});
  CHECK(result.reading == Reading::unknown);
  CHECK(result.doubted == 7);
}

TEST_CASE("a font that draws its letters reversed is found out by their shapes", "[reading]") {
  bool const type3 = GENERATE(false, true), shapes_reversed = GENERATE(false, true), matrix_reversed = GENERATE(false, true);
  CAPTURE(type3, shapes_reversed, matrix_reversed);
  TextReading reading;
  Line line = matrix_reversed ? mirrored() : Line{};
  line.type3 = type3;
  REQUIRE(reading.wants_picture(seen(U'L', line, 50)));
  show_font(reading, line, shapes_reversed);
  CHECK_FALSE(reading.wants_picture(seen(U'L', line, 50)));  // once is enough
  write(reading, U"FLIP", line);
  CHECK(read(reading) == (shapes_reversed == matrix_reversed ? Reading::right : Reading::wrong));
}

TEST_CASE("letters of unknown shape go by the matrix, unless their outlines run the wrong way round", "[reading]") {
  struct Case {
    Winding first, second;
    Reading expected;
  };
  using enum Winding;
  auto const c = GENERATE(Case{unknown, unknown, Reading::right}, Case{usual, usual, Reading::right}, Case{turned, usual, Reading::right},
                          Case{turned, unknown, Reading::unknown}, Case{turned, turned, Reading::unknown});
  TextReading reading;
  std::u32string_view const text = U"שבתדג";
  REQUIRE(reading.wants_picture(seen(text[0], {}, 50)));
  for (auto [letter, winding] : {std::pair(text[0], c.first), std::pair(text[1], c.second), std::pair(text[2], c.second)}) {
    GlyphPicture picture;
    picture.winding = winding;
    reading.add_picture(seen(letter, {}, 50), picture);
  }
  CHECK_FALSE(reading.wants_picture(seen(text[3], {}, 50)));  // three are enough
  write(reading, text);
  CHECK(read(reading) == c.expected);
}

TEST_CASE("a font that one letter speaks against is neither trusted nor turned round", "[reading]") {
  TextReading reading;
  reading.add_picture(seen(U'L', {}, 50), l_shape(true));
  write(reading, U"L");
  CHECK(read(reading) == Reading::unknown);
  CHECK(reading.result({}).doubted == 1);
}

TEST_CASE("memory does not grow with the text", "[reading]") {
  TextReading reading;
  for (int i = 0; i < 60000; ++i) {
    Line line = i % 2 ? mirrored() : Line{};
    line.y = (i % 700) * 20;
    write(reading, U"Rb", line);
  }
  auto const result = reading.result({});
  CHECK(result.reading == Reading::mixed);
  CHECK(result.right + result.wrong == 120000);
  CHECK(result.where.size() <= kMostPlaces);
}
