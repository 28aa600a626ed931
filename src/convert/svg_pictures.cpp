#include "convert/svg_pictures.h"

#include <algorithm>
#include <charconv>
#include <utility>
#include <vector>

#include "base/base64.h"
#include "convert/bytes.h"
#include "convert/format.h"
#include "convert/jpeg.h"
#include "convert/png.h"
#include "convert/svg_source.h"

namespace layright {
namespace {

using Fate = EmbeddedPicture::Fate;

constexpr std::size_t kMostNested = 64u << 20;  // of a packed drawing in a drawing

/// Reads are all that is wanted of it.
class NullSink : public PictureSink {
 public:
  Outcome begin(Picture) override { return done(); }
  void row(std::byte const*, std::byte const*) override {}
  void encoded(std::string_view) override {}
  void data(std::span<std::byte const>) override {}
  Outcome end() override { return done(); }
  void remark(ConversionNote::Kind, std::string) override {}
};

/// %41 is what it stands for (RFC 3986, 2.1).
std::string plain(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size(); ++at) {
    int value = -1;
    if (text[at] == '%' && at + 2 < text.size()) {
      auto const end = std::from_chars(text.data() + at + 1, text.data() + at + 3, value, 16);
      if (end.ec != std::errc() || end.ptr != text.data() + at + 3) value = -1;
    }
    out += value >= 0 ? static_cast<char>(value) : text[at];
    if (value >= 0) at += 2;
  }
  return out;
}

EmbeddedPicture damaged(std::string const& why) { return {Fate::damaged, false, "is damaged and would be missing (" + why + ")"}; }

EmbeddedPicture judged(Outcome const& read) {
  if (read || read.error().kind != ErrorKind::data) return {};  // of a rarer kind: its data is not what is wrong
  auto const& why = read.error().message;
  return damaged(why.substr(0, why.find(';')));
}

EmbeddedPicture look_at_bytes(std::vector<std::byte> const& bytes, std::string& kind) {
  NullSink nowhere;
  auto const is = recognise(bytes);
  switch (is.format) {
    case Format::png: kind = "image/png"; return judged(read_png(bytes, nowhere, nullptr));
    case Format::jpeg: kind = "image/jpeg"; return judged(read_jpeg(bytes, nowhere));
    case Format::svg: {
      kind = "image/svg+xml";
      auto const inner = read_svg_source(bytes, kMostNested);
      if (!inner) return damaged(inner.error().message.substr(0, inner.error().message.find(';')));
      if (!inner->outside.empty()) return {Fate::not_drawn, false, "asks for things from elsewhere, which are never fetched"};
      if (!inner->damaged.empty()) return damaged("a picture in it " + inner->damaged.front());
      if (!inner->not_drawn.empty()) return {Fate::not_drawn, false, "has a picture in it that " + inner->not_drawn.front()};
      return {};
    }
    case Format::none: return damaged("it is no picture");
    case Format::refused: return {Fate::not_drawn, false, "is " + is.what};
    default: return {Fate::not_drawn, false, "is " + std::string(info_of(is.format).title) + ", which is not drawn there"};
  }
}

/// Where "data:" stands, in whatever capitals.
std::size_t data_begins(std::string_view address) {
  constexpr std::string_view kData = "data:";
  auto const found = std::search(address.begin(), address.end(), kData.begin(), kData.end(),
                                 [](char a, char b) { return (a >= 'A' && a <= 'Z' ? a - 'A' + 'a' : a) == b; });
  return found == address.end() ? std::string_view::npos : static_cast<std::size_t>(found - address.begin());
}

}  // namespace

EmbeddedPicture look_at_embedded(std::string_view address) {
  auto const begins = data_begins(address), comma = address.find(',');
  if (begins == std::string_view::npos || comma == std::string_view::npos || comma < begins) return damaged("its address is no address");
  auto const head = address.substr(begins + 5, comma - begins - 5);
  auto const said = head.substr(0, head.find(';'));
  auto text = address.substr(comma + 1);
  std::string plainly;
  if (text.find('%') != std::string_view::npos) text = plainly = plain(text);
  std::vector<std::byte> bytes;
  if (head.ends_with("base64")) {
    auto decoded = from_base64(text);
    if (!decoded || decoded->empty()) return damaged("its data is no Base64");
    bytes = std::move(*decoded);
  } else {
    auto const all = bytes_of(text);
    bytes.assign(all.begin(), all.end());
  }
  std::string kind;
  auto found = look_at_bytes(bytes, kind);
  found.said = said;
  found.raster = kind == "image/png" || kind == "image/jpeg";
  if (!kind.empty() && !said.empty() && said != kind) found.meant = kind;
  return found;
}

}  // namespace layright
