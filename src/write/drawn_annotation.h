// Appearances of annotations that bring none: the kinds whose shape ISO 32000-1 describes by lines and colours (12.5.6.7 to 12.5.6.13).
#pragma once
#include <string>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// A form in the page's user space, to be drawn where it is, or null for kinds that each reader draws in its own way (notes, stamps,
/// free text).
QPDFObjectHandle drawn_annotation(QPDF& pdf, QPDFObjectHandle annotation);
/// The colour in `key` (12.5.2: none, grey, RGB or CMYK) as a stroking or filling operator; empty where there is none.
std::string colour_operator(QPDFObjectHandle annotation, char const* key, bool stroking);
/// The dash operator of the annotation's border (12.5.4), or empty.
std::string dash_operator(QPDFObjectHandle annotation);

}  // namespace layright
