// Makes src/reading/letter_shape_table.cpp from font files, or prints how well it tells other fonts from their reversal.
//   shapes --teach FONT-FILE… > src/reading/letter_shape_table.cpp
//   shapes --score FONT-FILE…
#include <cstdio>
#include <cstring>
#include <string>
#include <vector>

#include "reading/letter_shape.h"
#include "reading/letter_shape_table.h"

extern "C" {
#include <mupdf/fitz.h>
}

namespace {
using namespace layright;
constexpr char32_t kLetters[] =
    U"BCDEFGJKLPQRSNZacdefghjkbpqrstyz1234567"
    U"9ΓΣΨαβγδεζηκλμξρσςБГДЗИЛУЦЧЩЬЭЮЯбвгдзилуцчщъьэюяЄє";

std::optional<GlyphPicture> picture_of(fz_context* c, fz_font* font, char32_t letter) {
  int const glyph = fz_encode_character(c, font, static_cast<int>(letter));
  return glyph > 0 ? draw_glyph(c, font, glyph) : std::nullopt;
}

fz_font* open(fz_context* c, char const* file) {
  fz_font* font = nullptr;
  fz_var(font);
  fz_try(c) font = fz_new_font_from_file(c, nullptr, file, 0, 0);
  fz_catch(c) std::fprintf(stderr, "%s cannot be opened\n", file);
  return font;
}

std::string utf8(char32_t u) {
  std::string s;
  if (u < 0x80) return s += static_cast<char>(u);
  s += static_cast<char>(0xC0 | (u >> 6));
  return s += static_cast<char>(0x80 | (u & 0x3F));
}

void teach(fz_context* c, std::vector<fz_font*> const& fonts) {
  std::printf("#include \"reading/letter_shape_table.h\"\n\nnamespace layright {\n\nLetterShape const kLetterShapes[kLetterShapeCount] = {\n");
  for (char32_t letter : kLetters) {
    if (letter == 0) break;
    std::array<long, GlyphPicture::kSide * GlyphPicture::kSide> sum{};
    long count = 0;
    for (fz_font* font : fonts)
      if (auto const p = picture_of(c, font, letter)) {
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += p->ink[i];
        ++count;
      }
    std::printf("    {U'%s', \"", utf8(letter).c_str());
    for (long s : sum) std::printf("%lx", count ? s * 15 / (count * 255) : 0L);
    std::printf("\"},\n");
  }
  std::printf("};\n\n");
}

char const* name(FontShape s) {
  return s == FontShape::natural ? "natural" : s == FontShape::reversed ? "REVERSED" : s == FontShape::doubtful ? "doubtful" : "untested";
}

void score(fz_context* c, fz_font* font, char const* file) {
  for (std::u32string_view letters : {U"RGa", U"aenrts12", U"KEJRBPFD", U"яшдвгбуз"}) {
    FontShapeTest test, mirrored;
    for (char32_t letter : letters)
      if (auto p = picture_of(c, font, letter)) {
        test.add(static_cast<int>(letter), *p);
        auto m = *p;
        for (int y = 0; y < GlyphPicture::kSide; ++y)
          for (int x = 0; x < GlyphPicture::kSide; ++x)
            m.ink[static_cast<std::size_t>(y * GlyphPicture::kSide + x)] =
                p->ink[static_cast<std::size_t>(y * GlyphPicture::kSide + GlyphPicture::kSide - 1 - x)];
        mirrored.add(static_cast<int>(letter), m);
      }
    auto const s = test.score();
    if (s.letters == 0) continue;
    std::printf("%d letters, likeness %.2f, reversed %.2f, ahead %+.2f: %s, its reversal %s  %s\n", s.letters, s.natural, s.reversed,
                s.natural - s.reversed, name(test.shape()), name(mirrored.shape()), std::strrchr(file, '/') + 1);
  }
}
}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 64;
  fz_context* const c = fz_new_context(nullptr, nullptr, FZ_STORE_DEFAULT);
  std::vector<fz_font*> fonts;
  for (int i = 2; i < argc; ++i)
    if (fz_font* const font = open(c, argv[i])) {
      if (std::strcmp(argv[1], "--score") == 0) score(c, font, argv[i]);
      fonts.push_back(font);
    }
  if (std::strcmp(argv[1], "--teach") == 0) {
    teach(c, fonts);
    std::printf("}  // namespace layright\n");
  }
  for (fz_font* font : fonts) fz_drop_font(c, font);
  fz_drop_context(c);
}
