#include "convert/png.h"

#include <zlib.h>

#include <array>
#include <memory>

#include "convert/bytes.h"
#include "convert/inflater.h"

namespace layright {
namespace {

constexpr double kInchesAMetre = 1 / 0.0254;
constexpr int kGrey = 0, kRgb = 2, kPalette = 3, kGreyAlpha = 4, kRgba = 6;  // W3C PNG, Table 11.1
constexpr std::size_t kLargestProfile = 16u << 20;

bool allowed(int type, int bits) {
  switch (type) {
    case kGrey: return bits == 1 || bits == 2 || bits == 4 || bits == 8 || bits == 16;
    case kPalette: return bits == 1 || bits == 2 || bits == 4 || bits == 8;
    case kRgb:
    case kGreyAlpha:
    case kRgba: return bits == 8 || bits == 16;
    default: return false;
  }
}

/// iCCP: a name, a null, the method, then the packed profile.
std::vector<std::byte> profile_in(std::span<std::byte const> chunk) {
  auto const name = text_of(chunk).find('\0');
  if (name == std::string_view::npos || name + 2 > chunk.size()) return {};
  std::vector<std::byte> icc;
  Inflater inflater(15);
  bool const whole = inflater.all(chunk.subspan(name + 2), [&](std::span<std::byte const> part) {
    icc.insert(icc.end(), part.begin(), part.end());
    return icc.size() <= kLargestProfile;
  });
  return whole ? icc : std::vector<std::byte>();
}

struct Header {
  int type = 0;
  bool interlaced = false, see_through = false, srgb = false;
};

void take_chunk(std::string_view kind, std::span<std::byte const> chunk, Header& header, PngFacts& facts) {
  Bytes const in(chunk);
  Picture& p = facts.picture;
  if (kind == "PLTE") {
    if (header.type == kPalette) p.palette.assign(chunk.begin(), chunk.end());
  } else if (kind == "tRNS") {
    header.see_through = true;
  } else if (kind == "gAMA" && chunk.size() >= 4) {
    p.gamma = in.u32(0) / 100000.0;
  } else if (kind == "sRGB") {
    header.srgb = true;
  } else if (kind == "iCCP") {
    p.icc = profile_in(chunk);
    facts.lost_profile = p.icc.empty();
  } else if (kind == "pHYs" && chunk.size() >= 9) {
    p.along = in.u32(0);
    p.down = in.u32(4);
    p.shape_only = in.u8(8) != 1;
    if (p.shape_only) return;
    p.along /= kInchesAMetre;
    p.down /= kInchesAMetre;
  } else if (kind == "acTL") {
    facts.moves = true;
  } else if (kind == "IDAT") {
    facts.data.push_back(chunk);
  }
}

Outcome take_header(std::span<std::byte const> chunk, Header& header, Picture& p) {
  Bytes const in(chunk);
  if (chunk.size() < 13) return broken_picture("its header is too short");
  p.width = in.u32(0);
  p.height = in.u32(4);
  p.bits = in.u8(8);
  header.type = in.u8(9);
  header.interlaced = in.u8(12) != 0;
  if (p.width < 1 || p.height < 1 || p.width > 0x7FFFFFFF || p.height > 0x7FFFFFFF) return broken_picture("it does not say how large it is");
  if (!allowed(header.type, p.bits) || in.u8(10) != 0 || in.u8(11) != 0 || in.u8(12) > 1) return broken_picture("its header says what no PNG is");
  p.colour = header.type == kGrey || header.type == kGreyAlpha ? PictureColour::grey : PictureColour::rgb;
  return done();
}

/// Whether the data unpacks to as many bytes as the picture has: a file may be whole and its picture not.
Outcome whole_data(PngFacts const& facts) {
  auto const wanted = (facts.picture.row_bytes() + 1) * static_cast<std::size_t>(facts.picture.height);
  std::size_t got = 0;
  Inflater inflater(15);
  for (auto const part : facts.data) {
    bool const good = inflater.some(part, [&](std::span<std::byte const> out) {
      got += out.size();
      return got <= wanted;
    });
    if (!good && got <= wanted) return broken_picture("its data cannot be unpacked");
    if (inflater.ended() || got > wanted) break;
  }
  return got < wanted ? cut_short() : done();
}

}  // namespace

Result<PngFacts> png_facts(std::span<std::byte const> bytes) {
  Bytes const in(bytes);
  PngFacts facts;
  Header header;
  std::size_t at = 8;
  for (bool first = true;; first = false) {
    if (!in.inside(at, 12)) return cut_short();
    std::size_t const length = in.u32(at);
    auto const kind = in.text(at + 4, 4);
    if (!in.inside(at + 8, length) || !in.inside(at + 8 + length, 4)) return cut_short();
    auto const chunk = in.part(at + 8, length);
    bool const matters = (static_cast<unsigned>(kind[0]) & 0x20u) == 0;  // an upper-case letter: nobody may pass it over
    auto const sum = crc32_z(0, reinterpret_cast<Bytef const*>(bytes.data()) + at + 4, length + 4);
    bool const sound = sum == in.u32(at + 8 + length);
    if (!sound && matters) return broken_picture("the sum of its part " + std::string(kind) + " is wrong");
    if (first && kind != "IHDR") return broken_picture("it has no header");
    if (first) {
      if (auto const read = take_header(chunk, header, facts.picture); !read) return read.error();
    } else if (sound) {
      take_chunk(kind, chunk, header, facts);
    }
    if (kind == "IEND") break;
    at += length + 12;
  }
  Picture& p = facts.picture;
  if (header.type == kPalette && (p.palette.size() < 3 || p.palette.size() > 768 || p.palette.size() % 3 != 0))
    return broken_picture("its palette is missing");
  if (facts.data.empty()) return broken_picture("there is no picture in it");
  if (header.srgb || !p.icc.empty()) p.gamma.reset();  // W3C PNG, 11.3.3.5: they come before gAMA
  if (p.gamma && !(*p.gamma > 0.01 && *p.gamma < 100)) p.gamma.reset();
  facts.as_it_is = !header.interlaced && !header.see_through && header.type <= kPalette;
  return facts;
}

Outcome read_png(std::span<std::byte const> bytes, PictureSink& sink, ReadPictures by_library) {
  auto const facts = png_facts(bytes);
  if (!facts) return facts.error();
  if (facts->lost_profile)
    sink.remark(ConversionNote::Kind::left_out,
                "its color profile is damaged and was left out, so its colors may come out otherwise; ask for the file again");
  if (facts->moves) sink.remark(ConversionNote::Kind::reported, "it is a moving picture: its first picture is taken");
  // Read row by row it can be written in bands, which data that is copied cannot.
  bool const large = by_library && static_cast<double>(facts->picture.row_bytes()) * static_cast<double>(facts->picture.height) > kMostBytesWhole;
  if (!facts->as_it_is || large) {
    if (!by_library) return Error{ErrorKind::internal, "the part of layright that reads such PNG pictures is not loaded"};
    return read_by(by_library, bytes, sink);
  }
  if (auto const begun = sink.begin(facts->picture); !begun) return begun;
  if (auto const whole = whole_data(*facts); !whole) return whole;
  Picture const& p = facts->picture;
  sink.encoded("/Filter /FlateDecode /DecodeParms <</Predictor 15 /Colors " + std::to_string(p.samples()) + " /BitsPerComponent " +
               std::to_string(p.bits) + " /Columns " + std::to_string(p.width) + ">>");
  for (auto const part : facts->data) sink.data(part);
  return sink.end();
}

}  // namespace layright
