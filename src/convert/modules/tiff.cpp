// The part of the program that needs libtiff: TIFF 6.0 and its 64-bit form, page by page.
#include <tiffio.h>

#include <algorithm>
#include <cstdarg>
#include <cstdint>
#include <cstring>

#include "convert/modules/tiff_rows.h"

namespace layright {
namespace {

struct Memory {
  std::span<std::byte const> bytes;
  toff_t at = 0;
};

tmsize_t read_some(thandle_t handle, void* into, tmsize_t size) {
  auto& m = *static_cast<Memory*>(handle);
  if (m.at >= m.bytes.size()) return 0;
  auto const n = std::min(static_cast<std::size_t>(size), m.bytes.size() - static_cast<std::size_t>(m.at));
  std::memcpy(into, m.bytes.data() + m.at, n);
  m.at += n;
  return static_cast<tmsize_t>(n);
}
tmsize_t write_nothing(thandle_t, void*, tmsize_t) { return 0; }
toff_t go_to(thandle_t handle, toff_t offset, int whence) {
  auto& m = *static_cast<Memory*>(handle);
  m.at = whence == SEEK_SET ? offset : whence == SEEK_CUR ? m.at + offset : m.bytes.size() + offset;
  return m.at;
}
int close_nothing(thandle_t) { return 0; }
toff_t size_of(thandle_t handle) { return static_cast<Memory*>(handle)->bytes.size(); }
int map(thandle_t handle, void** base, toff_t* size) {
  auto& m = *static_cast<Memory*>(handle);
  *base = const_cast<std::byte*>(m.bytes.data());
  *size = m.bytes.size();
  return 1;
}
void unmap(thandle_t, void*, toff_t) {}

/// Errors are counted and nothing printed; warnings, such as of tags that nobody knows, are passed over.
int count_error(TIFF*, void* errors, char const*, char const*, va_list) { return ++*static_cast<int*>(errors), 1; }
int pass_over(TIFF*, void*, char const*, char const*, va_list) { return 1; }

TIFF* open_quietly(Memory& memory, int& errors) {
  TIFFOpenOptions* const options = TIFFOpenOptionsAlloc();
  TIFFOpenOptionsSetErrorHandlerExtR(options, count_error, &errors);
  TIFFOpenOptionsSetWarningHandlerExtR(options, pass_over, nullptr);
  TIFF* const tiff = TIFFClientOpenExt("the file", "r", &memory, read_some, write_nothing, go_to, close_nothing, size_of, map, unmap, options);
  TIFFOpenOptionsFree(options);
  return tiff;
}

template <class T>
T tag(TIFF* tiff, ttag_t name, T otherwise) {
  T value = otherwise;
  if (TIFFGetFieldDefaulted(tiff, name, &value) != 1) return otherwise;
  return value;
}

void take_density(TIFF* tiff, Picture& p) {
  float along = 0, down = 0;
  bool const both = TIFFGetField(tiff, TIFFTAG_XRESOLUTION, &along) == 1 && TIFFGetField(tiff, TIFFTAG_YRESOLUTION, &down) == 1;
  if (!both || !(along > 0) || !(down > 0)) return;
  auto const unit = tag<std::uint16_t>(tiff, TIFFTAG_RESOLUTIONUNIT, RESUNIT_INCH);
  double const factor = unit == RESUNIT_CENTIMETER ? 2.54 : 1;
  p.along = static_cast<double>(along) * factor;
  p.down = static_cast<double>(down) * factor;
  p.shape_only = unit == RESUNIT_NONE;
}

void take_profile(TIFF* tiff, Picture& p) {
  std::uint32_t size = 0;
  void* data = nullptr;
  if (TIFFGetField(tiff, TIFFTAG_ICCPROFILE, &size, &data) != 1 || !data) return;
  auto const* const bytes = static_cast<std::byte const*>(data);
  p.icc.assign(bytes, bytes + size);
}

bool take_palette(TIFF* tiff, Picture& p) {
  std::uint16_t *red = nullptr, *green = nullptr, *blue = nullptr;
  if (TIFFGetField(tiff, TIFFTAG_COLORMAP, &red, &green, &blue) != 1) return false;
  std::size_t const count = std::size_t{1} << p.bits;
  // Some writers put 8-bit values where 16-bit ones belong.
  bool narrow = true;
  for (std::size_t i = 0; i < count; ++i) narrow = narrow && red[i] < 256 && green[i] < 256 && blue[i] < 256;
  for (std::size_t i = 0; i < count; ++i)
    for (auto const* const channel : {red, green, blue}) p.palette.push_back(static_cast<std::byte>(narrow ? channel[i] : channel[i] >> 8));
  return true;
}

/// Names of inks one after another, each with its null.
std::vector<NamedInk> inks_of(TIFF* tiff, int count) {
  std::vector<NamedInk> inks;
  char const* names = nullptr;
  TIFFGetField(tiff, TIFFTAG_INKNAMES, &names);
  for (int i = 0; i < count; ++i) {
    NamedInk ink;
    if (names && *names) {
      ink.name = names;
      names += ink.name.size() + 1;
    } else {
      ink.name = "Ink " + std::to_string(i + 1);
      names = nullptr;
    }
    if (ink.name == "Cyan") ink = {ink.name, 1, 0, 0, 0};
    else if (ink.name == "Magenta") ink = {ink.name, 0, 1, 0, 0};
    else if (ink.name == "Yellow") ink = {ink.name, 0, 0, 1, 0};
    inks.push_back(ink);
  }
  return inks;
}

/// Which of the samples beyond the colours is the opacity, if any; -1: none.
int opacity_of(TIFF* tiff, int colours, Picture& p, PictureSink& sink, int samples) {
  std::uint16_t count = 0;
  std::uint16_t* kinds = nullptr;
  TIFFGetField(tiff, TIFFTAG_EXTRASAMPLES, &count, &kinds);
  int alpha = -1;
  for (int i = 0; i < count && alpha < 0 && kinds; ++i) {
    if (kinds[i] != EXTRASAMPLE_ASSOCALPHA && kinds[i] != EXTRASAMPLE_UNASSALPHA) continue;
    alpha = colours + i;
    p.alpha_bits = p.bits;
    p.premultiplied = kinds[i] == EXTRASAMPLE_ASSOCALPHA;
  }
  int const more = samples - colours - (alpha >= 0 ? 1 : 0);
  if (more > 0)
    sink.remark(ConversionNote::Kind::reported, "it has " + std::to_string(more) +
                                                    (more > 1 ? " further channels that say" : " further channel that says") +
                                                    " nothing of what they are for, so they do not print");
  return alpha < samples ? alpha : -1;
}

/// One strip of a packing that PDF has as well goes into the page as it is.
std::optional<std::string> filter_for(TIFF* tiff, Picture& p, int packing, int photometric) {
  auto const fill = tag<std::uint16_t>(tiff, TIFFTAG_FILLORDER, FILLORDER_MSB2LSB);
  bool const fax = packing == COMPRESSION_CCITTFAX3 || packing == COMPRESSION_CCITTFAX4;
  if (!fax || fill != FILLORDER_MSB2LSB || p.bits != 1 || TIFFIsTiled(tiff) || TIFFNumberOfStrips(tiff) != 1) return std::nullopt;
  std::uint32_t options = 0;
  if (packing == COMPRESSION_CCITTFAX3) TIFFGetField(tiff, TIFFTAG_GROUP3OPTIONS, &options);
  if (options & GROUP3OPT_UNCOMPRESSED) return std::nullopt;
  int const k = packing == COMPRESSION_CCITTFAX4 ? -1 : options & GROUP3OPT_2DENCODING ? 1 : 0;
  // Filled up so that the mark of a row's end, which then must be named, ends with a byte (TIFF 6.0, section 11), not so that a row begins with one.
  // The filter gives black as 0 unless told otherwise (ISO 32000-1, Table 11); TIFF's usual white is 0 too.
  p.inverted = false;
  return "/Filter /CCITTFaxDecode /DecodeParms <</K " + std::to_string(k) + " /Columns " + std::to_string(p.width) + " /Rows " +
         std::to_string(p.height) + (options & GROUP3OPT_FILLBITS ? " /EncodedByteAlign true /EndOfLine true" : "") +
         (photometric == PHOTOMETRIC_MINISBLACK ? " /BlackIs1 true" : "") + ">>";
}

struct PageKind {
  Picture picture;
  int alpha = -1;           // sample that is the opacity
  bool signed_lab = false;  // a and b count from 0
  bool by_library = false;  // colours that only the library can make RGB of
  std::optional<std::string> filter;
};

Result<PageKind> kind_of(TIFF* tiff, PictureSink& sink) {
  PageKind kind;
  Picture& p = kind.picture;
  p.width = tag<std::uint32_t>(tiff, TIFFTAG_IMAGEWIDTH, 0);
  p.height = tag<std::uint32_t>(tiff, TIFFTAG_IMAGELENGTH, 0);
  p.bits = tag<std::uint16_t>(tiff, TIFFTAG_BITSPERSAMPLE, 1);
  p.orientation = tag<std::uint16_t>(tiff, TIFFTAG_ORIENTATION, 1);
  int const samples = tag<std::uint16_t>(tiff, TIFFTAG_SAMPLESPERPIXEL, 1), packing = tag<std::uint16_t>(tiff, TIFFTAG_COMPRESSION, 1);
  std::uint16_t photometric = PHOTOMETRIC_MINISBLACK;
  if (TIFFGetField(tiff, TIFFTAG_PHOTOMETRIC, &photometric) != 1) photometric = samples >= 3 ? PHOTOMETRIC_RGB : PHOTOMETRIC_MINISBLACK;
  auto const form = tag<std::uint16_t>(tiff, TIFFTAG_SAMPLEFORMAT, SAMPLEFORMAT_UINT);
  if (p.width <= 0 || p.height <= 0) return broken_picture("it does not say how large it is");
  if (!TIFFIsCODECConfigured(static_cast<std::uint16_t>(packing)))
    return not_taken("it is packed in a way that is not read here (" + std::to_string(packing) + ")",
                     "ask the customer for it saved with LZW or ZIP packing, or without");
  if ((form != SAMPLEFORMAT_UINT && form != SAMPLEFORMAT_VOID) || (p.bits != 1 && p.bits != 2 && p.bits != 4 && p.bits != 8 && p.bits != 16))
    return not_taken("it has " + std::to_string(p.bits) + " bit a channel" + (form == SAMPLEFORMAT_IEEEFP ? " in floating point" : ""),
                     "ask the customer for it with 8 or 16 bit a channel");
  take_density(tiff, p);
  take_profile(tiff, p);
  int colours = 1;
  switch (photometric) {
    case PHOTOMETRIC_MINISWHITE: p.colour = PictureColour::grey, p.inverted = true; break;
    case PHOTOMETRIC_MINISBLACK: p.colour = PictureColour::grey; break;
    case PHOTOMETRIC_PALETTE:
      if (p.bits > 8 || !take_palette(tiff, p)) return broken_picture("its palette is missing");
      break;
    case PHOTOMETRIC_RGB: p.colour = PictureColour::rgb, colours = 3; break;
    case PHOTOMETRIC_YCBCR:
      p.colour = PictureColour::rgb, colours = 3;
      if (packing == COMPRESSION_JPEG) TIFFSetField(tiff, TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
      else kind.by_library = true;
      break;
    case PHOTOMETRIC_SEPARATED: {
      auto const set = tag<std::uint16_t>(tiff, TIFFTAG_INKSET, INKSET_CMYK);
      int const inks = tag<std::uint16_t>(tiff, TIFFTAG_NUMBEROFINKS, 4);
      p.colour = set == INKSET_CMYK && samples >= 4 ? PictureColour::cmyk : PictureColour::inks;
      colours = p.colour == PictureColour::cmyk ? 4 : std::min(inks > 0 ? inks : samples, samples);
      if (p.colour == PictureColour::inks) p.inks = inks_of(tiff, colours);
      break;
    }
    case PHOTOMETRIC_CIELAB: kind.signed_lab = true; [[fallthrough]];
    case PHOTOMETRIC_ICCLAB:
      p.colour = PictureColour::lab, colours = 3;
      if (p.bits < 8) return broken_picture("Lab colors of less than 8 bit");
      break;
    default:
      return not_taken("its colors are of a kind that is not read here (" + std::to_string(photometric) + ")",
                       "ask the customer for it as RGB, CMYK or gray");
  }
  if (samples < colours || samples > 32) return broken_picture("it has fewer channels than its colors need");
  kind.alpha = kind.by_library ? -1 : opacity_of(tiff, colours, p, sink, samples);
  kind.filter = samples == 1 ? filter_for(tiff, p, packing, photometric) : std::nullopt;
  return kind;
}

Outcome copy_strip(TIFF* tiff, PictureSink& sink, std::string const& filter) {
  auto const size = TIFFRawStripSize64(tiff, 0);
  std::vector<std::byte> strip(static_cast<std::size_t>(size));
  auto const got = TIFFReadRawStrip(tiff, 0, strip.data(), static_cast<tmsize_t>(size));
  if (got != static_cast<tmsize_t>(size) || got == 0) return cut_short();
  sink.encoded(filter);
  sink.data(strip);
  return sink.end();
}

/// Whether the library can unpack every row: what it fills up by itself must not pass for the picture.
Outcome all_rows_there(TIFF* tiff, int const& errors) {
  std::vector<std::byte> row(static_cast<std::size_t>(TIFFScanlineSize(tiff)));
  auto const rows = tag<std::uint32_t>(tiff, TIFFTAG_IMAGELENGTH, 0);
  int const before = errors;
  for (std::uint32_t y = 0; y < rows; ++y)
    if (TIFFReadScanline(tiff, row.data(), y) != 1 || errors != before) return cut_short();
  return done();
}

Outcome read_page(TIFF* tiff, PictureSink& sink, int const& errors) {
  auto kind = kind_of(tiff, sink);
  if (!kind) return kind.error();
  if (auto const begun = sink.begin(kind->picture); !begun) return begun;
  if (kind->filter) {
    if (auto const whole = all_rows_there(tiff, errors); !whole) return whole;
    return copy_strip(tiff, sink, *kind->filter);
  }
  int const before = errors;
  TiffRows rows(tiff, kind->picture, kind->alpha, kind->signed_lab);
  auto const read = kind->by_library ? rows.read_as_rgb(sink) : rows.read(sink);
  if (!read) return read;
  if (errors != before) return cut_short();
  return sink.end();
}

/// A thumbnail or a mask beside a page is no page (TIFF 6.0, NewSubfileType).
bool is_page(TIFF* tiff) {
  std::uint32_t kind = 0;
  TIFFGetField(tiff, TIFFTAG_SUBFILETYPE, &kind);
  return (kind & (FILETYPE_REDUCEDIMAGE | FILETYPE_MASK)) == 0;
}

}  // namespace

static Outcome read_pictures(std::span<std::byte const> bytes, PictureSink& sink) {
  Memory memory{bytes};
  int errors = 0;
  TIFF* const tiff = open_quietly(memory, errors);
  if (!tiff) return cut_short();
  Outcome outcome = done();
  int pages = 0;
  do {
    int const before = errors;
    if (!is_page(tiff)) continue;
    outcome = read_page(tiff, sink, errors);
    ++pages;
    if (outcome && errors != before) outcome = cut_short();
  } while (outcome && TIFFReadDirectory(tiff));
  // The next page's description lies outside of the file: the library tells it as an error and stops.
  if (outcome && errors > 0) outcome = cut_short();
  if (outcome && pages == 0)
    outcome = not_taken("there is no whole picture in it, only previews, as in a camera's raw file",
                        "ask the customer for the developed picture as TIFF or JPEG");
  TIFFClose(tiff);
  return outcome;
}

extern "C" __attribute__((visibility("default"))) void layright_read(std::span<std::byte const> bytes, PictureSink& sink, Outcome& outcome) {
  outcome = read_pictures(bytes, sink);
}

}  // namespace layright
