#include "base/version.h"

namespace layright {

char const* program_version() { return LAYRIGHT_VERSION; }

}  // namespace layright
