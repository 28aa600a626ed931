// The part of the program that needs libheif: HEIF and AVIF (ISO/IEC 23008-12). The library turns and mirrors the picture itself, as the
// format says; what Exif says of that does not count there.
#include <libheif/heif.h>

#include <memory>

#include "convert/exif.h"
#include "convert/modules/split_alpha.h"
#include "convert/picture.h"

namespace layright {
namespace {

template <auto release>
struct Release {
  template <class T>
  void operator()(T* what) const {
    release(what);
  }
};
using Context = std::unique_ptr<heif_context, Release<heif_context_free>>;
using Handle = std::unique_ptr<heif_image_handle, Release<heif_image_handle_release>>;
using Image = std::unique_ptr<heif_image, Release<heif_image_release>>;

Error trouble(heif_error const& error) {
  switch (error.code) {
    case heif_error_Unsupported_feature:
    case heif_error_Unsupported_filetype: return not_taken("it is packed in a way that is not read here", "ask the customer for it as PNG or JPEG");
    case heif_error_Memory_allocation_error: return {ErrorKind::hold, "unpacking it takes more memory than is allowed"};
    default: return error.subcode == heif_suberror_End_of_data ? cut_short() : broken_picture("it cannot be unpacked");
  }
}

void take_profile(heif_image_handle const* handle, Picture& p) {
  auto const kind = heif_image_handle_get_color_profile_type(handle);
  if (kind != heif_color_profile_type_rICC && kind != heif_color_profile_type_prof) return;
  p.icc.resize(heif_image_handle_get_raw_color_profile_size(handle));
  if (heif_image_handle_get_raw_color_profile(handle, p.icc.data()).code != heif_error_Ok) p.icc.clear();
}

void take_density(heif_image_handle const* handle, Picture& p) {
  heif_item_id id = 0;
  if (heif_image_handle_get_list_of_metadata_block_IDs(handle, "Exif", &id, 1) != 1) return;
  std::vector<std::byte> exif(heif_image_handle_get_metadata_size(handle, id));
  constexpr std::size_t kOffset = 4;  // before the block itself stands where in it the TIFF header is
  if (exif.size() <= kOffset || heif_image_handle_get_metadata(handle, id, exif.data()).code != heif_error_Ok) return;
  auto const facts = read_exif(std::span<std::byte const>(exif).subspan(kOffset));
  p.along = facts.along;
  p.down = facts.down;
}

/// 10 and 12 bits to 16, the highest staying the highest.
void widen(std::vector<std::byte>& row, int bits) {
  for (std::size_t i = 0; i + 1 < row.size(); i += 2) {
    unsigned const v = static_cast<unsigned>(row[i]) << 8 | static_cast<unsigned>(row[i + 1]);
    unsigned const wide = v << (16 - bits) | v >> (2 * bits - 16);
    row[i] = static_cast<std::byte>(wide >> 8);
    row[i + 1] = static_cast<std::byte>(wide);
  }
}

}  // namespace

/// In the place of libde265's: libheif calls it for every picture, and where no thread can be started, as in a shut-in process, the library
/// would wait for one for ever. Without any it decodes in the thread that asks.
extern "C" __attribute__((visibility("default"))) int de265_start_worker_threads(void*, int) { return 0; }

static Outcome read_pictures(std::span<std::byte const> bytes, PictureSink& sink) {
  Context const context(heif_context_alloc());
  heif_context_set_max_decoding_threads(context.get(), 0);  // a shut-in process may not start any
  if (auto const e = heif_context_read_from_memory_without_copy(context.get(), bytes.data(), bytes.size(), nullptr); e.code != heif_error_Ok)
    return trouble(e);
  heif_image_handle* first = nullptr;
  if (auto const e = heif_context_get_primary_image_handle(context.get(), &first); e.code != heif_error_Ok) return trouble(e);
  Handle const handle(first);
  if (heif_context_get_number_of_top_level_images(context.get()) > 1)
    sink.remark(ConversionNote::Kind::reported, "there are several pictures in it: the main one is taken");
  int const bits = heif_image_handle_get_luma_bits_per_pixel(handle.get());
  bool const alpha = heif_image_handle_has_alpha_channel(handle.get()) != 0, deep = bits > 8;
  Picture picture;
  picture.width = heif_image_handle_get_width(handle.get());
  picture.height = heif_image_handle_get_height(handle.get());
  picture.bits = deep ? 16 : 8;
  picture.alpha_bits = alpha ? picture.bits : 0;
  picture.premultiplied = alpha && heif_image_handle_is_premultiplied_alpha(handle.get()) != 0;
  take_profile(handle.get(), picture);
  take_density(handle.get(), picture);
  if (auto const begun = sink.begin(picture); !begun) return begun;
  auto const chroma = deep ? (alpha ? heif_chroma_interleaved_RRGGBBAA_BE : heif_chroma_interleaved_RRGGBB_BE)
                           : (alpha ? heif_chroma_interleaved_RGBA : heif_chroma_interleaved_RGB);
  heif_image* decoded = nullptr;
  if (auto const e = heif_decode_image(handle.get(), &decoded, heif_colorspace_RGB, chroma, nullptr); e.code != heif_error_Ok) return trouble(e);
  Image const image(decoded);
  int stride = 0;
  auto const* const pixels = reinterpret_cast<std::byte const*>(heif_image_get_plane_readonly(image.get(), heif_channel_interleaved, &stride));
  if (!pixels || heif_image_get_width(image.get(), heif_channel_interleaved) < picture.width ||
      heif_image_get_height(image.get(), heif_channel_interleaved) < picture.height)
    return broken_picture("it is smaller than it says");
  int const shown_bits = heif_image_get_bits_per_pixel_range(image.get(), heif_channel_interleaved);
  SplitAlpha const split(3, picture.bits, picture.width);
  std::size_t const row_bytes = static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.bits / 8) * (alpha ? 4 : 3);
  std::vector<std::byte> row(row_bytes), colour, opacity;
  for (long y = 0; y < picture.height; ++y) {
    auto const* const from = pixels + static_cast<std::ptrdiff_t>(stride) * y;
    row.assign(from, from + row_bytes);
    if (deep && shown_bits > 8 && shown_bits < 16) widen(row, shown_bits);
    if (!alpha) sink.row(row.data(), nullptr);
    else split.row(row.data(), colour, opacity), sink.row(colour.data(), opacity.data());
  }
  return sink.end();
}

extern "C" __attribute__((visibility("default"))) void layright_read(std::span<std::byte const> bytes, PictureSink& sink, Outcome& outcome) {
  outcome = read_pictures(bytes, sink);
}

}  // namespace layright
