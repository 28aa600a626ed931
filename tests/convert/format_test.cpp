// Formats by their bytes. Signatures: see src/convert/format.cpp, which names the standards.
#include "convert/format.h"

#include <catch2/catch.hpp>

#include "convert/bytes.h"

using namespace layright;
using namespace std::string_view_literals;

TEST_CASE("a format is known by its bytes") {
  struct Row {
    std::string_view bytes;
    Format format;
  };
  auto const row = GENERATE(values<Row>({
      {"%PDF-1.4\n"sv, Format::pdf},
      {"\r\nsome mail\r\n%PDF-1.4\n"sv, Format::pdf},
      {"%!PS-Adobe-3.0 PDF-1.4\n"sv, Format::pdf},
      {"%!PS-Adobe-3.0 EPSF-3.0\r%%BoundingBox: 0 0 1 1"sv, Format::eps},
      {"\xC5\xD0\xD3\xC6\x1E\0\0\0"sv, Format::eps},
      {"%!PS-Adobe-3.0\n"sv, Format::postscript},
      {"\x04%!PS\n"sv, Format::postscript},
      {"\x1B%-12345X@PJL JOB\n%!PS\n"sv, Format::postscript},
      {"\xFF\xD8\xFF\xE1"sv, Format::jpeg},
      {"\x89PNG\r\n\x1A\n"sv, Format::png},
      {"II\x2A\0\x08\0\0\0"sv, Format::tiff},
      {"MM\0\x2B\0\x08\0\0"sv, Format::tiff},
      {"8BPS\0\1"sv, Format::psd},
      {"RIFF\x10\0\0\0WEBPVP8 "sv, Format::webp},
      {"\0\0\0\x18"
       "ftypheic\0\0\0\0mif1heic"sv,
       Format::heif},
      {"\0\0\0\x18"
       "ftypmif1\0\0\0\0mif1avif"sv,
       Format::avif},
      {"<svg xmlns='http://www.w3.org/2000/svg'/>"sv, Format::svg},
      {"\xEF\xBB\xBF<?xml version='1.0'?>\n<!-- <html> -->\n<!DOCTYPE svg PUBLIC '' ''>\n<svg:svg/>"sv, Format::svg},
      {"\xFF\xFE<\0s\0v\0g\0>\0"sv, Format::svg},
      {"\x1F\x8B\x08"sv, Format::svg},
      {"PK\3\4\x14\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\x05\0\0\0a.pdf"sv, Format::zip},
      {"PK00PK\3\4\x14\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\x05\0\0\0a.pdf"sv, Format::zip},
      {""sv, Format::none},
      {"hello"sv, Format::none},
  }));
  CHECK(recognise(bytes_of(row.bytes)).format == row.format);
}

TEST_CASE("what is not taken is refused in words, with what to ask for") {
  auto const bytes = GENERATE(values<std::string_view>(
      {"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"sv, "{\\rtf1"sv, "GIF89a"sv, "PK\5\6\0\0\0\0"sv, "7z\xBC\xAF\x27\x1C"sv, "RIFF\x10\0\0\0ABCDvrsn"sv,
       "RIFF\x10\0\0\0WAVEfmt "sv, "<!DOCTYPE html><svg/>"sv, "<html>"sv,
       "\0\0\0\x18"
       "ftypqt  \0\0\0\0qt  qt  "sv,
       "PK\3\4\x14\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\x13\0\0\0[Content_Types].xml"sv, "II\x2A\0\x10\0\0\0CR\2\0"sv}));
  auto const is = recognise(bytes_of(bytes));
  CHECK(is.format == Format::refused);
  CHECK_FALSE(is.what.empty());
  CHECK_FALSE(is.ask.empty());
}

TEST_CASE("a name misleads only where it promises something else") {
  CHECK(misleading_ending("art/crest.png", Format::jpeg) == "png");
  CHECK(misleading_ending("crest.JPEG", Format::jpeg).empty());
  CHECK(misleading_ending("crest.ai", Format::pdf).empty());
  CHECK(misleading_ending("crest.pdf", Format::eps) == "pdf");
  CHECK(misleading_ending("crest", Format::pdf).empty());
  CHECK(misleading_ending("crest.final", Format::pdf).empty());
  CHECK(misleading_ending("v1.2", Format::pdf).empty());
  CHECK(misleading_ending(".png", Format::pdf).empty());
  CHECK(misleading_ending("order.docx", Format::pdf) == "docx");
}

TEST_CASE("each format that is taken says all of itself") {
  for (auto const& f : formats_taken()) {
    CHECK_FALSE(f.word.empty());
    CHECK_FALSE(f.reader.empty());
    CHECK_FALSE(f.size.empty());
    CHECK(f.endings.starts_with(' '));
    CHECK(f.endings.ends_with(' '));
    CHECK(word(f.format) == f.word);
  }
}

TEST_CASE("what comes along with art is known, and told from what should have been art") {
  CHECK(recognise(bytes_of("OTTO\0\1"sv)).beside_art);
  CHECK(recognise(bytes_of("<?xml version='1.0'?><x:xmpmeta/>"sv)).beside_art);
  CHECK_FALSE(recognise(bytes_of("GIF89a"sv)).beside_art);
  CHECK_FALSE(recognise(bytes_of("<html>"sv)).beside_art);
}

TEST_CASE("an ending promises art only where a format that is taken has it") {
  CHECK(ending_of_taken("art/Crest.PNG") == "png");
  CHECK(ending_of_taken("crest.ai") == "ai");
  CHECK(ending_of_taken("read me.txt").empty());
  CHECK(ending_of_taken("png").empty());
}
