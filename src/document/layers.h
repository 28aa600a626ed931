// Layers (optional content, ISO 32000-1, 8.11) in their print state.
#pragma once
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// Names of the layers that do not print: the default configuration's BaseState, ON and OFF, then the layer's own print state where
/// an AS entry for the event Print names the layer (8.11.4.4 and 8.11.4.5).
std::vector<std::string> layers_not_printing(QPDFObjectHandle catalog);

}  // namespace layright
