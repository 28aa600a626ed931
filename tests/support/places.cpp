#include "support/places.h"

namespace layright::test {

char const* const kSource = LAYRIGHT_SOURCE;
char const* const kTestfiles = LAYRIGHT_SOURCE "/testfiles";
char const* const kProgram = LAYRIGHT_PROGRAM;

}  // namespace layright::test
