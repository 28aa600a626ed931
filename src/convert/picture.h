// A picture as PDF stores it, and what takes it in: the only thing that readers of formats know of the page that they become.
#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "convert/original_file.h"

namespace layright {

/// What the samples are. `inks`: one named ink a sample (ISO 32000-1, 8.6.6.5).
enum class PictureColour { grey, rgb, cmyk, lab, inks };

/// A named ink, and the CMYK that shows it where the press does not have it.
struct NamedInk {
  std::string name;
  double cyan = 0, magenta = 0, yellow = 0, black = 1;
};

struct Picture {
  long width = 0, height = 0;
  int bits = 8;  // 1, 2, 4, 8 or 16 a sample
  PictureColour colour = PictureColour::rgb;
  std::vector<NamedInk> inks{};
  std::vector<std::byte> palette{};  // RGB triples; then a sample is an index, whatever `colour` says
  bool inverted = false;             // the highest sample is none of its colour
  int alpha_bits = 0;                // of a sample of opacity; 0: there is none
  bool premultiplied = false;        // the colours are already multiplied with the opacity
  std::vector<std::byte> icc{};
  std::optional<double> gamma{};  // of the file, as PNG's gAMA gives it: 0.45455 for pictures made for screens
  double along = 0, down = 0;     // pixels to the inch; 0: it states none
  int orientation = 1;            // see source.h
  bool shape_only = false;        // along and down tell the shape of a pixel, not its size

  int samples() const {
    if (!palette.empty()) return 1;
    switch (colour) {
      case PictureColour::grey: return 1;
      case PictureColour::rgb:
      case PictureColour::lab: return 3;
      case PictureColour::cmyk: return 4;
      case PictureColour::inks: return static_cast<int>(inks.size());
    }
    return 0;
  }
  /// Rows end with a whole byte.
  std::size_t row_bytes() const { return (static_cast<std::size_t>(width) * static_cast<std::size_t>(samples() * bits) + 7) / 8; }
  std::size_t alpha_row_bytes() const { return (static_cast<std::size_t>(width) * static_cast<std::size_t>(alpha_bits) + 7) / 8; }
};

/// Bytes of samples: a larger picture is written as several bands, one below the other, so that nobody who reads the page must hold it whole. A
/// reader may take three times as many for what is packed, and as many again for its pixels.
inline constexpr double kMostBytesWhole = 96e6;

/// Each picture: begin, then either all its rows or its data as it is, then end. A reader that cannot go on gives its Error up instead:
/// `data` for what is cut short or damaged, `hold` for what is too large, `usage` for what is not taken.
class PictureSink {
 public:
  virtual ~PictureSink() = default;
  /// Error (hold) when it is larger than the limits allow.
  virtual Outcome begin(Picture picture) = 0;
  /// Samples as PDF has them: most significant bit and byte first. `alpha` only where the picture has any.
  virtual void row(std::byte const* colour, std::byte const* alpha) = 0;
  /// From now on data() gives what `filter` (entries of a stream's dictionary) encodes.
  virtual void encoded(std::string_view filter) = 0;
  virtual void data(std::span<std::byte const> bytes) = 0;
  virtual Outcome end() = 0;
  virtual void remark(ConversionNote::Kind kind, std::string text) = 0;
};

/// What a module of the program offers to read a format with (module.h).
using ReadPictures = void (*)(std::span<std::byte const> bytes, PictureSink& sink, Outcome& outcome);

/// What it makes of a picture. Requires that there is one.
inline Outcome read_by(ReadPictures library, std::span<std::byte const> bytes, PictureSink& sink) {
  Outcome outcome = done();
  library(bytes, sink, outcome);
  return outcome;
}

inline Error cut_short() { return {ErrorKind::data, "it is cut short: the picture ends before its last row; ask the customer to send it again"}; }
inline Error broken_picture(std::string const& what) {
  return {ErrorKind::data, "it is damaged (" + what + "); ask the customer to send it again, or to save it again"};
}
inline Error not_taken(std::string const& what, std::string const& ask) { return {ErrorKind::usage, what + "; " + ask}; }

}  // namespace layright
