// The device that MuPDF's interpreter drives: for each mark, where it leaves ink.
//
// Everything is in seen space. Marks that lie well inside the ink that is already sure are passed over quickly: they can change
// nothing. What marks cannot tell (white over ink, a fading mask) leaves a side unsure; sides_by_picture.h then decides it.
#pragma once
#include <ctime>
#include <optional>
#include <vector>

#include "document/page.h"
#include "marks/art_collector.h"
#include "marks/clip_stack.h"
#include "marks/faint_sum.h"
#include "marks/frame_detector.h"
#include "marks/glyph_extents.h"
#include "marks/image_ink.h"
#include "marks/ink_ledger.h"
#include "marks/marks.h"
#include "marks/other_shapes.h"
#include "marks/reader.h"
#include "marks/shade_ink.h"
#include "marks/stroke_extents.h"
#include "mupdf/colour_transfer.h"
#include "mupdf/mark_listener.h"
#include "raster/paper.h"
#include "reading/grounds.h"

namespace layright {

class InkDevice : public MarkListener {
 public:
  InkDevice(fz_context* ctx, GlyphCache& glyphs, ImageCache& images, Page const& page, MarksWanted const& wanted, fz_cookie& cookie);
  /// The device that the library runs with, which Type 3 glyphs run on too; set before the page runs.
  void run_on(fz_device* device) { device_ = device; }
  OtherShapes const& others() const { return others_; }
  /// Feeds every glyph that shows, and those of invisible text, to `reading` too.
  void report_text_to(TextReading& reading) { reading_ = &reading; }

  /// Notes what checks of the art ask for in `art` too.
  void note_art_in(ArtCollector& art) { art_ = &art; }

  /// All that was found, once the page has run.
  Marks finish();
  /// The ledger of the whole page, with its frames: what is sure and what is not.
  InkLedger const& ledger() const { return layers_.front().ledger; }
  InkRule rule() const { return layers_.front().rule; }
  bool noisy() const { return noisy_; }
  bool out_of_time() const { return out_of_time_; }

  using Color = MarkColor;
  void fill_path(fz_path const* path, bool even_odd, fz_matrix ctm, Color const& color) override;
  void stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm, Color const& color) override;
  void clip_path(fz_path const* path, bool even_odd, fz_matrix ctm) override;
  void clip_stroke_path(fz_path const* path, fz_stroke_state const* stroke, fz_matrix ctm) override;
  void fill_text(fz_text const* text, fz_matrix ctm, Color const& color) override;
  void stroke_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm, Color const& color) override;
  void clip_text(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm) override;
  void ignore_text(fz_text const* text, fz_matrix ctm) override;
  /// At the end of a text object all its texts that clip do, together (ISO 32000-1, 9.3.6).
  void text_object(bool begins) override;
  void fill_shade(fz_shade* shade, fz_matrix ctm, float alpha, fz_color_params params) override;
  void fill_image(fz_image* image, fz_matrix ctm, float alpha, fz_color_params params) override;
  void fill_image_mask(fz_image* image, fz_matrix ctm, Color const& color) override;
  void clip_image_mask(fz_image* image, fz_matrix ctm) override;
  void pop_clip() override;
  void begin_mask(bool luminosity, fz_colorspace* space, float const* backdrop, fz_color_params params) override;
  void end_mask() override;
  void begin_group(MarkGroup const& group) override;
  void end_group() override;
  void begin_tile(fz_rect view, float xstep, float ystep, fz_matrix ctm) override;
  void end_tile() override;
  /// Something the library does not paint but prints: its box, as one flat mark.
  void add_box(SeenRect const& box, Rgb color);

  /// Looks at the clock now and then and stops the page when its time is over.
  bool hears() override;
  bool inside_glyph() const override { return type3_depth_ > 0; }
  /// The page is then not wholly read.
  void failed() override { failed_ = true; }

 private:
  /// Marks of the page itself, of a tile or of a mask: each kept apart.
  struct Layer {
    InkLedger ledger;
    InkRule rule = InkRule::on_paper;
    std::optional<SeenRect> limit;  // what is seen, on the page itself
    fz_rect view{};                 // of a tile, with its steps and matrix
    float xstep = 0, ystep = 0;
    ToSeen matrix{};
    bool tile = false;
    std::optional<SeenRect> filled;  // where the copies of a tile can be seen
    float backdrop = 0;              // of a luminosity mask
    std::size_t depth = 0;           // of the clips when it began
    bool mask = false;               // it is a soft mask: nothing of it shows
    double tinted = 0;               // of a tile: points of area, times the tints on them
  };
  struct Mark {
    SeenRect bounds;     // around it, perhaps a little too large
    bool solid = false;  // `bounds` is exact and covered all over
    bool flat = false;   // one colour
    Paint paint;
    bool gaps = false;  // only its outermost places are known: cut, a picture has to tell what is left
  };

  Layer& layer() { return layers_.back(); }
  bool on_page() const { return layers_.size() == 1 && type3_depth_ == 0; }
  /// Nothing that is drawn now is seen itself: a mask, or a part of one.
  bool in_mask() const;
  /// Where what is drawn now can be seen, on the page or in a tile; nothing where it cannot.
  std::optional<SeenRect> sight() const;
  Paint paint_for(Color const& color);
  /// `exact(window)` gives a mark's exact extents inside a window, or all of them.
  template <class Exact>
  void leave(Mark const& mark, Exact&& exact);
  template <class Exact>
  std::optional<Extent> clipped(Mark const& mark, std::optional<SeenRect> const& limit, Exact&& exact) const;
  void enter(Extent const& extent, bool solid, Paint paint);
  /// A mark that is too faint by itself: what it adds up to with others.
  void add_faint(Mark const& mark);
  /// Whether ink inside `bounds` could change nothing at all.
  bool settled(SeenRect const& bounds) const;
  void push_flat_clip(ToSeen const& matrix);
  /// Whether the path in hand was kept as a frame or as lines that may make one.
  bool keep_as_frame(ToSeen const& matrix, StrokeStyle const& style, Paint paint);
  void leave_tiles(Layer const& tile);
  std::optional<SeenRect> clipped_to_page(SeenRect const& box) const;
  /// The last text that clips is there still, when the next is painted: it is no text under a pattern, and clips only once its text object ends.
  void put_off_text_clip();
  /// Of a letter that can be seen and that its font lacks.
  void note_damaged(fz_font* font, int glyph, SeenRect const& bounds);
  void note_cut_text(std::optional<SeenRect> const& bounds, Paint paint);
  void note_cut(SeenRect const& whole, bool flat_ground);
  template <class Each>
  void each_glyph(fz_text const* text, Each&& each);
  /// How a text is painted: shown or not, and where that is simple, in which colour; text that others are clipped to has none.
  struct TextPaint {
    bool visible = true;
    std::optional<Rgb> color;
    float opacity = 1;
  };
  TextPaint text_paint(Color const& color);
  void count_glyphs(fz_text const* text, ToSeen const& ctm, TextPaint const& paint);
  void report_glyphs(fz_text const* text, ToSeen const& ctm, TextPaint const& paint);
  /// For the reading: something that is no text was painted inside `bounds`, which is `exact` where it was covered all over.
  void note_beneath_text(SeenRect const& bounds, bool exact, std::optional<Rgb> color, float opacity);
  void note_shape(SeenRect const& bounds, Paint paint, bool bar);
  void note_picture(fz_image const* image, ToSeen const& ctm, float opacity);
  void type3_glyph(fz_font* font, int glyph, fz_matrix matrix, Color const& color);
  std::optional<SeenRect> text_extents(fz_text const* text, fz_stroke_state const* stroke, fz_matrix ctm);
  void note_unread(ImageInk const& ink);
  void leave_image(fz_image* image, fz_image* mask, fz_matrix ctm, float opacity);
  void note_image(fz_image* image, ToSeen const& ctm);
  /// Text that lies wholly under what is painted now, at full strength, does not show any more.
  template <class Covers>
  void hide_text(SeenRect const& bounds, float opacity, Covers&& covers);
  /// As it is laid: under a transfer function, and all inks where it is the colourant All.
  Rgb laid(Rgb rgb, Color const& color) const;
  ColourTransfer const* transfer() const;
  // For the art's checks (ink_art.cpp).
  /// Around what shows of something around which `bounds` lies; nothing where nothing shows, or nobody asks.
  std::optional<SeenRect> shown_for_art(SeenRect const& bounds) const;
  /// What only its pixels tell: parts of paper-white, and whether it is of one color.
  void note_picture_art(ImageInk const& ink, ToSeen const& matrix);
  ArtPaint art_paint(Color const& color);
  void note_art_fill(SeenRect const& bounds, bool rectangle, bool even_odd, ToSeen const& matrix, Color const& color);
  void note_art_faint(SeenRect const& bounds, float tint, float alpha);
  void note_art_pattern(Layer const& tile, SeenRect const& where);
  /// Whether what lies there is large enough to be noted as a faint ground.
  bool may_be_ground(SeenRect const& bounds) const;
  void note_art_stroke(SeenRect const& bounds, double radius, ToSeen const& matrix, Color const& color);
  /// Thin outlines of letters; not those of a fill in the same colour, which only make it bolder.
  void note_art_outline(fz_text const* text, double radius, ToSeen const& matrix, Color const& color);
  /// Whether a mark hides what lies beneath it, wherever it shows.
  bool hides_art(ArtPaint const& paint) const;
  void note_art_text(fz_text const* text, ToSeen const& ctm, Color const& color);
  void note_art_picture(fz_image* image, ToSeen const& matrix, float alpha, Color const* color);

  fz_context* ctx_;
  GlyphCache& glyphs_;
  ImageCache& images_;
  MarksWanted const& wanted_;
  fz_cookie& cookie_;
  fz_device* device_ = nullptr;
  TextReading* reading_ = nullptr;
  ArtCollector* art_ = nullptr;
  SeenRect seen_, media_;
  Marks marks_;
  std::vector<Layer> layers_;
  ClipStack clips_;
  Outline outline_;  // scratch
  FrameDetector frames_;
  FaintSum faint_;      // of the page itself
  bool noisy_ = false;  // a picture whose white is noisy was looked at
  Grounds grounds_;     // these two for the reading
  OtherShapes others_;
  double shade_pixels_ = kShadePixels;
  bool in_text_ = false;  // glyphs that are cut are reported as one text
  bool in_text_object_ = false;
  std::optional<SeenRect> text_clip_;  // of the text object in hand
  std::size_t text_clip_depth_ = 0;    // of the clips with the last of them; 0: it has none
  std::optional<SeenRect> last_text_;  // the last text that others were clipped to, and the depth with it
  std::size_t last_text_depth_ = 0;
  int type3_depth_ = 0;
  std::optional<Color> type3_color_;  // glyphs that take the text's colour
  Rgb last_rgb_{};
  std::optional<float> last_tint_;
  fz_colorspace* last_space_ = nullptr;
  float last_values_[4] = {-1, -1, -1, -1};
  bool failed_ = false, out_of_time_ = false;
  unsigned ticks_ = 0;
  fz_text const* filled_text_ = nullptr;  // the last that was filled, and how
  Rgb filled_rgb_{};
  std::clock_t started_;  // in processor time: a busy machine must not make a page look heavy
};

}  // namespace layright
