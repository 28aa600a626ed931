// Appearances of annotations that bring none: the kinds whose shape ISO 32000-1 describes by lines and colours (12.5.6.7 to 12.5.6.13).
#pragma once
#include <string>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

/// A form in the page's user space, to be drawn where it is, or null for kinds that have no shape of their own (annotation_kinds.h) and
/// for shapes without points.
QPDFObjectHandle drawn_annotation(QPDF& pdf, QPDFObjectHandle annotation);
/// A form that shows `operators` inside `box`.
QPDFObjectHandle new_form(QPDF& pdf, Rect<PageSpace> const& box, std::string const& operators);
/// The colour in `key` (12.5.2: none, grey, RGB or CMYK) as a stroking or filling operator; empty where there is none.
std::string colour_operator(QPDFObjectHandle annotation, char const* key, bool stroking);
/// The dash operator of the annotation's border (12.5.4), or empty.
std::string dash_operator(QPDFObjectHandle annotation);

}  // namespace layright
