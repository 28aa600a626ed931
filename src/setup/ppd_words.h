// How presses' drivers call what IPP has a keyword for, where libcups does not map it.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace layright {

/// Words to look for in a choice's name or label (letters and digits only, lower case), the surest first. A word that starts with "="
/// must be the whole name. Empty for a keyword that is not known. From the names that Debian's packaged PPDs use most (counted over
/// 10,963 of them) and IPP's own keywords; the choice of words is ours.
std::vector<std::string_view> const& words_for(std::string_view ipp_keyword);

/// "600dpi", "600x1200dpi", "300dpcm", as IPP and PPDs write resolutions: dots to the inch across and along the feed (RFC 8011,
/// 5.1.16: cross-feed first). Both 0 when it is none.
struct Dots {
  int across = 0, along = 0;
  bool operator==(Dots const&) const = default;
};
Dots parse_resolution(std::string_view text);

/// The finest that there is, as a word of the configuration for printer-resolution.
inline constexpr std::string_view kFinest = "finest";

}  // namespace layright
