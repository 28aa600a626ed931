// file.missing: every file that was named has its entry, whatever becomes of it (DESIGN section 5).
#include "check/trouble.h"
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("file.missing holds and says why") {
  auto const f = missing_file_finding("art.pdf: there is no such file");
  CHECK(f.check == "file.missing");
  CHECK(f.level == Level::hold);
  CHECK(f.message == "art.pdf: there is no such file");
  CHECK(find_check("file.missing") != nullptr);
}
