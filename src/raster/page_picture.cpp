// fz_try is setjmp: nothing with a destructor lives inside it.
#include "raster/page_picture.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "raster/page_canvas.h"

namespace layright {
namespace {

constexpr int kRim = 8;  // pixels around the ink, so that no letter touches the picture's edge

/// The frame of a drawing of `ink`; nothing where the page is not to be had.
std::optional<CanvasFrame> frame_of(fz_context* c, fz_page* page, Rect<SeenSpace> const& ink, double dpi) {
  CanvasFrame frame{};
  fz_var(frame);
  fz_try(c) frame = canvas_frame(c, page, ink, dpi, kRim);
  fz_catch(c) return std::nullopt;
  return frame;
}

/// Draws over `samples`, as many as the frame has: on white, or on nothing, with alpha. False where the page cannot be drawn.
bool draw(fz_context* c, fz_page* page, CanvasFrame const& frame, bool clear, LiveText text, unsigned char* samples) {
  fz_pixmap* pixmap = nullptr;
  fz_var(pixmap);
  fz_try(c) {
    pixmap = fz_new_pixmap_with_data(c, fz_device_rgb(c), frame.width, frame.height, nullptr, clear ? 1 : 0, (clear ? 4 : 3) * frame.width, samples);
    draw_on_canvas(c, page, frame, pixmap, text == LiveText::left_out);
  }
  fz_always(c) fz_drop_pixmap(c, pixmap);
  fz_catch(c) return false;
  return true;
}

/// The library's four bytes a pixel, colours times alpha, made straight colours and alpha apart.
void take_apart(PagePicture& picture) {
  auto const pixels = picture.rgb.size() / 4;
  picture.alpha.reserve(pixels);
  for (std::size_t at = 0; at < pixels; ++at) {
    unsigned const alpha = picture.rgb[at * 4 + 3];
    for (std::size_t i = 0; i < 3; ++i)
      picture.rgb[at * 3 + i] = static_cast<std::uint8_t>(alpha == 0 ? 0 : std::min(255U, (picture.rgb[at * 4 + i] * 255U + alpha / 2) / alpha));
    picture.alpha.push_back(static_cast<std::uint8_t>(alpha));
  }
  picture.rgb.resize(pixels * 3);
}

}  // namespace

double dpi_for_letters(Rect<SeenSpace> const& ink) {
  double const square_inches = std::max(ink.area(), 1.0) / (72.0 * 72.0);
  return std::clamp(std::sqrt(kMostPixels / square_inches), kLeastDpi, kMostDpi);
}

std::optional<PagePicture> draw_page(fz_context* c, fz_page* page, Rect<SeenSpace> const& ink, double dpi, bool clear, LiveText text) {
  if (!ink.finite() || !(dpi > 0)) return std::nullopt;
  auto const frame = frame_of(c, page, ink, dpi);
  if (!frame) return std::nullopt;
  PagePicture picture{frame->width, frame->height, dpi, frame->area, {}, {}};
  picture.rgb.assign((clear ? 4U : 3U) * static_cast<std::size_t>(frame->width) * static_cast<std::size_t>(frame->height), clear ? 0 : 255);
  if (!draw(c, page, *frame, clear, text, picture.rgb.data())) return std::nullopt;
  if (clear) take_apart(picture);
  return picture;
}

void lay_on_ground(PagePicture& picture) {
  constexpr unsigned kOpaque = 128;
  constexpr int kGreys[] = {255, 0, 128};
  double apart[3] = {0, 0, 0};
  for (std::size_t at = 0; at < picture.alpha.size(); ++at) {
    if (picture.alpha[at] < kOpaque) continue;
    std::uint8_t const* const rgb = picture.rgb.data() + 3 * at;
    int const grey = (rgb[0] * 77 + rgb[1] * 150 + rgb[2] * 29) >> 8;
    for (std::size_t i = 0; i < 3; ++i) apart[i] += std::min(std::abs(grey - kGreys[i]), 60);
  }
  std::size_t const best = static_cast<std::size_t>(std::max_element(apart, apart + 3) - apart);
  for (std::size_t at = 0; at < picture.alpha.size(); ++at) {
    unsigned const alpha = picture.alpha[at];
    for (std::size_t i = 3 * at; i < 3 * at + 3; ++i)
      picture.rgb[i] = static_cast<std::uint8_t>((picture.rgb[i] * alpha + static_cast<unsigned>(kGreys[best]) * (255 - alpha) + 127) / 255);
  }
  picture.alpha.clear();
}

}  // namespace layright
