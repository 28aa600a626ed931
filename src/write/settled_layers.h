// Layers of a file that is laid: the laid page is for one press, and every reader must print of it what the reports say.
#pragma once
#include <qpdf/QPDF.hh>

namespace layright {

/// Writes down, in the simplest words that there are, what prints (ISO 32000-1, 8.11.4.3): each layer on or off in the default configuration,
/// each membership on one layer; no usages, events, intents, expressions or other configurations. Forms that do not print are emptied,
/// since many readers look for layers in content alone.
void settle_layers(QPDF& pdf);

}  // namespace layright
