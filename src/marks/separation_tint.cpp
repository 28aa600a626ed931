#include "marks/separation_tint.h"

#include <algorithm>
#include <cstring>

#include "raster/paper.h"

namespace layright {
namespace {

constexpr float kNoDifference = 0.001F;  // of white: a spot ink that looks so is a white one, or a varnish

bool of_process(char const* name) {
  for (char const* const process : {"Cyan", "Magenta", "Yellow", "Black", "All"})
    if (std::strcmp(name, process) == 0) return true;
  return false;
}

std::optional<float> of_inks(fz_context* ctx, fz_colorspace* space, float const* values, Rgb rgb) {
  int const n = fz_colorspace_n(ctx, space);
  bool const looks_white = tint_of(rgb) < kNoDifference;
  std::optional<float> strongest;
  for (int i = 0; i < n; ++i) {
    char const* const name = fz_colorspace_colorant(ctx, space, i);
    if (name && std::strcmp(name, "None") == 0) continue;
    bool const shows = !looks_white || (name && of_process(name));
    strongest = std::max(strongest.value_or(0), shows ? values[i] : 0);
  }
  return strongest;
}

}  // namespace

std::optional<float> strongest_tint(fz_context* ctx, fz_colorspace* space, float const* values, Rgb rgb) {
  if (space == nullptr || values == nullptr) return tint_of(rgb);
  switch (fz_colorspace_type(ctx, space)) {
    case FZ_COLORSPACE_CMYK: return *std::max_element(values, values + 4);
    case FZ_COLORSPACE_SEPARATION: return of_inks(ctx, space, values, rgb);
    default: return tint_of(rgb);
  }
}

}  // namespace layright
