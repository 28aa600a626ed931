// Who has logged in: a clock of the test's own, and hashes that take no time.
#include "desk/sessions.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <memory>

#include "support/pdf_maker.h"
#include "support/program.h"

namespace layright {
namespace {

/// The password is its own hash.
PasswordHands plain_hands() {
  return {[](std::string const& password) -> Result<std::string> { return password; },
          [](std::string const& password, std::string const& hash) { return password == hash; }};
}

struct TriedSessions {
  test::Folder folder;
  std::filesystem::path file = folder / "l.db.users";
  Sessions::Clock::time_point now{};
  Sessions sessions{file, plain_hands(), {}, [this] { return now; }};

  void have(std::vector<DeskUser> const& users) { REQUIRE(write_users(file, users)); }
};

}  // namespace

TEST_CASE("a session ends when it is idle, when it is old, and with its user", "[desk]") {
  TriedSessions t;
  CHECK_FALSE(t.sessions.has_users());
  t.have({{"anna", "one"}, {"ben", "two"}});
  CHECK(t.sessions.has_users());
  CHECK_FALSE(t.sessions.login("anna", "two", ""));
  CHECK_FALSE(t.sessions.login("", "", ""));
  auto const key = t.sessions.login("anna", "one", "");
  REQUIRE(key);
  CHECK(t.sessions.find(*key)->name == "anna");
  CHECK(t.sessions.find(*key)->token.size() == 64);
  CHECK(t.sessions.find(*key)->token != *key);
  CHECK_FALSE(t.sessions.find(key->substr(1)));
  CHECK_FALSE(t.sessions.find(""));

  t.now += std::chrono::hours(7);
  CHECK(t.sessions.find(*key, false));  // a page that asks by itself
  t.now += std::chrono::minutes(61);
  CHECK_FALSE(t.sessions.find(*key));

  auto const worked = t.sessions.login("anna", "one", "");
  for (int hours = 0; hours < 23; ++hours) {
    t.now += std::chrono::hours(1);
    CHECK(t.sessions.find(*worked));
  }
  t.now += std::chrono::hours(1);
  CHECK_FALSE(t.sessions.find(*worked));

  auto const last = t.sessions.login("ben", "two", "");
  REQUIRE(last);
  t.have({{"anna", "one"}, {"ben", "another"}});
  CHECK_FALSE(t.sessions.find(*last));
  CHECK(t.sessions.count() == 0);
}

TEST_CASE("a session goes on after a restart, and nobody gets in by the file that keeps it", "[desk]") {
  TriedSessions t;
  t.have({{"anna b", "one"}, {"ben", "two"}});
  auto const file = sessions_beside(t.folder / "l.db", "http://127.0.0.1:8642/");
  CHECK(file != sessions_beside(t.folder / "l.db", "http://127.0.0.1:8643/"));
  t.now += std::chrono::hours(1'000'000);
  t.sessions.keep_in(file);
  auto const anna = t.sessions.login("anna b", "one", ""), ben = t.sessions.login("ben", "two", ""), gone = t.sessions.login("ben", "two", "");
  REQUIRE((anna && ben && gone));
  auto const token = t.sessions.find(*anna)->token;
  t.sessions.end(*gone);
  CHECK(std::filesystem::status(file).permissions() == (std::filesystem::perms::owner_read | std::filesystem::perms::owner_write));
  auto const kept = test::read_file(file);
  for (auto const& secret : {*anna, *ben, *gone, token, std::string("one"), std::string("two")}) CHECK(kept.find(secret) == std::string::npos);

  auto const again = [&] {
    auto sessions = std::make_unique<Sessions>(t.file, plain_hands(), LoginLimits(), [&t] { return t.now; });
    sessions->keep_in(file);
    return sessions;
  };
  auto second = again();
  CHECK(second->count() == 2);
  REQUIRE(second->find(*anna));
  CHECK(second->find(*anna)->name == "anna b");
  CHECK(second->find(*anna)->token == token);  // pages that are open may go on
  CHECK_FALSE(second->find(*gone));
  for (auto const& line : {kept.substr(kept.find('\n') + 1, 64), token}) CHECK_FALSE(second->find(line));

  t.have({{"anna b", "one"}, {"ben", "another"}});
  CHECK_FALSE(again()->find(*ben));
  t.now += std::chrono::hours(7);
  CHECK(again()->find(*anna));  // it is written down that she works
  t.now += std::chrono::hours(7);
  CHECK(again()->find(*anna));
  t.now += std::chrono::hours(9);
  CHECK_FALSE(again()->find(*anna));
  CHECK(again()->count() == 0);
  for (char const* text : {"", "x", "layright desk sessions 1\n", "layright desk sessions 1\na b c d e\n", "layright desk sessions 1\na b 1 2\n"}) {
    std::ofstream(file) << text;
    CHECK(again()->count() == 0);
  }
}

TEST_CASE("whoever guesses passwords waits, and nobody else does", "[desk]") {
  TriedSessions t;
  t.have({{"anna", "one"}, {"ben", "two"}});
  for (int i = 0; i < 5; ++i) CHECK(t.sessions.login("anna", "x", "192.0.2.1").error().kind == ErrorKind::usage);
  CHECK(t.sessions.login("anna", "one", "192.0.2.1").error().kind == ErrorKind::try_again);
  CHECK(t.sessions.login("anna", "one", "192.0.2.2"));
  CHECK(t.sessions.login("ben", "two", "192.0.2.1"));
  t.now += std::chrono::minutes(15);
  CHECK(t.sessions.login("anna", "one", "192.0.2.1"));
  for (int i = 0; i < 19; ++i) CHECK_FALSE(t.sessions.login("name " + std::to_string(i), "x", "192.0.2.3"));
  CHECK(t.sessions.login("ben", "two", "192.0.2.3"));  // who is right is not counted
  CHECK_FALSE(t.sessions.login("nobody", "x", "192.0.2.3"));
  CHECK(t.sessions.login("ben", "two", "192.0.2.3").error().kind == ErrorKind::try_again);
}

TEST_CASE("users are kept for their owner alone, and a damaged list lets nobody in", "[desk]") {
  TriedSessions t;
  t.have({{"anna", "$y$x"}});
  CHECK(std::filesystem::status(t.file).permissions() == (std::filesystem::perms::owner_read | std::filesystem::perms::owner_write));
  REQUIRE(read_users(t.file));
  CHECK(read_users(t.file)->at(0).hash == "$y$x");
  for (char const* good : {"anna", "Anna B.", "José", "x"}) CHECK(check_user_name(good));
  for (char const* bad : {"", " a", "a ", "a:b", "a\nb", "-a", "\xff"}) CHECK_FALSE(check_user_name(bad));
  CHECK_FALSE(check_user_name(std::string(65, 'a')));
  CHECK(check_password("12345678"));
  CHECK_FALSE(check_password("1234567"));
  CHECK_FALSE(check_password("ééééééé"));  // seven characters, fourteen bytes
  CHECK_FALSE(check_password(std::string(501, 'a')));
  for (char const* text : {"", "x\n", "layright desk users 1\nanna\n", "layright desk users 1\n:x\n"}) {
    std::ofstream(t.file) << text;
    CHECK_FALSE(read_users(t.file));
  }
  CHECK(t.sessions.has_users());
  CHECK_FALSE(t.sessions.login("anna", "$y$x", ""));
}

}  // namespace layright
