#include "marks/art_collector.h"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "marks/jpeg_tables.h"
#include "marks/mask_fade.h"
#include "mupdf/tried.h"

namespace layright {
namespace {

// Our own, well inside what an eye can tell: an ink of less than 2 % is none, one of 95 % is solid.
constexpr float kNoInk = 0.02F, kSolidInk = 0.95F;
constexpr float kMuchDarker = 0.4F;  // of luminance: light marks on a ground at least so much darker are reversed out of it
constexpr float kPhotoTone = 0.35F;  // taken for what a picture or a shading has beneath a mark, unless one looks
constexpr double kLineAspect = 4;    // a filled rectangle at least so much longer than wide is a line
constexpr float kOpaque = 0.99F;
constexpr long kMostLooks = 20'000;  // at what a cover may hide: a page of more covers is no page of lines

enum class Tone { one_solid_ink, tinted };

/// In the inks of the process: how many there are, and the strongest.
struct Inks {
  int count = 0;
  float strongest = 0, black = 0;
  void add(float amount) {
    if (amount <= kNoInk) return;
    ++count;
    strongest = std::max(strongest, amount);
  }
};

Inks inks_of(fz_context* ctx, ArtPaint const& p) {
  Inks inks;
  auto const type = p.space ? fz_colorspace_type(ctx, p.space) : FZ_COLORSPACE_GRAY;
  int const n = p.space ? fz_colorspace_n(ctx, p.space) : 0;
  if (type == FZ_COLORSPACE_CMYK || type == FZ_COLORSPACE_SEPARATION) {
    for (int i = 0; i < n; ++i) inks.add(p.values[i]);
    if (type == FZ_COLORSPACE_CMYK && n == 4) inks.black = p.values[3];
    return inks;
  }
  // As the simplest conversion of ISO 32000-1, 10.3.5 has it, with all black taken out.
  float const white = std::max({p.rgb.r, p.rgb.g, p.rgb.b});
  inks.black = 1 - white;
  inks.add(inks.black);
  if (white <= 0) return inks;
  for (float const part : {p.rgb.r, p.rgb.g, p.rgb.b}) inks.add((white - part) / white);
  return inks;
}

Tone tone_of(Inks const& inks, float alpha) {
  return inks.count <= 1 && inks.strongest >= kSolidInk && alpha > kOpaque ? Tone::one_solid_ink : Tone::tinted;
}

char const* blend_name(int mode) {
  char const* const name = fz_blendmode_name(mode);
  return name ? name : "Normal";
}

std::string without_subset_mark(char const* name) {
  std::string text = name ? name : "";
  auto const capital = [](char c) { return c >= 'A' && c <= 'Z'; };
  if (text.size() > 7 && text[6] == '+' && std::all_of(text.begin(), text.begin() + 6, capital)) text.erase(0, 7);
  return text;
}

/// Plain calls that may jump out, so nothing here has a destructor.
fz_compressed_buffer* compressed(fz_context* ctx, fz_image* image) {
  return tried<fz_compressed_buffer*>(ctx, nullptr, [&] { return fz_compressed_image_buffer(ctx, image); });
}

}  // namespace

ArtCollector::~ArtCollector() {
  for (auto const& [space, at] : spaces_) fz_drop_colorspace(ctx_, space);
  for (auto const& [font, at] : fonts_) fz_drop_font(ctx_, font);
  for (auto const& [image, facts] : pictures_) fz_drop_image(ctx_, image);
}

bool ArtCollector::on_darker(SeenRect const& shown, float light) const {
  auto const middle = shown.centre();
  if (!(seen_.width() > 0) || !(seen_.height() > 0)) return false;
  int const x = std::clamp(static_cast<int>((middle.x - seen_.x0) / seen_.width() * kCells), 0, kCells - 1);
  int const y = std::clamp(static_cast<int>((middle.y - seen_.y0) / seen_.height() * kCells), 0, kCells - 1);
  unsigned char const beneath = tones_[static_cast<std::size_t>(y * kCells + x)];
  return beneath != kBare && light - static_cast<float>(beneath) / 254 >= kMuchDarker;
}

void ArtCollector::paint_tone(SeenRect const& shown, float light) {
  auto const cells = [](double from, double to, double low, double size) {
    // Cells whose middle is covered.
    int const first = static_cast<int>(std::ceil((from - low) / size * kCells - 0.5));
    int const last = static_cast<int>(std::floor((to - low) / size * kCells - 0.5));
    return std::pair{std::clamp(first, 0, kCells), std::clamp(last + 1, 0, kCells)};
  };
  auto const [x0, x1] = cells(shown.x0, shown.x1, seen_.x0, seen_.width());
  auto const [y0, y1] = cells(shown.y0, shown.y1, seen_.y0, seen_.height());
  if (x0 >= x1) return;
  auto const tone = static_cast<unsigned char>(std::clamp(std::lround(light * 254), 0L, 254L));
  for (int y = y0; y < y1; ++y) std::memset(&tones_[static_cast<std::size_t>(y * kCells + x0)], tone, static_cast<std::size_t>(x1 - x0));
}

ColourNote* ArtCollector::colour_of(fz_colorspace* space) {
  if (space == nullptr) return nullptr;
  auto const known = spaces_.find(space);
  if (known != spaces_.end()) return &notes_.colours[known->second];
  ColourNote note;
  note.device = fz_colorspace_is_device(ctx_, space) != 0;
  switch (fz_colorspace_type(ctx_, space)) {
    case FZ_COLORSPACE_GRAY: note.space = "gray"; break;
    case FZ_COLORSPACE_RGB:
    case FZ_COLORSPACE_BGR: note.space = "rgb"; break;
    case FZ_COLORSPACE_CMYK: note.space = "cmyk"; break;
    case FZ_COLORSPACE_LAB: note.space = "lab"; break;
    case FZ_COLORSPACE_INDEXED: note.space = "indexed"; break;
    case FZ_COLORSPACE_SEPARATION: {
      int const n = fz_colorspace_n(ctx_, space);
      note.space = n == 1 ? "spot" : "inks";
      for (int i = 0; i < n; ++i) {
        char const* const name = fz_colorspace_colorant(ctx_, space, i);
        note.inks.emplace_back(name ? name : "");
      }
      if (n == 1) {
        float const full = 1;
        Rgb const rgb = rgb_of(ctx_, space, &full, fz_default_color_params);
        note.full_rgb[0] = rgb.r;
        note.full_rgb[1] = rgb.g;
        note.full_rgb[2] = rgb.b;
      }
      break;
    }
    default: note.space = "other";
  }
  auto const same = std::find_if(notes_.colours.begin(), notes_.colours.end(), [&](ColourNote const& c) {
    return c.space == note.space && c.device == note.device && c.inks == note.inks && std::equal(c.full_rgb, c.full_rgb + 3, note.full_rgb);
  });
  std::size_t const at = static_cast<std::size_t>(same - notes_.colours.begin());
  if (same == notes_.colours.end()) {
    if (notes_.colours.size() >= kMostColourNotes) return nullptr;
    notes_.colours.push_back(std::move(note));
  }
  if (spaces_.size() < kMostColourNotes) spaces_.emplace(fz_keep_colorspace(ctx_, space), at);
  return &notes_.colours[at];
}

bool ArtCollector::has_small(SeenRect const& shown) const { return small_ && intersection(*small_, shown) && ++looks_ <= kMostLooks; }

void ArtCollector::color(SeenRect const& shown, ArtPaint const& p) {
  if (p.transferred) notes_.transferred.add(shown);
  if (auto* const note = colour_of(p.space)) {
    note->marks.add(shown);
    if (note->space == "spot") {
      if (note->inks[0] == "All" && p.values[0] > kNoInk) notes_.registration.add(shown);
      if (p.overprints && p.values[0] > kNoInk) notes_.spot_overprints.add(shown);
    }
  }
  if (p.alpha < kOpaque) notes_.transparent.add(shown);
  if (p.tint >= kLeastTint) return;
  if (p.overprints) notes_.white_overprints.add(shown);
  (p.alpha > kFull ? notes_.white : notes_.half_white).add(shown);
}

void ArtCollector::fill(SeenRect const& whole, SeenRect const& shown, bool rectangle, std::optional<std::pair<double, double>> bar,
                        ArtPaint const& p) {
  ++notes_.paths;
  color(shown, p);
  float const light = luminance(p.rgb);
  if (rectangle) bar = std::pair{std::min(whole.width(), whole.height()), std::max(whole.width(), whole.height())};
  if (bar && bar->second >= kLineAspect * bar->first) {
    double const thin = bar->first;
    note_small(shown);
    bool const reversed = on_darker(shown, light);
    if (reversed) notes_.light_lines.add(thin, shown);
    else if (white_prints_ || p.tint >= kLeastTint) notes_.lines.add(thin, shown);
  }
  bool const white = p.tint < kLeastTint;
  if (rectangle) faint(shown, p, [](SeenPoint) { return true; });
  if (rectangle && (white ? p.alpha > kOpaque : p.tint * p.alpha >= kLeastTint) && (!notes_.ground || shown.area() > notes_.ground->where.area()))
    notes_.ground = GroundNote{shown, white, notes_.paths + notes_.texts + notes_.shadings + static_cast<long>(notes_.pictures.size()) - 1};
  if (p.alpha > 0.5F) paint_tone(shown, light);
}

void ArtCollector::stroke(SeenRect const& shown, double width, ArtPaint const& p) {
  ++notes_.paths;
  color(shown, p);
  note_small(shown);
  if (on_darker(shown, luminance(p.rgb))) notes_.light_lines.add(width, shown);
  else if (white_prints_ || p.tint >= kLeastTint) notes_.lines.add(width, shown);
}

FontNote* ArtCollector::font_of(fz_font* font) {
  auto const known = fonts_.find(font);
  if (known != fonts_.end()) return &notes_.fonts[known->second];
  if (notes_.fonts.size() >= kMostFontNotes) return nullptr;
  FontNote note;
  note.name = without_subset_mark(fz_font_name(ctx_, font));
  note.type3 = font->t3procs != nullptr;
  note.replaced = fz_font_flags(font)->ft_substitute != 0;
  fonts_.emplace(fz_keep_font(ctx_, font), notes_.fonts.size());
  notes_.fonts.push_back(std::move(note));
  return &notes_.fonts.back();
}

void ArtCollector::text(SeenRect const& shown, fz_font* font, double em, long glyphs, long missing, ArtPaint const& p) {
  ++notes_.texts;
  color(shown, p);
  note_small(shown);
  if (auto* const note = font_of(font)) {
    note->around = note->glyphs.count > 0 ? united(note->around, shown) : shown;
    note->glyphs.add(shown);
    note->glyphs.count += glyphs - 1;
    if (missing > 0) {
      note->missing.add(shown);
      note->missing.count += missing - 1;
    }
  }
  float const light = luminance(p.rgb);
  if (on_darker(shown, light)) return notes_.light_text.add(em, shown);
  if (p.tint < kLeastTint) return white_prints_ ? notes_.text.add(em, shown) : void();
  Inks const inks = inks_of(ctx_, p);
  (tone_of(inks, p.alpha) == Tone::one_solid_ink ? notes_.text : notes_.tinted_text).add(em, shown);
  if (inks.black >= kSolidInk && inks.count > 1) notes_.rich_text.add(em, shown);
}

void ArtCollector::shading(SeenRect const& shown, fz_shade* shade, float alpha) {
  ++notes_.shadings;
  if (auto* const note = colour_of(shade->colorspace)) note->marks.add(shown);
  if (alpha < kOpaque) notes_.transparent.add(shown);
  paint_tone(shown, kPhotoTone);
}

PictureFacts const& ArtCollector::facts_of(fz_image* image) {
  auto const known = pictures_.find(image);
  if (known != pictures_.end()) return known->second;
  PictureFacts facts;
  if (auto* const buffer = compressed(ctx_, image); buffer && buffer->params.type == FZ_IMAGE_JPEG && buffer->buffer) {
    unsigned char* bytes = nullptr;
    std::size_t const size = fz_buffer_storage(ctx_, buffer->buffer, &bytes);
    facts.jpeg_quality = jpeg_quality({bytes, size});
  }
  if (image->mask && image->mask->bpc > 1) facts.fades = mask_fades(ctx_, image->mask);
  held_.add(ctx_, image, image);
  held_.fit(ctx_, [&](fz_image* oldest) {
    pictures_.erase(oldest);
    fz_drop_image(ctx_, oldest);
  });
  return pictures_.emplace(fz_keep_image(ctx_, image), facts).first->second;
}

void ArtCollector::picture(fz_image* image, ToSeen const& m, SeenRect const& shown, float alpha) {
  if (auto* const note = image->imagemask ? nullptr : colour_of(image->colorspace)) note->marks.add(shown);
  if (alpha < kOpaque || (image->mask && image->mask->bpc > 1)) notes_.transparent.add(shown);
  paint_tone(shown, kPhotoTone);
  if (notes_.pictures.size() >= kMostPictureNotes) return;
  PictureFacts const& facts = facts_of(image);
  PictureNote note;
  note.where = m.apply(Rect<MarkSpace>{0, 0, 1, 1});
  note.shown = shown;
  note.width = image->w;
  note.height = image->h;
  double const along = std::hypot(m.a, m.b), down = std::hypot(m.c, m.d);
  note.ppi_along = along > 0 ? 72 * image->w / along : 0;
  note.ppi_down = down > 0 ? 72 * image->h / down : 0;
  note.stencil = image->imagemask != 0;
  note.one_bit = note.stencil || (image->bpc == 1 && image->n == 1);
  note.interpolate = image->interpolate != 0;
  note.reversed = m.determinant() > 0;  // rows run down, so an upright picture has a negative one
  note.jpeg_quality = facts.jpeg_quality;
  if (image->mask) {
    note.mask = image->mask->bpc > 1 ? PictureNote::Mask::soft : PictureNote::Mask::hard;
    note.mask_ppi = std::min(along > 0 ? 72 * image->mask->w / along : 0, down > 0 ? 72 * image->mask->h / down : 0);
    note.fades = facts.fades;
  }
  notes_.pictures.push_back(note);
}

void ArtCollector::group(int blend_mode, float alpha) {
  int const mode = blend_mode & FZ_BLEND_MODEMASK;
  if (mode != FZ_BLEND_NORMAL) {
    std::string const name = blend_name(mode);
    if (std::find(notes_.blends.begin(), notes_.blends.end(), name) == notes_.blends.end()) notes_.blends.push_back(name);
  }
  if (alpha < kOpaque) ++notes_.transparent.count;
}

}  // namespace layright
