#include "report/html_text.h"

#include "report/report.h"

namespace layright {
std::string html_text(std::string_view bytes) {
  std::string out;
  for (char const c : shown_name(bytes)) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += c;
    }
  }
  return out;
}

}  // namespace layright
