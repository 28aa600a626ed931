// What a file has beside its pages that a laid file has no place for.
#pragma once
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// "bookmarks", "links", "tags", …: each that is there. `has_links`: one of its pages has a link.
std::vector<std::string> lost_when_laid(QPDFObjectHandle catalog, bool has_links);

}  // namespace layright
