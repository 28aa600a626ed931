// Everything around the pages of a laid file: its catalog, its page tree, its metadata.
#pragma once
#include <string>
#include <vector>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// "layright 0.2.0".
std::string producer();
/// A date for what is written that is the same each time: when the source was last changed, as it says, else made, else a fixed one.
std::string date_of(QPDF& pdf);
/// What remains is what pages need to print as they do (layers, output intents), what the file says of itself, and the request that no
/// viewer scales it; nothing that runs, and nothing that points at what is gone.
void clear_catalog(QPDF& pdf);
/// The information dictionary and, where it names a producer, the XMP packet name layright.
void name_producer(QPDF& pdf);
/// A new page tree of these pages.
void set_pages(QPDF& pdf, std::vector<QPDFObjectHandle> const& pages);

}  // namespace layright
