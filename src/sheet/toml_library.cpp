#define TOML_IMPLEMENTATION
#include "sheet/toml_library.h"
