// The part of the program that needs libwebp (RFC 9649).
#include <webp/decode.h>
#include <webp/demux.h>

#include <cstdint>
#include <memory>

#include "convert/exif.h"
#include "convert/modules/split_alpha.h"
#include "convert/picture.h"

namespace layright {
namespace {

std::span<std::byte const> chunk_of(WebPDemuxer* demuxer, char const* kind, WebPChunkIterator& at) {
  if (!WebPDemuxGetChunk(demuxer, kind, 1, &at)) return {};
  return {reinterpret_cast<std::byte const*>(at.chunk.bytes), at.chunk.size};
}

void take_chunks(std::span<std::byte const> bytes, Picture& p) {
  WebPData const data{reinterpret_cast<std::uint8_t const*>(bytes.data()), bytes.size()};
  WebPDemuxer* const demuxer = WebPDemux(&data);
  if (!demuxer) return;
  WebPChunkIterator at{};
  auto const profile = chunk_of(demuxer, "ICCP", at);
  p.icc.assign(profile.begin(), profile.end());
  WebPDemuxReleaseChunkIterator(&at);
  // The format's own rule: how it is turned is not said by Exif, but programs that make such files from photographs leave it there and
  // viewers obey it.
  auto const exif = read_exif(chunk_of(demuxer, "EXIF", at));
  p.orientation = exif.orientation;
  p.along = exif.along;
  p.down = exif.down;
  WebPDemuxReleaseChunkIterator(&at);
  WebPDemuxDelete(demuxer);
}

}  // namespace

static Outcome read_pictures(std::span<std::byte const> bytes, PictureSink& sink) {
  auto const* const data = reinterpret_cast<std::uint8_t const*>(bytes.data());
  WebPBitstreamFeatures features{};
  auto const status = WebPGetFeatures(data, bytes.size(), &features);
  if (status == VP8_STATUS_NOT_ENOUGH_DATA) return cut_short();
  if (status != VP8_STATUS_OK) return broken_picture("its header cannot be read");
  if (features.has_animation) return not_taken("it is a moving picture", "ask the customer for one picture of it, as PNG");
  Picture picture;
  picture.width = features.width;
  picture.height = features.height;
  picture.alpha_bits = features.has_alpha ? 8 : 0;
  take_chunks(bytes, picture);
  if (auto const begun = sink.begin(picture); !begun) return begun;
  std::size_t const stride = static_cast<std::size_t>(features.width) * (features.has_alpha ? 4 : 3);
  std::vector<std::byte> pixels(stride * static_cast<std::size_t>(features.height));
  auto* const into = reinterpret_cast<std::uint8_t*>(pixels.data());
  auto const* const got = features.has_alpha ? WebPDecodeRGBAInto(data, bytes.size(), into, pixels.size(), static_cast<int>(stride))
                                             : WebPDecodeRGBInto(data, bytes.size(), into, pixels.size(), static_cast<int>(stride));
  if (!got) return cut_short();
  SplitAlpha const split(3, 8, features.width);
  std::vector<std::byte> colour, alpha;
  for (std::size_t y = 0; y < static_cast<std::size_t>(features.height); ++y) {
    auto const* const row = pixels.data() + stride * y;
    if (!features.has_alpha) sink.row(row, nullptr);
    else split.row(row, colour, alpha), sink.row(colour.data(), alpha.data());
  }
  return sink.end();
}

extern "C" __attribute__((visibility("default"))) void layright_read(std::span<std::byte const> bytes, PictureSink& sink, Outcome& outcome) {
  outcome = read_pictures(bytes, sink);
}

}  // namespace layright
