#include "convert/psd_header.h"

#include <algorithm>

#include "base/utf8.h"

namespace layright {
namespace {

// Image resources, by their numbers in the specification.
constexpr int kResolution = 1005, kAlphaNames = 1006, kDisplay = 1007, kProfile = 1039, kUnicodeNames = 1045, kVersion = 1057, kNewDisplay = 1077;
constexpr int kMostChannels = 56;

struct Resources {
  std::vector<std::string> names, unicode_names;
  struct Display {
    NamedInk ink;
    bool spot = false;
  };
  std::vector<Display> display;
};

std::vector<std::string> pascal_names(Bytes const& in) {
  std::vector<std::string> names;
  for (std::size_t at = 0; at < in.size() && names.size() < kMostChannels; at += in.u8(at) + 1u) names.emplace_back(in.text(at + 1, in.u8(at)));
  return names;
}

/// UTF-16 with the number of its units before it; as UTF-8.
std::vector<std::string> unicode_names(Bytes const& in) {
  std::vector<std::string> names;
  for (std::size_t at = 0; at + 4 <= in.size() && names.size() < kMostChannels;) {
    std::size_t const units = in.u32(at);
    if (!in.inside(at + 4, units) || !in.inside(at + 4, units * 2)) break;
    std::u16string name;
    for (std::size_t i = 0; i < units; ++i)
      if (auto const unit = in.u16(at + 4 + 2 * i); unit != 0) name += static_cast<char16_t>(unit);
    names.push_back(utf8_of(name));
    at += 4 + units * 2;
  }
  return names;
}

/// The colour that a channel is shown in, for whoever does not have its ink: 0 RGB, 2 CMYK, 8 grey; others as black.
NamedInk shown_in(Bytes const& in, std::size_t at) {
  NamedInk ink;
  auto const part = [&](std::size_t i) { return in.u16(at + 2 + 2 * i) / 65535.0; };
  switch (in.u16(at)) {
    case 0: ink = {{}, 1 - part(0), 1 - part(1), 1 - part(2), 0}; break;
    case 2: ink = {{}, 1 - part(0), 1 - part(1), 1 - part(2), 1 - part(3)}; break;
    case 8: ink = {{}, 0, 0, 0, std::clamp(1 - in.u16(at + 2) / 10000.0, 0.0, 1.0)}; break;
    default: break;
  }
  return ink;
}

std::vector<Resources::Display> displays(Bytes const& in, std::size_t at, std::size_t step) {
  std::vector<Resources::Display> all;
  for (; at + 13 <= in.size() && all.size() < kMostChannels; at += step) all.push_back({shown_in(in, at), in.u8(at + 12) == 2});
  return all;
}

void read_resource(int id, std::span<std::byte const> data, PsdHeader& header, Resources& resources) {
  Bytes const in(data);
  switch (id) {
    case kResolution:
      header.picture.along = in.u32(0) / 65536.0;
      header.picture.down = in.u32(8) / 65536.0;
      break;
    case kAlphaNames: resources.names = pascal_names(in); break;
    case kUnicodeNames: resources.unicode_names = unicode_names(in); break;
    case kDisplay:
      if (resources.display.empty()) resources.display = displays(in, 0, 14);
      break;
    case kNewDisplay: resources.display = displays(in, 4, 13); break;
    case kProfile: header.picture.icc.assign(data.begin(), data.end()); break;
    case kVersion: header.merged = in.u8(4) != 0; break;
    default: break;
  }
}

Outcome read_resources(Bytes const& in, std::size_t at, std::size_t end, PsdHeader& header, Resources& resources) {
  while (at + 12 <= end) {
    auto const kind = in.text(at, 4);
    if (kind.size() != 4 || kind.substr(0, 2) != "8B") {
      if (kind != "MeSa" && kind != "PHUT" && kind != "AgHg" && kind != "DCSR") return broken_picture("its resources do not follow one another");
    }
    int const id = in.u16(at + 4);
    std::size_t const name = (in.u8(at + 6) + 2u) & ~1u;
    std::size_t const size = in.u32(at + 6 + name), data = at + 10 + name;
    if (!in.inside(data, size) || data + size > end) return broken_picture("its resources do not follow one another");
    read_resource(id, in.part(data, size), header, resources);
    at = data + ((size + 1) & ~std::size_t{1});
  }
  return done();
}

/// A negative number of layers says that the first extra channel is the opacity of the whole; deeper pictures say it in a block of their own.
bool merged_is_transparent(Bytes const& in, std::size_t at, std::size_t end, bool large) {
  std::size_t const width = large ? 8 : 4;
  if (at + width + 2 > end) return false;
  std::size_t const layers = large ? in.u64(at) : in.u32(at);
  if (layers > end - at) return false;
  if (layers > 0) return static_cast<std::int16_t>(in.u16(at + width)) < 0;
  at += width;
  if (at + 4 > end) return false;
  std::size_t const mask = in.u32(at);
  at += 4;
  if (mask > end - at) return false;
  at += mask;
  while (at + 12 <= end) {
    auto const kind = in.text(at, 4), key = in.text(at + 4, 4);
    if (kind != "8BIM" && kind != "8B64") return false;
    if (key == "Mtrn" || key == "Mt16" || key == "Mt32") return true;
    bool const long_size =
        large && (key == "LMsk" || key == "Lr16" || key == "Lr32" || key == "Layr" || key == "Mt16" || key == "Mt32" || key == "Mtrn" ||
                  key == "Alph" || key == "FMsk" || key == "lnk2" || key == "FEid" || key == "FXid" || key == "PxSD");
    std::size_t const size = long_size ? in.u64(at + 8) : in.u32(at + 8);
    std::size_t const data = at + (long_size ? 16 : 12);
    if (data > end || size > end - data) return false;
    if (key == "Lr16" || key == "Lr32") return static_cast<std::int16_t>(in.u16(data)) < 0;
    at = data + ((size + 3) & ~std::size_t{3});
  }
  return false;
}

void name_extras(PsdHeader& header, Resources const& resources) {
  int const first = colour_channels(header.mode);
  for (int i = first; i < header.channels; ++i) {
    auto const n = static_cast<std::size_t>(i - first);
    PsdExtra extra;
    auto const& names = resources.unicode_names.empty() ? resources.names : resources.unicode_names;
    // The opacity of the whole has no name of its own in some files, so that the names are one fewer.
    std::size_t const unnamed = static_cast<std::size_t>(header.channels - first) > names.size() && header.transparent ? 1 : 0;
    if (n >= unnamed && n - unnamed < names.size()) extra.name = names[n - unnamed];
    if (n >= unnamed && n - unnamed < resources.display.size()) {
      extra.spot = resources.display[n - unnamed].spot;
      extra.ink = resources.display[n - unnamed].ink;
    }
    extra.spot = extra.spot || header.mode == PsdMode::multichannel;
    if (extra.name.empty()) extra.name = "channel " + std::to_string(i + 1);
    extra.ink.name = extra.name;
    header.extras.push_back(std::move(extra));
  }
}

}  // namespace

int colour_channels(PsdMode mode) {
  switch (mode) {
    case PsdMode::bitmap:
    case PsdMode::grey:
    case PsdMode::indexed:
    case PsdMode::duotone: return 1;
    case PsdMode::rgb:
    case PsdMode::lab: return 3;
    case PsdMode::cmyk: return 4;
    case PsdMode::multichannel: break;
  }
  return 0;
}

Result<PsdHeader> read_psd_header(Bytes const& in) {
  PsdHeader header;
  int const version = in.u16(4), mode = in.u16(24);
  header.large = version == 2;
  header.channels = in.u16(12);
  header.picture.height = in.u32(14);
  header.picture.width = in.u32(18);
  header.depth = in.u16(22);
  if (in.short_of()) return cut_short();
  if (version != 1 && version != 2) return broken_picture("its version is none that there is");
  if (header.depth == 32) return not_taken("it is a layered picture of 32 bit a channel", "ask the customer for one of 8 or 16 bit");
  if (header.picture.width < 1 || header.picture.height < 1) return broken_picture("it has no pixels");
  bool const known = mode <= 4 || mode == 7 || mode == 8 || mode == 9;
  if (!known || header.channels < 1 || header.channels > kMostChannels || (header.depth != 1 && header.depth != 8 && header.depth != 16))
    return broken_picture("its header says what no such file is");
  header.mode = static_cast<PsdMode>(mode);
  if ((header.depth == 1) != (header.mode == PsdMode::bitmap) || header.channels < colour_channels(header.mode))
    return broken_picture("its header says what no such file is");
  std::size_t at = 26;
  std::size_t const palette = in.u32(at);
  if (!in.inside(at + 4, palette)) return cut_short();
  if (header.mode == PsdMode::indexed) {
    if (palette < 768) return broken_picture("its palette is missing");
    for (std::size_t i = 0; i < 256; ++i)
      for (std::size_t c = 0; c < 3; ++c) header.picture.palette.push_back(static_cast<std::byte>(in.u8(at + 4 + c * 256 + i)));
  }
  at += 4 + palette;
  std::size_t const resource_bytes = in.u32(at);
  if (!in.inside(at + 4, resource_bytes)) return cut_short();
  Resources resources;
  if (auto const read = read_resources(in, at + 4, at + 4 + resource_bytes, header, resources); !read) return read.error();
  at += 4 + resource_bytes;
  std::size_t const width = header.large ? 8 : 4;
  std::size_t const layers = header.large ? in.u64(at) : in.u32(at);
  if (!in.inside(at, width) || !in.inside(at + width, layers)) return cut_short();
  header.transparent = header.channels > colour_channels(header.mode) && header.mode != PsdMode::multichannel &&
                       merged_is_transparent(in, at + width, at + width + layers, header.large);
  header.pixels = at + width + layers;
  name_extras(header, resources);
  return header;
}

}  // namespace layright
