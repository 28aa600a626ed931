// What a viewer could run or open in a document, as its catalog tells (ISO 32000-1, 7.7.2).
#pragma once
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// "JavaScript", "3 attachments", …; empty when there is nothing.
std::vector<std::string> active_content_of(QPDFObjectHandle catalog);

}  // namespace layright
