#include "setup/render.h"

#include "geometry/length.h"

namespace layright {

std::string intent_keyword(Render render) { return render == Render::pictures ? "perceptual" : "relative"; }

std::string with_percent(std::string choice, White const& white) {
  constexpr std::string_view kMark = "{percent}";
  if (auto const at = choice.find(kMark); at != std::string::npos) choice.replace(at, kMark.size(), format_number(white.percent.value_or(100), 0));
  return choice;
}

}  // namespace layright
