// What a graphics state does to colours beside painting them: transfer functions (ISO 32000-1, 10.4), and the two colourants that are no
// ink (8.6.6.4): None, which leaves nothing, and All, which leaves every ink. The library passes all of these over.
#pragma once
#include <array>

#include "mupdf/library.h"

namespace layright {

struct ColourTransfer {
  std::array<std::array<unsigned char, 256>, 3> curves;  // red, green, blue: from 0, dark, to 255
  Rgb of(Rgb colour) const;
  /// To pixels in RGB, or in RGB with alpha, which colours come times.
  void apply(fz_pixmap& rgb) const;
  /// Bare paper-white becomes ink.
  bool darkens_white() const { return curves[0][255] < 254 || curves[1][255] < 254 || curves[2][255] < 254; }
};

/// Of a graphics state's TR or TR2, or of a soft mask's TR. False where it leaves colours as they are, or cannot be read.
bool read_transfer(fz_context* ctx, pdf_obj* function, ColourTransfer* transfer);

enum class Colourant { ordinary, none, all };
Colourant colourant_of(fz_context* ctx, fz_colorspace* space);

/// Makes a device that draws, or one that lists, see colours as they print: call it once the device is made.
void see_true_colours_when_drawn(fz_device* painter);
void see_true_colours_when_listed(fz_device* list);

}  // namespace layright
