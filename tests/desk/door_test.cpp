// The customers' door: what a name becomes, who sent what, and that nobody sends without end.
#include "desk/door.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "desk/customer_request.h"
#include "desk/drop.h"
#include "desk/job_steps.h"
#include "support/program.h"

namespace layright {
namespace {

constexpr char const* kDoor = "door.example:80";

WebRequest sends(std::string const& bytes, std::map<std::string, std::string> words = {{"name", "fox.pdf"}, {"who", "Anna"}, {"order", "17"}}) {
  auto const read = [bytes](std::function<bool(std::string_view)> const& take) { return take(bytes); };
  WebRequest request{"POST", "/api/files", std::move(words), {}, read, "192.0.2.1"};
  request.headers = {{"host", kDoor}, {"origin", std::string("http://") + kDoor}, {"content-type", "application/octet-stream"}};
  return request;
}

struct TriedDoor {
  explicit TriedDoor(DoorLimits limits = {}) : door([this] { return drop; }, folder / "notes", limits, [this] { return now; }) {
    std::filesystem::create_directory(drop);
    door.answer_to({kDoor}, false);
  }
  int status(WebRequest const& request) { return door.answer(request).status; }
  std::size_t files() const { return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(drop), {})); }

  test::Folder folder;
  std::filesystem::path drop = folder / "in";
  CustomerDoor::Clock::time_point now{};
  CustomerDoor door;
};

}  // namespace

TEST_CASE("a part of a name leads nowhere and hides nothing", "[desk]") {
  struct Row {
    char const *text, *part;
  };
  for (auto const& [text, part] : std::vector<Row>{{"fox.pdf", "fox.pdf"},
                                                   {"../../etc/passwd", "passwd"},
                                                   {"a\\b\\c.pdf", "c.pdf"},
                                                   {"..", ""},
                                                   {".hidden", "hidden"},
                                                   {"--help", "help"},
                                                   {"a\nb\tc", "a-b-c"},
                                                   {"<b>\"x\"|y?*:", "b--x--y---"},
                                                   {"r\xc3\xa9sum\xc3\xa9. ", "r\xc3\xa9sum\xc3\xa9"},
                                                   {"\xff.pdf", "\xef\xbf\xbd.pdf"},
                                                   {"", ""}}) {
    CAPTURE(text);
    CHECK(name_part(text, 80) == part);
  }
  CHECK(name_part(std::string(100, 'a'), 80).size() == 80);
  CHECK(name_part("ééé", 3) == "é");
}

TEST_CASE("a file goes through the door whole, with a note of who sent it", "[desk]") {
  TriedDoor t;
  CHECK(t.status(sends("bytes")) == 200);
  CHECK(t.status(sends("other")) == 200);
  std::ifstream first(t.drop / "17-Anna-fox.pdf"), second(t.drop / "17-Anna-fox-2.pdf");
  CHECK(std::string(std::istreambuf_iterator<char>(first), {}) == "bytes");
  CHECK(std::string(std::istreambuf_iterator<char>(second), {}) == "other");
  // SHA-256 of "bytes", by sha256sum.
  auto const note = note_of(t.folder / "notes", "17-Anna-fox.pdf", "277089d91c0bdf4f2e6862ba7e4a07605119431f5d13f726dd352b06f1b206a9");
  REQUIRE(note);
  CHECK(note->who == "Anna");
  CHECK(note->order == "17");
  CHECK(note->bytes == 5);
  CHECK_FALSE(note_of(t.folder / "notes", "17-Anna-fox-2.pdf", note->digest));
  CHECK_FALSE(note_of(t.folder / "none", "17-Anna-fox.pdf", note->digest));
  for (auto const& words : std::vector<std::map<std::string, std::string>>{
           {{"name", "a.pdf"}, {"who", ""}, {"order", "1"}}, {{"name", "a.pdf"}, {"who", "A"}}, {{"name", ".."}, {"who", "A"}, {"order", "1"}}})
    CHECK(t.status(sends("x", words)) == 422);
  CHECK(t.status(sends("")) == 422);
  auto broken = sends("x");
  broken.body = [](std::function<bool(std::string_view)> const& take) { return take("half") && false; };
  CHECK(t.status(broken) == 422);
  CHECK(t.files() == 2);
}

TEST_CASE("the door has limits by file, by address and by day", "[desk]") {
  DoorLimits limits;
  limits.file_bytes = 10;
  limits.day_bytes = 25;
  limits.files_an_hour = 4;
  TriedDoor t(limits);
  CHECK(t.status(sends("12345678901")) == 422);
  CHECK(t.status(sends("1234567890")) == 200);
  CHECK(t.status(sends("1234567890")) == 200);
  CHECK(t.status(sends("1234567890")) == 429);  // the day has had 10 of the refused one, and 20
  t.now += std::chrono::hours(24);
  for (int i = 0; i < 4; ++i) CHECK(t.status(sends("1")) == 200);
  CHECK(t.status(sends("1")) == 429);
  auto other = sends("1");
  other.from = "192.0.2.2";
  CHECK(t.status(other) == 200);
  t.now += std::chrono::hours(1);
  CHECK(t.status(sends("1")) == 200);
}

TEST_CASE("one address leaves the door to others", "[desk]") {
  DoorLimits limits;
  limits.day_bytes_of_address = 15;
  limits.at_once_of_address = 2;
  limits.at_once = 3;
  TriedDoor t(limits);
  CHECK(t.status(sends("1234567890")) == 200);
  CHECK(t.status(sends("1234567890")) == 200);
  CHECK(t.status(sends("1")) == 429);
  auto const from = [](std::string const& address) {
    auto request = sends("1");
    request.from = address;
    return request;
  };
  CHECK(t.status(from("192.0.2.2")) == 200);
  // While two of its files come in, a third one is told to wait, and another address is not; of all together there are three.
  std::vector<int> told;
  auto first = from("192.0.2.3"), second = from("192.0.2.3");
  second.body = [&](std::function<bool(std::string_view)> const& take) {
    told = {t.status(from("192.0.2.3")), t.status(from("192.0.2.4"))};
    auto third = from("192.0.2.4");
    third.body = [&](std::function<bool(std::string_view)> const& take_third) {
      told.push_back(t.status(from("192.0.2.5")));
      return take_third("3");
    };
    told.push_back(t.status(third));
    return take("2");
  };
  first.body = [&](std::function<bool(std::string_view)> const& take) {
    told.push_back(t.status(second));
    return take("1");
  };
  CHECK(t.status(first) == 200);
  CHECK(told == std::vector<int>{503, 200, 503, 200, 200});
  CHECK(t.status(from("192.0.2.3")) == 200);
}

TEST_CASE("a customer is asked for what only the customer can mend", "[desk]") {
  LedgerEntry e;
  e.state = LedgerState::held;
  e.name = "fox/<b>art.pdf";
  e.findings = R"([{"check":"ink.cut","level":"hold","message":"m","page":1},{"check":"reading.unknown","level":"hold","message":"m","page":1}])";
  auto const asked = customer_request_json(e);
  CHECK(asked["what"] == "a larger page");
  auto const text = asked["text"].get<std::string>();
  CHECK(text.find("file <b>art.pdf") != std::string::npos);
  CHECK(text.find("which way it must read") != std::string::npos);
  e.findings = "[]";  // the same bytes again: the shop's own question
  CHECK(customer_request_json(e).is_null());
  e.state = LedgerState::ready;
  CHECK(customer_request_json(e).is_null());
}

TEST_CASE("what an address says of a decision becomes words of ours alone", "[desk]") {
  LedgerEntry e;
  e.state = LedgerState::held;
  e.findings = R"([{"check":"ink.guide","level":"hold","message":"m","page":1}])";
  Story story;
  auto const words = [&](std::map<std::string, std::string> query) {
    WebRequest request;
    request.query = std::move(query);
    return decided_words(request, e, story);
  };
  CHECK(*words({{"incoming", "wrong"}, {"width", "4in"}, {"accept", "ink.guide"}}) ==
        std::vector<std::string>{"--incoming", "wrong", "--width", "4in", "--accept", "ink.guide"});
  CHECK(words({})->empty());
  for (auto const& [name, value] : std::vector<std::pair<std::string, std::string>>{{"incoming", "up"},
                                                                                    {"width", "-4in"},
                                                                                    {"width", "--help"},
                                                                                    {"width", "4in;x"},
                                                                                    {"scale", "/etc/passwd"},
                                                                                    {"accept", "ink.cut"},
                                                                                    {"accept", "ink.guide,--help"}})
    CHECK_FALSE(words({{name, value}}));
  CHECK_FALSE(words({{"scale", "shrink"}, {"width", "4in"}}));
  // What was said before is seen too, also of holds that it no longer has.
  story.push_back({1, 0, "anna", "released", R"({"do":"release","incoming":"right","width":"4in","accept":["ink.cut"]})"});
  CHECK(*words({{"width", "5in"}}) == std::vector<std::string>{"--incoming", "right", "--width", "5in", "--accept", "ink.cut"});
}

TEST_CASE("of several watched folders the shop says which one customers' files come into", "[desk]") {
  Intake a, b;
  a.name = "counter";
  a.in = "/shop/counter";
  b.name = "web";
  b.in = "/shop/web";
  CHECK(*door_folder({a}) == "/shop/counter");
  auto const none = door_folder({a, b});
  REQUIRE_FALSE(none);
  CHECK(none.error().kind == ErrorKind::usage);
  CHECK(none.error().message.find("(counter, web): write customers-door = true") != std::string::npos);
  b.settings["customers-door"] = "true";
  CHECK(*door_folder({a, b}) == "/shop/web");
  a.settings["customers-door"] = "false";
  CHECK(*door_folder({a, b}) == "/shop/web");
  a.settings["customers-door"] = "true";
  REQUIRE_FALSE(door_folder({a, b}));
  CHECK(door_folder({a, b}).error().message.find("counter, web") != std::string::npos);
}

}  // namespace layright
