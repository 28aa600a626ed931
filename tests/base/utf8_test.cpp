#include "base/utf8.h"

#include <catch2/catch.hpp>
#include <string>

using namespace layright;

// Well-formed sequences are those of RFC 3629, section 4, at both ends of each row of its table.
TEST_CASE("characters and what is none", "[utf8]") {
  auto const [text, code, bytes] = GENERATE(table<std::string, char32_t, std::size_t>({{std::string("\0", 1), 0, 1},
                                                                                       {"a", U'a', 1},
                                                                                       {"\x7F", 0x7F, 1},
                                                                                       {"\xC2\x80", 0x80, 2},
                                                                                       {"\xDF\xBF", 0x7FF, 2},
                                                                                       {"\xE0\xA0\x80", 0x800, 3},
                                                                                       {"\xED\x9F\xBF", 0xD7FF, 3},
                                                                                       {"\xEE\x80\x80", 0xE000, 3},
                                                                                       {"\xEF\xBF\xBF", 0xFFFF, 3},
                                                                                       {"\xF0\x90\x80\x80", 0x10000, 4},
                                                                                       {"\xF4\x8F\xBF\xBF", 0x10FFFF, 4},
                                                                                       {"", 0, 0},
                                                                                       {"\x80", 0, 0},
                                                                                       {"\xC1\xBF", 0, 0},
                                                                                       {"\xC3", 0, 0},
                                                                                       {"\xC3(", 0, 0},
                                                                                       {"\xE0\x9F\xBF", 0, 0},
                                                                                       {"\xED\xA0\x80", 0, 0},
                                                                                       {"\xE2\x82", 0, 0},
                                                                                       {"\xF0\x8F\xBF\xBF", 0, 0},
                                                                                       {"\xF4\x90\x80\x80", 0, 0},
                                                                                       {"\xF5\x80\x80\x80", 0, 0},
                                                                                       {"\xFF", 0, 0}}));
  auto const found = first_character(text);
  CHECK(found.code == code);
  CHECK(found.bytes == bytes);
  if (bytes == 0) return;
  std::string written;
  append_utf8(written, code);
  CHECK(written == text);
  CHECK(first_character(text + "\xFF").bytes == bytes);
}

TEST_CASE("what is no scalar value is replaced", "[utf8]") {
  for (char32_t const code : {0xD800, 0xDFFF, 0x110000}) {
    std::string written = "a";
    append_utf8(written, code);
    CHECK(written == "a\uFFFD");
  }
  CHECK(utf8_of(u"Gold \U0001F98A") == "Gold \U0001F98A");
  CHECK(utf8_of(std::u16string{u'a', 0xD83D, u'b', 0xDD8A}) == "a\uFFFDb\uFFFD");
  CHECK(utf8_of(u"") == "");
}

TEST_CASE("characters of a text, without the bytes that are none", "[utf8]") {
  CHECK(characters_of("a\u00E9\u4E2D\U0001F98A") == U"a\u00E9\u4E2D\U0001F98A");
  CHECK(characters_of("a\xFF\xE2\x82z") == U"az");
}

TEST_CASE("a text is cut between characters", "[utf8]") {
  std::string const text = "a\u4E2Db";  // 1 + 3 + 1 bytes
  CHECK(utf8_prefix(text, 5) == text);
  CHECK(utf8_prefix(text, 9) == text);
  CHECK(utf8_prefix(text, 4) == "a\u4E2D");
  for (std::size_t const most : {1, 2, 3}) CHECK(utf8_prefix(text, most) == "a");
  CHECK(utf8_prefix(text, 0) == "");
  CHECK(utf8_prefix("\x80\x80\x80", 2) == "");
}

// The examples are those of Unicode 15, chapter 3.9, tables 3-8 to 3-11 (their numbers from memory).
TEST_CASE("each beginning that breaks off becomes one sign", "[utf8]") {
  std::string const r = "\uFFFD";
  CHECK(valid_utf8("Fuchs.pdf") == "Fuchs.pdf");
  CHECK(valid_utf8("\u00E9\U0001F98A") == "\u00E9\U0001F98A");
  CHECK(valid_utf8("\xC0\xAF\xE0\x80\xBF\xF0\x81\x82\x41") == r + r + r + r + r + r + r + r + "A");
  CHECK(valid_utf8("\xED\xA0\x80\xED\xBF\xBF\xED\xAF\x41") == r + r + r + r + r + r + r + r + "A");
  CHECK(valid_utf8("\xF4\x91\x92\x93\xFF\x41\x80\xBF\x42") == r + r + r + r + r + "A" + r + r + "B");
  CHECK(valid_utf8("\xE1\x80\xE2\xF0\x91\x92\xF1\xBF\x41") == r + r + r + r + "A");
  CHECK(valid_utf8("x\xE2\x82") == "x" + r);
}

TEST_CASE("names that are the same in other letters fold alike", "[utf8]") {
  CHECK(case_folded("STRA\u00DFE.PDF") == case_folded("strasse.pdf"));
  CHECK(case_folded("Caf\u00E9") == case_folded("CAFE\u0301"));
  CHECK(case_folded("A\xFFZ") == "a\uFFFDz");
}
