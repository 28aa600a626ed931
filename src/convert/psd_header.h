// What a layered picture says before its pixels: its size, colours, channels and where the merged picture lies.
#pragma once
#include <string>
#include <vector>

#include "convert/bytes.h"
#include "convert/picture.h"

namespace layright {

enum class PsdMode { bitmap = 0, grey = 1, indexed = 2, rgb = 3, cmyk = 4, multichannel = 7, duotone = 8, lab = 9 };

/// A channel beyond those of its colours.
struct PsdExtra {
  std::string name;
  bool spot = false;
  NamedInk ink{};
};

struct PsdHeader {
  PsdMode mode = PsdMode::rgb;
  bool large = false;  // version 2, with longer numbers
  int channels = 0, depth = 8;
  bool merged = true;        // it was saved with its merged picture
  bool transparent = false;  // its first extra channel is the opacity of the merged picture
  std::vector<PsdExtra> extras;
  Picture picture;         // all but its colours
  std::size_t pixels = 0;  // where the merged picture begins
};
Result<PsdHeader> read_psd_header(Bytes const& in);

/// How many channels the colours of a mode take; 0 for multichannel, where every one is an ink.
int colour_channels(PsdMode mode);

}  // namespace layright
