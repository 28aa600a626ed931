// Flattens the annotations that print into content of their own (ISO 32000-1, 12.5.5).
#pragma once
#include <string>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

#include "document/page.h"

namespace layright {

/// Operators that paint, in the page's user space and clipped to what is seen, the annotations of `page` that print; empty when none
/// does. What they name is added to `resources`. An annotation without an appearance: a link's border, form fields
/// and the kinds of annotation_kinds.h are drawn here; of the others nothing is drawn (annotation_fate.h).
std::string flatten_annotations(QPDF& pdf, QPDFObjectHandle page, Page const& described, QPDFObjectHandle resources);

}  // namespace layright
