// Where the tests' things lie: the project's folder, its small inputs, the program that was built.
#pragma once

namespace layright::test {

extern char const* const kSource;     // the project's folder
extern char const* const kTestfiles;  // its testfiles/
extern char const* const kProgram;    // layright as built

}  // namespace layright::test
