// The resources of a laid page: the form of the source page, and what parts without resources of their own look for in the page's.
#pragma once
#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// A form, pattern or Type 3 font without Resources of its own uses those of the page it stands on (ISO 32000-1, 7.8.3, 9.6.5): only
/// if `source` names such a one, all that it names is named again. Always a dictionary of its own with an XObject dictionary of its own.
QPDFObjectHandle laid_resources(QPDFObjectHandle source);

/// A name for `form` among the XObjects of `resources` that nothing has: "/Source" where that is free.
std::string name_source(QPDFObjectHandle resources, QPDFObjectHandle form);

}  // namespace layright
