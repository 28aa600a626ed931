// Signs that a file has come to its end.
#pragma once
#include <sys/types.h>

namespace layright {

/// Somebody has it open for writing. False as well where the system cannot tell (network file systems, files of other owners).
bool has_writer(int descriptor);

/// A PDF whose last bytes are a trailer (ISO 32000-1, 7.5.5: startxref and %%EOF), and which is as long as it says where it says so
/// (linearised files, F.3.3: the first such trailer comes near the beginning).
bool has_pdf_trailer(int descriptor, off_t size);

}  // namespace layright
