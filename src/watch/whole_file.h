// Signs that a file has come to its end.
#pragma once
#include <sys/types.h>

namespace layright {

/// Whether somebody has a file open for writing.
enum class Writers {
  none,
  some,
  unknown,  // the system does not say: network file systems; files of other owners, for whom it takes CAP_LEASE
};
Writers writers_of(int descriptor);

/// Whether this process may ask that of files of other owners.
bool may_ask_for_writers();

/// A PDF whose last bytes are a trailer (ISO 32000-1, 7.5.5: startxref and %%EOF), and which is as long as it says where it says so
/// (linearised files, F.3.3: the first such trailer comes near the beginning).
bool has_pdf_trailer(int descriptor, off_t size);

}  // namespace layright
