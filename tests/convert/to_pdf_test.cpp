// Readers of our own on their way to PDF: what they say of small files, and of broken ones.
#include <catch2/catch.hpp>

#include <array>

#include "convert/bytes.h"
#include "convert/dsc.h"
#include "convert/exif.h"
#include "convert/picture_pages.h"
#include "convert/psd.h"
#include "convert/svg_source.h"

using namespace layright;
using namespace std::string_view_literals;

TEST_CASE("orientation puts the stored top left where Exif 2.3 says") {
  // Table of Exif 2.3, 4.6.4 A: where the 0th row and the 0th column are seen. The stored top left is (0, 1) of the unit square.
  struct Row {
    int orientation;
    double x, y;    // of the stored top left, on a page of 10 x 20
    double rx, ry;  // of the stored top right
  };
  auto const row = GENERATE(values<Row>({{1, 0, 20, 10, 20},
                                         {2, 10, 20, 0, 20},
                                         {3, 10, 0, 0, 0},
                                         {4, 0, 0, 10, 0},
                                         {5, 0, 20, 0, 0},
                                         {6, 10, 20, 10, 0},
                                         {7, 10, 0, 10, 20},
                                         {8, 0, 0, 0, 20}}));
  std::array<double, 6> m{};
  auto const text = orientation_matrix(row.orientation, 10, 20);
  REQUIRE(std::sscanf(text.c_str(), "%lf %lf %lf %lf %lf %lf", &m[0], &m[1], &m[2], &m[3], &m[4], &m[5]) == 6);
  auto const at = [&](double u, double v) { return std::pair(m[0] * u + m[2] * v + m[4], m[1] * u + m[3] * v + m[5]); };
  INFO("orientation " << row.orientation << ": " << text);
  CHECK(at(0, 1) == std::pair(row.x, row.y));
  CHECK(at(1, 1) == std::pair(row.rx, row.ry));
}

TEST_CASE("Exif tells orientation and density, in either byte order, and nothing from bytes that are none") {
  auto const little =
      "II\x2A\0\x08\0\0\0\x03\0"
      "\x12\x01\x03\0\x01\0\0\0\x06\0\0\0"
      "\x1A\x01\x05\0\x01\0\0\0\x32\0\0\0"
      "\x1B\x01\x05\0\x01\0\0\0\x32\0\0\0"
      "\0\0\0\0\x2C\x01\0\0\x01\0\0\0"sv;
  auto const facts = read_exif(bytes_of(little));
  CHECK(facts.orientation == 6);
  CHECK(facts.along == 300);
  CHECK(facts.down == 300);
  for (std::size_t n = 0; n < little.size(); ++n) CHECK(read_exif(bytes_of(little.substr(0, n))).orientation <= 8);
  CHECK(read_exif({}).orientation == 1);
}

TEST_CASE("DSC tells the size of PostScript") {
  auto const facts = [](std::string_view text) {
    auto const f = read_dsc(bytes_of(text));
    REQUIRE(f);
    return *f;
  };
  auto const fine =
      facts("%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 20\n%%HiResBoundingBox: 0.5 0.25 9.5 19.75\n%%EndComments\nshowpage\n%%EOF\n");
  CHECK(fine.eps);
  CHECK(fine.ends);
  REQUIRE(fine.box);
  CHECK(*fine.box == Rect<PageSpace>{0.5, 0.25, 9.5, 19.75});
  auto const late = facts("%!PS-Adobe-3.0\r%%BoundingBox: (atend)\r%%EndComments\rshowpage\r%%Trailer\r%%BoundingBox: 1 2 3 4\r%%EOF");
  REQUIRE(late.box);
  CHECK(*late.box == Rect<PageSpace>{1, 2, 3, 4});
  CHECK_FALSE(facts("%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 20\n10 10 mo").ends);
  CHECK_FALSE(facts("%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 0 0\n%%EOF").box);
  CHECK(facts("%!PS\n%%DocumentMedia: (a film) 612 1224 0 () ()\nshowpage").media == Rect<PageSpace>{0, 0, 612, 1224});
  CHECK_FALSE(facts("%!PS-Adobe-3.0 EPSF-3.0\n%%PlateFile: (Cyan) EPS Local crest.C\n%%EOF").plates.empty());
  CHECK_FALSE(read_dsc(bytes_of("\xC5\xD0\xD3\xC6\x1E\0\0\0\xFF\xFF\0\0"sv)));
}

TEST_CASE("SVG is read as its program reads it, whatever its letters are written as") {
  auto const whole = [](std::string const& text) {
    auto const s = read_svg_source(bytes_of(text), 1 << 20);
    INFO(text);
    REQUIRE(s);
    return *s;
  };
  auto const source = [&](std::string const& inside) { return whole("<svg width='9' height='9'>" + inside + "</svg>"); };
  using Names = std::vector<std::string>;
  CHECK(source("<image href='&#108;ogo.png'/>").outside == Names{"logo.png"});
  CHECK(source("<image href='&#x6c;ogo.png'/>").outside == Names{"logo.png"});
  CHECK(source("<rect fill='&#117;rl(c.svg#f)'/>").outside == Names{"c.svg#f"});
  CHECK(source("<rect style='fill:\\75rl(c.svg#f)'/>").outside == Names{"c.svg#f"});
  CHECK(source("<style>@\\69mport 'd.css';</style>").outside == Names{"d.css"});
  CHECK(source("<style><![CDATA[a{fill:URL(e.svg#x)}]]></style>").outside == Names{"e.svg#x"});
  CHECK(source("<x:image xmlns:x='http://www.w3.org/2000/svg' href='b.png'/>").outside == Names{"b.png"});
  CHECK(source("<g xml:base='http://a.invalid/art/'><image href='b.png'/></g>").outside == Names{"http://a.invalid/art/b.png"});
  CHECK(source("<g xml:base='http://a.invalid/'><use href='#b'/></g>").outside.empty());
  CHECK(source("<image xml:base='b.png' href=''/>").outside == Names{"b.png"});
  CHECK(source("<image href=' DATA:image/png;base64,AAAA'/>").outside.empty());
  std::string const entity = "<!DOCTYPE svg [<!ENTITY where 'logo.png'><!ENTITY all '<image href=\"in.png\"/>'>]>";
  CHECK(whole(entity + "<svg width='9' height='9'><image href='&where;'/></svg>").outside == Names{"logo.png"});
  CHECK(whole(entity + "<svg width='9' height='9'>&all;</svg>").outside == Names{"in.png"});
  CHECK(whole("<!DOCTYPE svg [<!ENTITY e SYSTEM 'else.txt'>]><svg width='9' height='9'/>").outside == Names{"else.txt"});
  CHECK(whole("<!DOCTYPE svg [<!ATTLIST image href CDATA 'given.png'>]><svg width='9' height='9'><image/></svg>").outside == Names{"given.png"});
  CHECK(whole("<?xml-stylesheet href='look.css'?><svg width='9' height='9'/>").outside == Names{"look.css"});
  CHECK(whole("<?xml-stylesheet title='href=\"no.css\"' href='look.css'?><svg width='9' height='9'/>").outside == Names{"look.css"});
  CHECK(whole("<?xml version='1.0' encoding='windows-1252'?><svg width='9' height='9'><image href='\x80.png'/></svg>").outside ==
        Names{"\u20ac.png"});
  std::string wide = "\xFF\xFE";
  for (char c : std::string("<svg width='9' height='9'><image href='b.png'/></svg>")) wide += {c, '\0'};
  CHECK(whole(wide).outside == Names{"b.png"});
  // What is drawn is what was read: no entity, no base, no other encoding is left in it.
  auto const again = whole(entity + "<svg width='9' height='9'><g xml:base='x/'><text>&lt;&amp;\u00fc &where;</text></g></svg>").text;
  CHECK(again.find("xml:base") == std::string::npos);
  CHECK(again.find("ENTITY") == std::string::npos);
  CHECK(again.find("&lt;&amp;\u00fc logo.png") != std::string::npos);
}

TEST_CASE("an SVG that is broken, cut short or grows without end is none") {
  auto const fails = [](std::string const& text) {
    auto const s = read_svg_source(bytes_of(text), 1 << 20);
    REQUIRE_FALSE(s);
    return s.error();
  };
  CHECK(fails("<svg width='9'><g></svg>").message.find("line 1") != std::string::npos);
  CHECK(fails("<svg width='9'><g>").message.find("cut short") != std::string::npos);
  CHECK(fails("<?xml version='1.0' encoding='no-such'?><svg/>").kind == ErrorKind::data);
  std::string bomb = "<!DOCTYPE svg [<!ENTITY a0 '" + std::string(1000, 'x') + "'>";
  for (int i = 1; i < 9; ++i) {
    bomb += "<!ENTITY a" + std::to_string(i) + " '";
    for (int k = 0; k < 10; ++k) bomb += "&a" + std::to_string(i - 1) + ";";
    bomb += "'>";
  }
  CHECK(fails(bomb + "]><svg>&a8;</svg>").kind == ErrorKind::hold);
}

TEST_CASE("SVG tells what it wants from elsewhere") {
  auto const source = [](std::string_view inside) {
    auto const s = read_svg_source(bytes_of("<svg width='9' height='9'>" + std::string(inside) + "</svg>\n"), 1 << 20);
    REQUIRE(s);
    return *s;
  };
  CHECK(source("<rect/>").outside.empty());
  CHECK(source("<rect/>").sized);
  CHECK(source("<use href='#a'/><image xlink:href=\"data:image/png;base64,\"/><a href='http://a.invalid'/>").outside.empty());
  CHECK(source("<image href = 'b.png'/>").outside == std::vector<std::string>{"b.png"});
  CHECK(source("<rect fill='url(#g)' filter=\"url(c.svg#f)\"/>").outside == std::vector<std::string>{"c.svg#f"});
  CHECK(source("<style>@import \"d.css\"; a{fill:url(e.svg#x)}</style>").outside.size() == 2);
  CHECK(source("<!-- <image href='f.png'/> -->").outside.empty());
  CHECK(source("<text font-family='Quill Mark, serif'/>").families == std::vector<std::string>{"Quill Mark, serif"});
  CHECK_FALSE(read_svg_source(bytes_of("<svg width='9'><rect/>"), 1 << 20));
  CHECK(read_svg_source(bytes_of("<svg width='9' height='9'/><!-- made by hand -->"), 1 << 20));
}
