// Looks into a colour profile only as far as telling its name and whether it is one.
#pragma once
#include <string>

#include <qpdf/QPDFObjectHandle.hh>

#include "document/art_structure.h"

namespace layright {

/// The decoded bytes of a stream, at most `most`; empty where it cannot be decoded. What is wrong with it is not reported as damage of the
/// file.
std::string stream_text(QPDFObjectHandle stream, std::size_t most);

/// Of an ICCBased stream (ISO 32000-1, 8.6.5.5), by its header (ICC.1:2022, 7.2) and its description (9.2.41).
ProfileEntry read_profile(QPDFObjectHandle stream);

}  // namespace layright
