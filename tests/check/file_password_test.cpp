// file.password: ISO 32000-1, 7.6.3 and 7.6.4.
#include "check/trouble.h"
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("file.password says what to do about a password and about a certificate") {
  auto const password = password_finding({OpenError::Kind::password, "it needs a password"});
  CHECK(password.check == "file.password");
  CHECK(password.level == Level::hold);
  CHECK_THAT(password.message, Contains("it needs a password") && Contains("--password-file"));
  auto const certificate = password_finding({OpenError::Kind::certificate, "it is for certain people only"});
  CHECK(certificate.level == Level::hold);
  CHECK_THAT(certificate.message, Contains("certain people") && !Contains("--password-file"));
}

TEST_CASE("file.password arises while the file is opened: no check runs for it later") {
  auto const* info = find_check("file.password");
  REQUIRE(info);
  CHECK(info->page == nullptr);
  CHECK(info->file == nullptr);
}
