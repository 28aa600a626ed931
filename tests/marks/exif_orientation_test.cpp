// The tag as CIPA DC-008-2019 (Exif 2.32) and TIFF 6.0 lay it down; bytes worked out by hand.
#include "marks/exif_orientation.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace layright;

namespace {

std::string number(unsigned value, int size, bool big) {
  std::string bytes;
  for (int i = 0; i < size; ++i) bytes += static_cast<char>(value >> 8 * (big ? size - 1 - i : i) & 255);
  return bytes;
}

struct Tag {
  unsigned number = 274, type = 3, value = 2;
  bool big = true;
};

/// A directory of two tags, the second as asked.
std::string exif(Tag const& t) {
  auto const n = [&](unsigned value, int size) { return number(value, size, t.big); };
  std::string const other = n(271, 2) + n(2, 2) + n(4, 4) + std::string("abc\0", 4);
  std::string const tag = n(t.number, 2) + n(t.type, 2) + n(1, 4) + n(t.value, 2) + n(0, 2);
  return std::string("Exif\0\0", 6) + (t.big ? "MM" : "II") + n(42, 2) + n(8, 4) + n(2, 2) + other + tag + n(0, 4);
}

std::string segment(unsigned char marker, std::string const& data) {
  return std::string("\xFF") + static_cast<char>(marker) + number(static_cast<unsigned>(data.size()) + 2, 2, true) + data;
}

std::string jpeg(std::string const& segments) { return "\xFF\xD8" + segments + segment(0xDA, "xxx") + "pixels\xFF\xD9"; }

int orientation(std::string const& bytes) {
  std::vector<std::uint8_t> const data(bytes.begin(), bytes.end());
  return exif_orientation(data);
}

std::string const kJfif = segment(0xE0, std::string("JFIF\0", 5) + "123456789");

}  // namespace

TEST_CASE("the orientation tag, either byte order, wherever the segment stands", "[exif]") {
  for (unsigned value = 1; value <= 8; ++value)
    for (bool big : {true, false}) {
      CHECK(orientation(jpeg(segment(0xE1, exif({274, 3, value, big})))) == static_cast<int>(value));
      CHECK(orientation(jpeg(kJfif + "\xFF" + segment(0xE1, "http://other") + segment(0xE1, exif({274, 3, value, big})))) == static_cast<int>(value));
    }
}

TEST_CASE("no sound tag means as it lies", "[exif]") {
  CHECK(orientation("") == 1);
  CHECK(orientation("\xFF\xD8") == 1);
  CHECK(orientation(jpeg("")) == 1);
  CHECK(orientation(jpeg(kJfif)) == 1);
  CHECK(orientation("PNG" + segment(0xE1, exif({}))) == 1);
  CHECK(orientation(jpeg(segment(0xE1, exif({.number = 272})))) == 1);
  CHECK(orientation(jpeg(segment(0xE1, exif({.type = 4})))) == 1);
  CHECK(orientation(jpeg(segment(0xE1, exif({.value = 0})))) == 1);
  CHECK(orientation(jpeg(segment(0xE1, exif({.value = 9})))) == 1);
  CHECK(orientation(jpeg(segment(0xDA, "xxx") + segment(0xE1, exif({})))) == 1);  // after the picture has begun
}

TEST_CASE("a tag that is cut anywhere, or points anywhere, is passed over", "[exif]") {
  std::string const whole = jpeg(segment(0xE1, exif({})));
  for (std::size_t length = 0; length < whole.size(); ++length) {
    int const said = orientation(whole.substr(0, length));
    CHECK((said == 1 || said == 2));
  }
  std::string far = exif({});
  for (char offset : {'\x7F', '\xFF'}) {
    for (std::size_t i = 10; i < 14; ++i) far[i] = offset;  // where the directory should lie
    CHECK(orientation(jpeg(segment(0xE1, far))) == 1);
  }
}
