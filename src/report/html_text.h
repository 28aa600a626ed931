// Text for a web page: everything that comes from a file is hostile.
#pragma once
#include <string>
#include <string_view>

namespace layright {

/// As text between tags, or as an attribute in double quotes (HTML Standard, 13.1.2 and 13.5): & < > " ' are escaped, control characters
/// and bytes that are no UTF-8 made visible, and marks that change the direction of writing named by their number.
std::string html_text(std::string_view bytes);

}  // namespace layright
