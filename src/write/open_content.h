// What a page's content leaves open at its end.
#pragma once
#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// How many marked contents begin and do not end on a page (ISO 32000-1, 14.6). For readers they would go on over what follows on the laid page.
int open_marked_content(QPDFObjectHandle page);

}  // namespace layright
