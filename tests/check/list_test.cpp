// The list of checks as a whole: what holds for every row, and how checks are chosen and accepted.
#include <filesystem>
#include <regex>

#include "check/reading_test.h"
#include "support/places.h"

using namespace layright;
using namespace layright::test;

namespace {

// DESIGN section 6, in its order.
std::vector<std::string> const kIds{"page.size",    "page.feed",       "page.rotate",       "page.unit",      "page.boxes",     "page.crop",
                                    "page.mixed",   "page.correction", "ink.margin",        "ink.edge",       "ink.size",       "ink.blank",
                                    "ink.cut",      "ink.guide",       "image.orientation", "file.damaged",   "file.password",  "file.permission",
                                    "file.limit",   "view.scale",      "annot.print",       "layer.hidden",   "active.content", "reading.unknown",
                                    "reading.none", "reading.mixed",   "reading.conflict",  "reading.reverse"};

std::vector<std::string> ids_of(std::vector<Finding> const& findings) {
  std::vector<std::string> ids;
  for (auto const& f : findings) ids.push_back(f.check);
  return ids;
}

}  // namespace

TEST_CASE("the list has every check of the contract once") {
  std::vector<std::string> ids;
  for (auto const& info : all_checks()) ids.emplace_back(info.id);
  std::set<std::string> const unique(ids.begin(), ids.end());
  CHECK(unique.size() == ids.size());
  for (auto const& id : kIds) CHECK(unique.contains(id));
}

TEST_CASE("every row is whole") {
  for (auto const& info : all_checks()) {
    CAPTURE(info.id);
    std::string const id(info.id);
    CHECK(std::regex_match(id, std::regex("[a-z]+\\.[a-z]+")));
    CHECK_FALSE(info.title.empty());
    CHECK_FALSE(info.measures.empty());
    CHECK_FALSE(info.limit.empty());
    std::string const source(info.source);
    CHECK((source.find("ISO") != std::string::npos || source.find("PWG") != std::string::npos ||
           source.find("common practice, no published source") != std::string::npos || source.find("our own") != std::string::npos));
    CHECK(info.explain.size() > 150);
    CHECK(std::regex_search(std::string(info.levels), std::regex("^(note|fix|hold)")));
    CHECK(find_check(id) == &info);
    // Each is a file of its own, with a test of its own.
    std::string name = id;
    name[name.find('.')] = '_';
    std::filesystem::path const house = layright::test::kSource;
    CHECK(std::filesystem::exists(house / "tests/check" / (name + "_test.cpp")));
    CHECK(std::filesystem::exists(house / "src/check" / (name + ".cpp")));
  }
  CHECK(find_check("page.colour") == nullptr);
}

TEST_CASE("a selection: only, skip, and what they cost") {
  Selection s;
  CHECK(s.wants("page.size"));
  CHECK(s.wants_marks());
  CHECK(s.wants_reading());
  s.only = {"page.size", "page.feed"};
  CHECK(s.wants("page.size"));
  CHECK_FALSE(s.wants("ink.margin"));
  CHECK_FALSE(s.wants_marks());
  CHECK_FALSE(s.wants_reading());
  s.skip = {"page.size"};
  CHECK_FALSE(s.wants("page.size"));
  s = {};
  s.only = {"reading.reverse"};
  CHECK(s.wants_reading());
  CHECK(s.wants_marks());
  CHECK_FALSE(s.wants_marks(true));
  s.only = {"ink.margin"};
  CHECK(s.wants_marks(true));
}

TEST_CASE("check_page runs the wanted checks in the order of the list") {
  View v;
  v.sized(612, 792).ink(0, 0, 612, 792).placed();
  v.page.user_unit = 2;
  v.page.printing_annotations = 1;
  auto const all = check_page(v.view(), {});
  CHECK(ids_of(all) == std::vector<std::string>{"page.size", "page.unit", "ink.size", "annot.print"});
  CHECK(verdict_of(all) == Verdict::hold);
  Selection s;
  s.only = {"page.unit"};
  CHECK(ids_of(check_page(v.view(), s)) == std::vector<std::string>{"page.unit"});
  s = {};
  s.skip = {"ink.size"};
  CHECK(verdict_of(check_page(v.view(), s)) == Verdict::fix);
  s = {};
  s.accept = {"ink.size", "page.unit"};
  auto const accepted = check_page(v.view(), s);
  CHECK(verdict_of(accepted) == Verdict::fix);
  for (auto const& f : accepted) CHECK(f.accepted == (f.check == "ink.size"));  // a fix is not a person's to decide
}

TEST_CASE("a page that lies right has no finding") {
  View v;
  CHECK(check_page(v.ink(18, 18, 594, 1206).placed().view(), {}).empty());
  CHECK(verdict_of({}) == Verdict::ready);
  CHECK(verdict_of({Finding{.check = "x.y", .level = Level::note}}) == Verdict::ready);
}

TEST_CASE("what cannot be looked at is told whatever was asked for") {
  Selection only_blank;
  only_blank.only = {"ink.blank"};
  only_blank.skip = {"page.boxes"};
  View v;
  v.with_marks = false;
  v.page.usable = false;
  v.page.box_faults = {{"MediaBox", "has no area", false}, {"TrimBox", "has no area; the crop box is taken", true}};
  auto const boxes = check_page(v.view(), only_blank);
  CHECK(ids_of(boxes) == std::vector<std::string>{"page.boxes"});  // the hold, without the note that nobody asked for
  CHECK(verdict_of(boxes) == Verdict::hold);
  View turned;
  turned.with_marks = false;
  turned.page.clockwise.reset();
  turned.page.rotate_as_written = "45";
  CHECK(ids_of(check_page(turned.view(), only_blank)) == std::vector<std::string>{"page.rotate"});
  View broken;
  broken.page.usable = false;
  broken.page.trouble = "its description is damaged";
  CHECK(ids_of(check_page(broken.view(), only_blank)) == std::vector<std::string>{"file.damaged"});
  View late;
  late.ink(100, 100, 200, 200).marks.whole = false;
  late.marks.out_of_time = true;
  CHECK(ids_of(check_page(late.view(), only_blank)) == std::vector<std::string>{"file.limit"});
  late.marks.out_of_time = false;
  CHECK(ids_of(check_page(late.view(), only_blank)) == std::vector<std::string>{"file.damaged"});
  only_blank.skip = {"file.damaged"};
  CHECK(check_page(late.view(), only_blank).empty());
}

TEST_CASE("check_file runs file checks and marks the accepted holds") {
  OpenFile file(one_page_pdf("[0 0 612 792]", ""));
  file.losses = {"page 2 is gone"};
  file.sizes = {{612, 792}, {100, 100}};
  CHECK(ids_of(check_file(file.view(), {})) == std::vector<std::string>{"page.mixed", "file.damaged", "view.scale"});
  Selection s;
  s.only = {"file.damaged"};
  s.accept = {"file.damaged"};
  auto const found = check_file(file.view(), s);
  REQUIRE(found.size() == 1);
  CHECK(found[0].accepted);
  CHECK(verdict_of(found) == Verdict::ready);
}

TEST_CASE("the words of levels and verdicts") {
  CHECK(word(Level::note) == "note");
  CHECK(word(Level::fix) == "fix");
  CHECK(word(Level::hold) == "hold");
  CHECK(word(Verdict::ready) == "ready");
  CHECK(word(Verdict::fix) == "fix");
  CHECK(word(Verdict::hold) == "hold");
  CHECK(worse(Verdict::fix, Verdict::ready) == Verdict::fix);
  CHECK(worse(Verdict::fix, Verdict::hold) == Verdict::hold);
}

TEST_CASE("a profile sets levels: a check that is off is counted and not reported") {
  View v;
  v.sized(612, 792).ink(0, 0, 612, 792).placed();
  v.page.user_unit = 2;
  v.page.printing_annotations = 1;
  v.target.levels = {{"ink.size", CheckLevel::off}, {"annot.print", CheckLevel::hold}, {"page.unit", CheckLevel::note}};
  auto const all = check_page(v.view(), {});
  REQUIRE(ids_of(all) == std::vector<std::string>{"page.size", "page.unit", "ink.size", "annot.print"});
  CHECK(all[1].level == Level::note);
  CHECK(all[2].suppressed);
  CHECK(all[3].level == Level::hold);
  CHECK(verdict_of(all) == Verdict::hold);
  Selection s;
  s.accept = {"annot.print"};
  auto const accepted = check_page(v.view(), s);
  CHECK(accepted[3].accepted);
  CHECK(verdict_of(accepted) == Verdict::fix);  // the suppressed hold does not count
}

TEST_CASE("a profile leaves the levels of what could not be looked at alone") {
  for (auto const* id : {"file.damaged", "file.password", "file.permission", "file.limit", "file.missing", "page.missing"})
    CHECK_FALSE(level_is_free(id));
  for (auto const* id : {"picture.ppi", "file.claim", "page.boxes", "font.embedded"}) CHECK(level_is_free(id));
}

TEST_CASE("the art is looked at only where a check of it is asked for") {
  Selection s;
  CHECK(s.wants_art());
  s.only = {"ink.margin", "page.size"};
  CHECK_FALSE(s.wants_art());
  s.only.insert("text.small");
  CHECK(s.wants_art());
  CHECK(s.wants_marks(true));
}
