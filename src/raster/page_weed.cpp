// fz_try is setjmp: nothing with a destructor lives inside it.
#include "raster/page_weed.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <ctime>
#include <exception>
#include <vector>

#include "base/in_quotes.h"
#include "mupdf/library.h"
#include "raster/letter_at.h"
#include "raster/page_bands.h"
#include "raster/paper.h"
#include "raster/weed_scan.h"
#include "raster/weed_text.h"

namespace layright {
namespace {

constexpr double kBandBytes = 4e6;
constexpr double kNoise = 1e-6;
constexpr int kAround = PageBands::kAround;

/// What a pixel has to be to be ink: as paper.h has it, in eight bits and whole numbers.
struct Rule {
  bool white_prints, noisy;
};
bool is_ink(unsigned char const* p, Rule rule) {
  if (rule.white_prints) return p[3] > kFaint * 255;
  if (!rule.noisy) return std::min({p[0], p[1], p[2]}) < (1 - kLeastTint) * 255;
  return !is_paper_white(p[0], p[1], p[2]);
}

/// Bits of a row, its first pixel at bit `from`.
void ink_bits(unsigned char const* p, int width, int each, Rule rule, int from, std::vector<std::uint64_t>& bits) {
  std::ranges::fill(bits, 0);
  unsigned char const clear = rule.white_prints ? 0 : 255;
  for (int x = 0; x < width;) {
    int const end = std::min(width, x + 16);
    unsigned char const* const stop = p + (end - x) * each;
    bool const empty = std::all_of(p, stop, [clear](unsigned char v) { return v == clear; });
    if (empty) {
      p = stop;
      x = end;
      continue;
    }
    for (; x < end; ++x, p += each) {
      auto const at = static_cast<unsigned>(x + from);
      bits[at / 64] |= static_cast<std::uint64_t>(is_ink(p, rule)) << (at % 64);
    }
  }
}

/// No letter and no digit.
bool is_sign(std::string const& letter) {
  int c = 0;
  fz_chartorune(&c, letter.c_str());
  if (c < 0xC0) return std::isalnum(c) == 0;
  return c == 0xD7 || c == 0xF7 || (c >= 0x2000 && c < 0x2C00);  // times, divided by; dashes, quotes, arrows and other signs
}

/// The first few of what is found, the worst first.
struct Worst {
  std::vector<WeedPiece> pieces;
  long count = 0;
  int width = 0;
  long area = 0;
  static bool worse(WeedPiece const& a, WeedPiece const& b) {
    int const wa = a.width > 0 ? a.width : kMostDisc, wb = b.width > 0 ? b.width : kMostDisc;
    return wa != wb ? wa < wb : a.area < b.area;
  }
  void add(WeedPiece const& piece) {
    if (piece.width > 0 && (width == 0 || piece.width < width)) width = piece.width;
    if (count++ == 0 || piece.area < area) area = piece.area;
    if (pieces.size() == kMostArtPlaces && !worse(piece, pieces.back())) return;
    pieces.insert(std::ranges::upper_bound(pieces, piece, worse), piece);
    if (pieces.size() > kMostArtPlaces) pieces.pop_back();
  }
};

struct Found {
  double dust = 0;  // pixels: of less area, nobody sees it
  int closed = 0;   // pixels: gaps so wide are closed by the press, which paints each pixel that a shape touches (ISO 32000-1, 10.6.5, from memory)
  Worst all, seen;
  void add(WeedPiece const& piece) {
    all.add(piece);
    if (static_cast<double>(piece.area) >= dust && (piece.width == 0 || piece.width > closed)) seen.add(piece);
  }
  Worst const& reported() const { return all.count - seen.count >= kManyWeedPieces ? all : seen; }
};

struct Frame {
  Rect<SeenSpace> area;
  double dpi = 0;  // of the page
  int width = 0, height = 0, rim = 0;
  fz_matrix ctm{};
};

/// Nothing where there is no area.
std::optional<Frame> frame_of(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, Rect<SeenSpace> const& ink, double dpi, int rim) {
  Frame f;
  f.area = {std::max(seen.x0, ink.x0), std::max(seen.y0, ink.y0), std::min(seen.x1, ink.x1), std::min(seen.y1, ink.y1)};
  if (!(f.area.x1 > f.area.x0) || !(f.area.y1 > f.area.y0) || !f.area.finite()) return std::nullopt;
  f.dpi = std::min(dpi, (kMostWeedSide - 1) * 72 / std::max(f.area.width(), f.area.height()));
  double const k = f.dpi / 72;
  f.width = static_cast<int>(std::ceil(f.area.width() * k));
  f.height = static_cast<int>(std::ceil(f.area.height() * k));
  f.rim = rim;
  fz_rect box{};
  fz_try(c) box = fz_bound_page(c, page);  // y down
  fz_catch(c) return std::nullopt;
  double const down = box.y1 - box.y0 - f.area.y1;
  f.ctm = fz_concat(fz_translate(static_cast<float>(-box.x0 - f.area.x0), static_cast<float>(-box.y0 - down)),
                    fz_scale(static_cast<float>(k), static_cast<float>(k)));
  return f;
}

WeedFound found_on_page(Worst const& worst, Frame const& f, double printed) {
  WeedFound found;
  double const k = 72 / f.dpi, p = 72 / printed;
  for (auto const& piece : worst.pieces)
    found.places.add({f.area.x0 + (piece.x0 - f.rim) * k, f.area.y1 - (piece.y1 - f.rim) * k, f.area.x0 + (piece.x1 - f.rim) * k,
                      f.area.y1 - (piece.y0 - f.rim) * k});
  found.places.count = worst.count;
  found.width_pt = worst.width * p;
  found.area_pt2 = static_cast<double>(worst.area) * p * p;
  return found;
}

/// What the finest piece is: by its look, and the letter that it lies in, where live text has one there.
void name_finest(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, Worst const& worst, bool gap, WeedFound& found) {
  if (worst.pieces.empty()) return;
  WeedPiece const& piece = worst.pieces.front();
  auto const& box = found.places.first.front();
  bool const small = piece.width == 0 || std::max(piece.x1 - piece.x0, piece.y1 - piece.y0) < 2 * piece.width;
  found.finest = gap ? (small ? "a hole" : "a slit") : small ? "a speck" : "a hair";
  if (auto const letter = letter_at(c, page, {box.centre().x - seen.x0, seen.y1 - box.centre().y}); !letter.empty())
    found.finest += (is_sign(letter) ? " in the sign " : " in the letter ") + in_quotes(letter);
}

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// The part that was looked at, from above; nothing where the library fails.
std::optional<double> scan(fz_context* c, PageBands& bands, Frame const& f, WeedWanted const& wanted, WeedScan& ink, WeedScan& gaps) {
  bool const white_prints = wanted.white_prints;
  double const begun = processor_seconds();
  int const across = f.width + 2 * f.rim;
  std::vector<std::uint64_t> bits(ink.words()), others(ink.words());
  auto const hand_on = [&] {
    for (std::size_t i = 0; i < bits.size(); ++i) others[i] = ~bits[i];
    if (across % 64 != 0) others.back() &= ~std::uint64_t{0} >> (64 - across % 64);
    ink.row(bits);
    gaps.row(others);
  };
  for (int y = 0; y < f.rim; ++y) hand_on();
  int const each = white_prints ? 4 : 3;
  int const rows = std::max(16, static_cast<int>(kBandBytes / each / f.width));
  auto const stopped_at = [&](int row) {
    ink.stop();
    gaps.stop();
    return static_cast<double>(row) / f.height;
  };
  for (int top = 0; top < f.height; top += rows) {
    if (wanted.seconds > 0 && processor_seconds() - begun > wanted.seconds) return stopped_at(top);
    fz_pixmap* const pixels =
        bands.draw(f.ctm, fz_make_irect(0, top, f.width, std::min(f.height, top + rows)), white_prints ? BandGround::clear : BandGround::paper);
    if (!pixels) return std::nullopt;
    int y = kAround;
    for (; y < pixels->h - kAround && !ink.full() && !gaps.full(); ++y) {
      ink_bits(pixels->samples + static_cast<std::ptrdiff_t>(y) * pixels->stride + kAround * each, f.width, each, {white_prints, wanted.noisy}, f.rim,
               bits);
      hand_on();
    }
    bool const whole = y == pixels->h - kAround;
    fz_drop_pixmap(c, pixels);
    if (!whole) return stopped_at(top + y - kAround);
  }
  std::ranges::fill(bits, 0);
  for (int y = 0; y < f.rim; ++y) hand_on();
  ink.finish();
  gaps.finish();
  return 1;
}

}  // namespace

std::optional<PageWeed> read_weed(fz_context* c, fz_page* page, Rect<SeenSpace> const& seen, Rect<SeenSpace> const& ink, WeedWanted const& wanted) {
  double const most = wanted.width_pt > 0 ? kMostWeedWidth * 72 / wanted.width_pt : wanted.dpi;
  double const asked = std::min(wanted.dpi, most) * wanted.scale;
  auto frame = frame_of(c, page, seen, ink, asked, 0);
  if (!frame) return std::nullopt;
  double const printed = frame->dpi / wanted.scale;  // pixels to the inch as printed
  int const least = std::max(1, static_cast<int>(std::floor(wanted.width_pt * printed / 72 + kNoise)));
  double const side = std::max(0.0, std::sqrt(wanted.area_pt2) * printed / 72 - 1);  // a pixel less: where the edges fall between pixels is chance
  frame->rim = least + 2;
  double const dust = std::pow(kWeedDust * printed / 72, 2);
  Found islands{dust, 0, {}, {}}, holes{dust, 1, {}, {}};
  int const across = frame->width + 2 * frame->rim;
  int const length = static_cast<int>(std::ceil(wanted.length_pt * printed / 72 - kNoise));
  std::vector<WeedPiece> fine_ink, fine_gaps;
  WeedRows dark(printed), light(printed);  // letters of ink, and clear ones
  WeedScan inked(
      across, {least, side * side, true, length}, [&](WeedPiece const& p) { fine_ink.push_back(p); },
      [&](WeedPiece const& p) {
        dark.add({p.x0, p.y0, p.x1, p.y1});
      });
  WeedScan clear(
      across, {least, side * side, false, length}, [&](WeedPiece const& p) { fine_gaps.push_back(p); },
      [&](WeedPiece const& p) {
        light.add({p.x0, p.y0, p.x1, p.y1});
      });
  PageBands bands(c, page);
  if (!bands.good()) return std::nullopt;
  std::optional<double> looked_at;
  try {
    looked_at = scan(c, bands, *frame, wanted, inked, clear);
    for (auto* const rows : {&dark, &light})
      for (auto* const found : {&fine_ink, &fine_gaps}) rows->take_out(*found);
    for (auto const& piece : fine_ink) islands.add(piece);
    for (auto const& piece : fine_gaps) holes.add(piece);
  } catch (std::exception const&) {  // only ever for want of memory
  }
  if (!looked_at) return std::nullopt;
  PageWeed weed{found_on_page(islands.reported(), *frame, printed), found_on_page(holes.reported(), *frame, printed), printed, *looked_at};
  name_finest(c, page, seen, islands.reported(), false, weed.ink);
  name_finest(c, page, seen, holes.reported(), true, weed.gaps);
  return weed;
}

}  // namespace layright
