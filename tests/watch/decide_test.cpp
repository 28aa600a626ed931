// What persons have said of the same bytes counts on, until somebody says otherwise.
#include "watch/decide.h"

#include <catch2/catch.hpp>

namespace layright {
namespace {

using Words = std::vector<std::string>;

LedgerEntry held_for(std::string const& findings) {
  LedgerEntry e;
  e.id = 1;
  e.name = "fox.pdf";
  e.target = "film";
  e.place = "/shop/held/fox.pdf";
  e.state = LedgerState::held;
  e.findings = findings;
  return e;
}

constexpr char const* kGuideFound = R"([{"check":"ink.guide","level":"hold","message":"m","page":1}])";
constexpr char const* kCutFound =
    R"([{"check":"ink.guide","level":"hold","accepted":true,"page":1},{"check":"ink.cut","level":"hold","message":"m","page":1}])";

/// A shop in which one job is decided on.
struct Decided {
  LedgerEntry entry = held_for(kGuideFound);
  Story story;
  Configuration configuration;
  Decided() {
    for (char const* name : {"film", "shirt"}) configuration.targets[name] = {};
  }
  void add(Result<LedgerEvent> const& event, std::string const& who) {
    INFO((event ? "" : event.error().message));
    REQUIRE(event);
    story.push_back({1, 1'764'000'000'000, who, event->what, event->why});
  }
  /// As a person says it, and as it is done.
  Decision release(Decision said, std::string const& who = "anna") {
    add(layright::release(entry, story, std::move(said), configuration), who);
    return done();
  }
  Decision again(AgainPart part = {}) {
    add(lay_again(entry, story, part), "bo");
    return done();
  }
  Decision done() {
    auto const decision = parse_decision(entry.decision);
    REQUIRE(decision);
    if (!decision->target.empty()) entry.target = decision->target;
    entry.decision.clear();
    entry.state = LedgerState::ready;
    return *decision;
  }
};

Decision said(Words accept, std::string const& width = {}, std::string const& target = {}) {
  Decision d;
  d.accept = std::move(accept);
  d.width = width;
  d.target = target;
  return d;
}

}  // namespace

TEST_CASE("laid again it is laid as it was released, and the story tells by whom", "[watch]") {
  Decided job;
  auto first = said({"ink.guide"}, "4in");
  first.incoming = "right";
  job.release(first);
  auto const again = job.again();
  CHECK(again.kind == Decision::Kind::again);
  CHECK(again.incoming == "right");
  CHECK(again.width == "4in");
  CHECK(again.accept == Words{"ink.guide"});
  CHECK(job.story.back().what == "again");
  CHECK(job.story.back().why.find("as released by anna 2025-11-2") == 0);
  CHECK(job.story.back().why.find("ink.guide, reads right, width 4in") != std::string::npos);
  // One sheet, or some copies, of it likewise.
  auto const part = job.again({2, 3, false});
  CHECK(part.sheet == 2);
  CHECK(part.copies == 3);
  CHECK(part.width == "4in");
}

TEST_CASE("what nobody released is laid again with nothing said", "[watch]") {
  Decided job;
  job.entry.state = LedgerState::ready;
  auto const again = job.again();
  CHECK(again.accept.empty());
  CHECK((again.incoming + again.scale + again.width).empty());
  CHECK(job.story.back().why.empty());
}

TEST_CASE("decided anew, nothing that was said before counts, then or later", "[watch]") {
  Decided job;
  job.release(said({"ink.guide"}, "4in"));
  auto const anew = job.again({0, 0, true});
  CHECK(anew.accept.empty());
  CHECK(anew.width.empty());
  CHECK(job.story.back().what == kDecideAnew);
  CHECK(release_words_of(job.story).empty());
  CHECK(job.again().width.empty());
  job.entry = held_for(kGuideFound);
  job.release(said({"ink.guide"}));
  auto const again = job.again();
  CHECK(again.accept == Words{"ink.guide"});
  CHECK(again.width.empty());
}

TEST_CASE("a second release goes on from the first, and the story tells who said which", "[watch]") {
  Decided job;
  job.release(said({"ink.guide"}, "4in"));
  job.entry = held_for(kCutFound);
  auto const both = job.release(said({"ink.cut"}), "bo");
  CHECK(both.accept == Words{"ink.cut", "ink.guide"});
  CHECK(both.width == "4in");
  auto const told = parse_decision(job.story.back().why);
  REQUIRE(told);
  CHECK(told->accept == Words{"ink.cut"});
  CHECK(told->width.empty());
  // The later size counts, a width and a scale being one word.
  job.entry = held_for(kGuideFound);
  auto smaller = said({"ink.guide"});
  smaller.scale = "80%";
  auto const third = job.release(smaller);
  CHECK(third.scale == "80%");
  CHECK(third.width.empty());
}

TEST_CASE("for another target only how the art reads is carried on", "[watch]") {
  Decided job;
  auto first = said({"ink.guide"}, "4in");
  first.incoming = "wrong";
  job.release(first);
  job.entry = held_for(kCutFound);
  auto const other = job.release(said({"ink.cut"}, {}, "shirt"));
  CHECK(other.incoming == "wrong");
  CHECK(other.width.empty());
  CHECK(other.accept == Words{"ink.cut"});
  auto const again = job.again();
  CHECK(again.target.empty());
  CHECK(job.entry.target == "shirt");
  CHECK(again.accept == Words{"ink.cut"});
  CHECK(again.incoming == "wrong");
}

}  // namespace layright
