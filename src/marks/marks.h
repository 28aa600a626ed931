// What a page paints (MuPDF): the extents of its ink, and what checks need to know of its marks. Plain values.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"
#include "marks/art.h"
#include "mupdf/layer_use.h"
#include "reading/text_reading.h"

namespace layright {

/// A mark that is partly in and partly out of what is seen.
struct CutMark {
  Rect<SeenSpace> whole;     // the mark's own extents, under its clips but not cut by the page's edge
  double beyond = 0;         // by how many points it passes the edge of what is seen
  bool flat_ground = false;  // one flat colour, an upright rectangle: a ground that runs off the page
};

/// A closed stroked upright frame, or four stroked lines that make one, unfilled.
struct FrameMark {
  Rect<SeenSpace> middle;                    // the middle of the stroke
  double stroke = 0;                         // its width in points
  std::optional<Rect<SeenSpace>> other_ink;  // extents of all ink but this frame's
};

struct ImageUse {
  Rect<SeenSpace> where;               // all of the picture, also what a clip hides
  double ppi_along = 0, ppi_down = 0;  // pixels to the inch along its own rows and columns, at the size it has in seen space
  bool reversed = false;               // mirrored in seen space
  int orientation = 1;                 // what a photograph's own tag asks for (exif_orientation.h); what shows a PDF passes over it
};

/// Visible and invisible glyphs by the sign of each glyph's own matrix from glyph space to seen space.
struct GlyphCount {
  long right = 0, reversed = 0, invisible = 0;
};

struct Marks {
  std::optional<Rect<SeenSpace>> ink;  // what leaves ink, inside what is seen; nothing on a blank page
  bool ink_known = true;               // false: the page was not wholly read, and `ink` is all that is seen, for want of better
  bool whole = true;                   // false: the interpreter passed something over, or ran out of time
  std::string trouble;                 // what it passed over, in plain words
  bool out_of_time = false;
  bool hidden_by_crop = false;    // marks lie wholly outside what is seen, but inside the media box
  std::vector<CutMark> cut;       // at most kMostCuts, the farthest first
  std::vector<FrameMark> frames;  // at most kMostFrames
  std::vector<ImageUse> images;
  GlyphCount glyphs;
  TextReadingResult text;        // which way live text reads
  long count = 0;                // marks painted
  std::optional<ArtNotes> art;   // where a check of the art asks
  std::vector<LayerUse> layers;  // only what readers differ about; at most 20
  int sides_by_picture = 0;      // how many of the four sides of `ink` a rendering had to decide
};
inline constexpr std::size_t kMostCuts = 20, kMostFrames = 64;

}  // namespace layright
