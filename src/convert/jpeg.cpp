#include "convert/jpeg.h"

#include <algorithm>
#include <cstdlib>

#include "convert/bytes.h"
#include "convert/exif.h"
#include "convert/jpeg_reader.h"
#include "convert/jpeg_whole.h"

namespace layright {
namespace {

using namespace std::string_view_literals;

constexpr int kExif = JPEG_APP0 + 1, kProfile = JPEG_APP0 + 2, kResources = JPEG_APP0 + 13;

struct Density {
  double along = 0, down = 0;  // pixels to the inch; 0: none
};

/// Image resources (the published file format of layered pictures): 1005 is the resolution, in sixteenths of sixteenths a pixel an inch.
Density density_in_resources(std::span<std::byte const> segment) {
  Bytes const in(segment);
  Density density;
  std::size_t at = 0;
  while (at + 12 <= in.size() && in.text(at, 4) == "8BIM") {
    int const id = in.u16(at + 4);
    std::size_t const name = (in.u8(at + 6) + 2u) & ~1u;
    std::size_t const size = in.u32(at + 6 + name), data = at + 10 + name;
    if (id == 1005 && in.inside(data, 16)) density = {in.u32(data) / 65536.0, in.u32(data + 8) / 65536.0};
    if (!in.inside(data, size)) break;
    at = data + ((size + 1) & ~std::size_t{1});
  }
  return density;
}

/// Why the library gave up at its header.
Error no_header(JpegReader const& reader, bool cut) {
  constexpr int kFirstArithmetic = 0xC9;  // T.81, Table B.1
  constexpr char const* kAsk = "ask the customer for an ordinary JPEG, a PNG or a TIFF";
  switch (reader.code()) {
    case JERR_SOF_UNSUPPORTED:
      return not_taken(reader.number() >= kFirstArithmetic ? "it is an arithmetic-coded JPEG, which PDF and most printers cannot show"
                                                           : "it is a lossless or hierarchical JPEG, which PDF and most printers cannot show",
                       kAsk);
    case JERR_SOF_DUPLICATE: return not_taken("it is a JPEG with several pictures in one", kAsk);
    case JERR_BAD_PRECISION:
      return not_taken("it is a JPEG of " + std::to_string(reader.number()) + " bit a channel", "ask the customer for one of 8 bit, or a TIFF");
    case JERR_COMPONENT_COUNT: return not_taken("it is a JPEG of " + std::to_string(reader.number()) + " channels", "ask for gray, RGB or CMYK");
    case JERR_EMPTY_IMAGE: return broken_picture("it does not say how large it is");
    default: return cut ? cut_short() : broken_picture("its header cannot be read");
  }
}

struct JpegFacts {
  Picture picture;
  std::string filter;  // entries of the stream's dictionary
};

/// What its header says of how dense and how turned it is: JFIF first, then Exif, then image resources.
void take_density(jpeg_decompress_struct const& info, Picture& picture) {
  ExifFacts exif;
  Density resources;
  for (auto const* marker = info.marker_list; marker; marker = marker->next) {
    std::span const segment(reinterpret_cast<std::byte const*>(marker->data), marker->data_length);
    auto const text = text_of(segment);
    if (marker->marker == kExif && text.starts_with("Exif\0\0"sv)) exif = read_exif(segment);
    // A name, a null, then image resources.
    if (auto const name = text.find('\0'); marker->marker == kResources && name != std::string_view::npos)
      resources = density_in_resources(segment.subspan(name + 1));
  }
  double const unit = !info.saw_JFIF_marker ? 0 : info.density_unit == 1 ? 1 : info.density_unit == 2 ? 2.54 : 0;
  picture.orientation = exif.orientation;
  for (auto const& [along, down] : {Density{info.X_density * unit, info.Y_density * unit}, Density{exif.along, exif.down}, resources}) {
    picture.along = along;
    picture.down = down;
    if (along > 0 && down > 0) return;
  }
}

Result<JpegFacts> jpeg_facts(std::span<std::byte const> bytes) {
  bool cut = false, parted = false;
  JpegReader reader(bytes, [&](int code) {
    cut = cut || code == JWRN_JPEG_EOF;
    parted = parted || code == JWRN_EXTRANEOUS_DATA;
  });
  auto& info = reader.info;
  JOCTET* icc = nullptr;
  unsigned icc_size = 0;
  bool const read = reader.run([&] {
    for (int const marker : {kExif, kProfile, kResources}) jpeg_save_markers(&info, marker, 0xFFFF);
    jpeg_read_header(&info, TRUE);
    (void)jpeg_read_icc_profile(&info, &icc, &icc_size);
  });
  JpegFacts facts;
  auto& picture = facts.picture;
  auto const* const first = reinterpret_cast<std::byte const*>(icc);
  if (icc) picture.icc.assign(first, first + icc_size);
  std::free(icc);
  if (parted) return broken_picture("its parts do not follow one another");
  if (!read) return no_header(reader, cut);
  if (cut) return cut_short();
  if (info.arith_code)
    return not_taken("it is an arithmetic-coded JPEG, which PDF and most printers cannot show",
                     "ask the customer for an ordinary JPEG, a PNG or a TIFF");
  int const count = info.num_components;
  if (count != 1 && count != 3 && count != 4) return not_taken("it is a JPEG of " + std::to_string(count) + " channels", "ask for gray, RGB or CMYK");
  picture.width = static_cast<long>(info.image_width);
  picture.height = static_cast<long>(info.image_height);
  picture.colour = count == 1 ? PictureColour::grey : count == 3 ? PictureColour::rgb : PictureColour::cmyk;
  picture.inverted = count == 4 && info.saw_Adobe_marker;  // T.872, 6.5.3
  take_density(info, picture);
  facts.filter = "/Filter /DCTDecode";
  // Without Adobe's marker a reader of PDF takes three channels for YCbCr (ISO 32000-1, Table 13), JPEG readers go by the channels' names.
  auto const* const channels = info.comp_info;
  bool const named_rgb = count == 3 && channels[0].component_id == 'R' && channels[1].component_id == 'G' && channels[2].component_id == 'B';
  if (named_rgb && !info.saw_Adobe_marker && !info.saw_JFIF_marker) facts.filter += " /DecodeParms <</ColorTransform 0>>";
  return facts;
}

}  // namespace

Outcome read_jpeg(std::span<std::byte const> bytes, PictureSink& sink) {
  auto facts = jpeg_facts(bytes);
  if (!facts) return facts.error();
  if (auto const begun = sink.begin(std::move(facts->picture)); !begun) return begun;
  sink.encoded(facts->filter);
  std::size_t given = 0;
  auto const give = [&](std::size_t upto) {
    if (upto <= given) return;
    sink.data(bytes.subspan(given, upto - given));
    given = upto;
  };
  auto const length = whole_jpeg_length(bytes, give);
  if (!length) return length.error();
  if (!*length) sink.remark(ConversionNote::Kind::reported, "it is too large to be looked through for damage; look at the page before you print it");
  give(length->value_or(bytes.size()));
  return sink.end();
}

}  // namespace layright
