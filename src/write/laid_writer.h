// Hands a laid file on as bytes.
#pragma once
#include <qpdf/QPDF.hh>

#include "base/result.h"
#include "write/write_laid.h"

namespace layright {

/// Same file, same bytes. `keep_version`: PDF/X ties the version of the file to the standard it claims; elsewhere 1.7, which has all of the
/// viewer preferences. Error (io) where the sink gave up. Throws what the library throws.
Outcome write_laid_file(QPDF& pdf, bool keep_version, ByteSink const& sink);

}  // namespace layright
