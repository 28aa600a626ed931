// Outlines of a CFF font that are not there. The fonts are made by hand from Adobe Technical Notes 5176 and 5177.
#include "marks/cff_glyph.h"

#include <catch2/catch.hpp>

#include <cstddef>
#include <vector>

using namespace layright;

namespace {

using Bytes = std::vector<unsigned char>;

constexpr unsigned char kEnd = 14, kMove = 21, kLine = 5, kCall = 10, kOutlines = 17;

void append(Bytes& to, Bytes const& more) { to.insert(to.end(), more.begin(), more.end()); }

/// 5176, section 5, with offsets of one byte.
Bytes index(std::vector<Bytes> const& objects) {
  Bytes out{0, static_cast<unsigned char>(objects.size())};
  if (objects.empty()) return out;
  append(out, {1, 1});
  std::size_t at = 1;
  for (auto const& each : objects) out.push_back(static_cast<unsigned char>(at += each.size()));
  for (auto const& each : objects) append(out, each);
  return out;
}

/// The outlines begin where the dictionary, of four bytes, says; their index begins with two bytes of count and one of width.
struct Font {
  Bytes bytes;
  std::size_t outlines;
};
Font font(std::vector<Bytes> const& glyphs) {
  Bytes const names = index({{'A'}}), rest = [] {
    Bytes two = index({});
    append(two, index({}));
    return two;
  }();
  auto const at = 4 + names.size() + index({Bytes(4)}).size() + rest.size();
  Font made{{1, 0, 4, 1}, at};
  append(made.bytes, names);
  append(made.bytes, index({{28, 0, static_cast<unsigned char>(at), kOutlines}}));
  append(made.bytes, rest);
  append(made.bytes, index(glyphs));
  return made;
}

// A kite (numbers as 5177, 3.2: a byte less 139), and one whose outline is in a subroutine.
Bytes const kKite{150, 150, kMove, 160, 150, 150, 160, 120, 130, kLine, kEnd}, kCalls{150, 150, kMove, 140, kCall};
Bytes const kSpace{200, kEnd};

bool whole(Font const& font, int glyph, bool shows = true) { return cff_glyph_is_whole(font.bytes, glyph, shows); }

}  // namespace

TEST_CASE("cff: outlines that end as they must are whole") {
  auto const made = font({{kEnd}, kKite, kCalls, kSpace});
  for (int const glyph : {0, 1, 2, 3}) CHECK(whole(made, glyph));
  CHECK(whole(made, 3, false));
  CHECK(whole(made, 4));  // it has none of that number
  CHECK(whole(made, -1));
}

TEST_CASE("cff: one that does not end, one without bytes, and one that says a lot and shows nothing are not") {
  auto cut = kKite;
  cut.back() = 0;
  Bytes hidden(13, 139);
  hidden.back() = kEnd;
  auto const made = font({{kEnd}, cut, {}, hidden, Bytes(kKite.size(), 0)});
  CHECK(whole(made, 0));
  CHECK_FALSE(whole(made, 1));
  CHECK_FALSE(whole(made, 2));
  CHECK(whole(made, 3));
  CHECK_FALSE(whole(made, 3, false));
  CHECK_FALSE(whole(made, 4));
}

TEST_CASE("cff: an outline beyond the end, or before its beginning") {
  auto made = font({{kEnd}, kKite, kKite});
  made.bytes.resize(made.bytes.size() - 1);
  CHECK(whole(made, 1));
  CHECK_FALSE(whole(made, 2));
  made = font({{kEnd}, kKite, kKite});
  made.bytes[made.outlines + 3 + 2] = 1;  // where the second kite begins: before the first
  CHECK_FALSE(whole(made, 1));
}

TEST_CASE("cff: what is no such font, or has its outlines nowhere, is left to others") {
  auto made = font({{kEnd}, kKite});
  for (std::size_t size = 0; size < made.bytes.size(); ++size) cff_glyph_is_whole({made.bytes.data(), size}, 1, true);  // reads nothing beyond
  CHECK(cff_glyph_is_whole({made.bytes.data(), made.outlines}, 1, true));
  auto const older = [&] {
    auto other = made;
    other.bytes[0] = 2;
    return other;
  }();
  CHECK(whole(older, 1));
}
