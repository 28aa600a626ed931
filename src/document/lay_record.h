// layright's own page-piece dictionary (ISO 32000-1, 14.5): reading it and making it.
#pragma once
#include <optional>

#include <qpdf/QPDFObjectHandle.hh>

#include "document/page_digest.h"
#include "document/page_tree.h"
#include "document/record.h"

namespace layright {

/// The name of the form that holds the source page, among the laid page's XObjects.
inline constexpr char kSourceForm[] = "/Source";

/// The page's record, with whether it still holds; nothing where there is none, or not all of it is there. `digests` is made when it
/// is first needed.
std::optional<LayRecord> read_record(PageTree const& tree, int number, std::optional<PageDigests>& digests);

/// Puts the record into `page`, which must be finished in all else and own all of its values. `date` is a PDF date string (7.9.4).
void write_record(QPDFObjectHandle page, LayRecord const& record, QPDFObjectHandle date, PageDigests& digests);

}  // namespace layright
