// What a style sheet or a style attribute asks for (CSS 2.1, 4): addresses and families of fonts, in plain characters.
#pragma once
#include <functional>
#include <string>
#include <string_view>

namespace layright {

/// Comments taken out, escapes (\\6c, \\url) put as what they stand for.
std::string plain_css(std::string_view css);

/// Each url(…) and @import "…" of what plain_css gave.
void each_css_address(std::string_view css, std::function<void(std::string_view)> const& report);
/// Each font-family: ….
void each_css_family(std::string_view css, std::function<void(std::string_view)> const& report);

}  // namespace layright
