// Spot colours for pages in the making.
#pragma once
#include <string>

namespace layright::test {

/// A separation whose stand-in goes from nothing to `cmyk` ("0 1 0 0"), as PDF writes it (ISO 32000-1, 8.6.6.4).
inline std::string separation(std::string const& name, std::string const& cmyk = "0 1 0 0") {
  return "[/Separation /" + name + " /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [" + cmyk + "] /N 1 >>]";
}

}  // namespace layright::test
