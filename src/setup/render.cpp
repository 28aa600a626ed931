#include "setup/render.h"

#include <algorithm>

#include "geometry/length.h"

namespace layright {

Render render_for(Marks const& marks) {
  if (!marks.ink) return Render::graphics;
  double pictures = 0;
  for (auto const& image : marks.images)
    if (auto const seen = intersection(image.where, *marks.ink)) pictures += seen->area();
  return pictures > 0 && pictures >= marks.ink->area() / 2 ? Render::pictures : Render::graphics;
}

std::string intent_keyword(Render render) { return render == Render::pictures ? "perceptual" : "relative"; }

std::string with_percent(std::string choice, White const& white) {
  constexpr std::string_view kMark = "{percent}";
  if (auto const at = choice.find(kMark); at != std::string::npos) choice.replace(at, kMark.size(), format_number(white.percent.value_or(100), 0));
  return choice;
}

}  // namespace layright
