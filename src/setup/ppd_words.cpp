#include "setup/ppd_words.h"

#include <charconv>
#include <cmath>
#include <map>

namespace layright {

std::vector<std::string_view> const& words_for(std::string_view ipp_keyword) {
  using WordsToLookFor = std::vector<std::string_view>;
  static std::map<std::string_view, WordsToLookFor> const table = {
      // media-source (PWG 5100.13)
      {"by-pass-tray", {"multipurpose", "=mptray",         "=mp",        "=mpf",       "=mpt",       "mptray",    "bypass", "bipasso", "=mf1",
                        "bandejamp",    "multitray",       "multifunc",  "multisheet", "multimedia", "multifeed", "=msi",   "=multi",  "sheetfeeder",
                        "mehrzweck",    "universalzufuhr", "polyvalent", "multiuso",   "multiusage", "manual"}},
      {"manual", {"manual", "handfeed", "bypass", "multipurpose"}},
      {"auto", {"=auto", "autoselect", "automatic", "autosource"}},
      {"main", {"=main", "=standard", "maintray"}},
      {"top", {"=top", "=upper", "uppertray", "toptray"}},
      {"bottom", {"=bottom", "=lower", "lowertray", "bottomtray"}},
      {"rear", {"=rear", "reartray"}},
      {"roll", {"=roll", "rollfeed", "rollpaper"}},
      // media-type (PWG 5100.3, 5100.11)
      {"transparency", {"transpar", "trnsp", "trasparen", "=ohp", "ohp", "overhead", "lucid", "folie", "film", "foil"}},
      {"film", {"=film", "transpar", "trnsp", "trasparen", "=ohp", "ohp", "overhead", "lucid", "folie", "film", "foil"}},
      {"stationery", {"=plain", "plainpaper", "plain", "stationery"}},
      {"labels", {"label"}},
      {"cardstock", {"cardstock", "card", "heavy", "thick"}},
      // output-bin (PWG 5100.2)
      {"face-up",
       {"faceup", "caraarriba", "facciainsu", "faceparacima", "facedessus", "faceenhaut", "facevershaut", "verslehaut", "nachoben", "druckseiteoben",
        "seiteoben", "furear", "fuside", "straight", "=rear", "rearbin", "rearexit"}},
      {"face-down", {"facedown"}},
      // print-quality (RFC 8011, 5.2.13)
      {"draft", {"draft", "fast", "econo"}},
      {"normal", {"normal", "standard", "general"}},
      {"high", {"=high", "highquality", "best", "superfine", "fine", "high", "presentation"}},
      // print-color-mode (PWG 5100.13)
      {"color", {"=color", "=colour", "=cmyk", "fullcolor", "fullcolour", "fourcolor", "=rgb", "=true", "=cmy"}},
      {"monochrome", {"monochrome", "=gray", "=grey", "=mono", "grayscale", "greyscale", "black", "=bw"}},
      // print-rendering-intent (PWG 5100.13), by what ISO 32000-1, 8.6.5.8 calls them; never by what a maker recommends one for
      {"perceptual", {"perceptual"}},
      {"relative", {"relativecolorimetric", "=relative", "mediarelative", "relative", "colorimetric", "colourimetric"}},
      {"saturation", {"saturation"}},
      {"absolute", {"absolute"}},
      // sides (RFC 8011, 5.2.8)
      {"one-sided", {"=none", "=off", "=false", "simplex", "onesided", "1sided", "noduplex"}},
  };
  static WordsToLookFor const nothing;
  auto const found = table.find(ipp_keyword);
  return found == table.end() ? nothing : found->second;
}

Dots parse_resolution(std::string_view text) {
  char const* at = text.data();
  char const* const end = at + text.size();
  Dots dots;
  auto read = std::from_chars(at, end, dots.across);
  if (read.ec != std::errc() || dots.across <= 0) return {};
  dots.along = dots.across;
  at = read.ptr;
  if (at != end && (*at == 'x' || *at == 'X')) {
    read = std::from_chars(at + 1, end, dots.along);
    if (read.ec != std::errc() || dots.along <= 0) return {};
    at = read.ptr;
  }
  std::string_view const unit(at, static_cast<std::size_t>(end - at));
  if (unit == "dpcm" && dots.across < 100000 && dots.along < 100000)
    return {static_cast<int>(std::lround(dots.across * 2.54)), static_cast<int>(std::lround(dots.along * 2.54))};
  return unit == "dpi" ? dots : Dots{};
}

}  // namespace layright
