// Words of any script as outlines: shaped by HarfBuzz with whatever installed font has them (fontconfig).
#pragma once
#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

/// One piece of an outline in ems: 'm' 1 point, 'l' 1, 'c' 3 (a cubic curve), 'z' none.
struct OutlinePart {
  char kind = 'm';
  std::array<double, 6> at{};
};
struct Outline {
  std::vector<OutlinePart> parts;
  double width = 0;  // in ems
};

class Shaper {
 public:
  Shaper();
  ~Shaper();
  /// Nothing where no font has every character, or where it has no outlines for them (pictures only).
  std::optional<Outline> shape(std::string_view utf8);
  /// The file of an installed font family, or empty.
  static std::string font_file(char const* family, bool bold);
  static bool has_glyph(std::string const& file, std::uint32_t code_point);

 private:
  struct Font;
  Font* font_for(std::string_view utf8);
  std::map<std::string, std::unique_ptr<Font>> fonts_;
};

}  // namespace layright
