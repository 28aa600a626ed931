// Who goes on sheets now of those that wait; figures worked by hand.
#include "watch/gang_batch.h"

#include <catch2/catch.hpp>

namespace layright {
namespace {

constexpr long long kHour = 3'600'000;

/// 8.5 x 17 in, a quarter inch free all around: 8 x 16.5 in for pieces.
Target film() {
  Target target;
  target.gang.waits = true;
  return target;
}

WaitingPiece piece(double width_in, double height_in, long long since = 0, int count = 1) {
  WaitingPiece p;
  p.boxes = {{width_in * 72, height_in * 72, 1}};
  p.since = since;
  p.count = count;
  return p;
}

std::vector<std::size_t> due(std::vector<WaitingPiece> const& waiting, Target const& target, long long now = 0) {
  return choose_batch(waiting, target, now).due;
}

using Indices = std::vector<std::size_t>;

TEST_CASE("pieces wait until sheets are filled", "[watch][gang]") {
  auto target = film();
  target.gang.fill_pct = 85;
  CHECK(due({}, target).empty());
  CHECK(due({piece(8, 8)}, target).empty());
  CHECK(due({piece(8, 8), piece(8, 8)}, target) == Indices{0, 1});
  // Three of them: the third has no room, and waits on, whichever came first.
  CHECK(due({piece(8, 8), piece(8, 8), piece(8, 8)}, target).size() == 2);
  // One job of two sheets and a little goes only when the last is filled too.
  CHECK(due({piece(8, 8, 0, 5)}, target).empty());
  CHECK(due({piece(8, 8, 0, 5), piece(8, 8)}, target) == Indices{0, 1});
  // 60 % and 60 % fill no sheet, whatever they come to together.
  CHECK(due({piece(8, 10), piece(8, 10)}, target).empty());
  CHECK(due({piece(8, 10), piece(8, 10), piece(8, 6)}, target).size() == 2);
  // A sheet that small pieces cover but for their gaps is filled.
  CHECK(due({piece(1.81, 1.81, 0, 32)}, target) == Indices{0});
}

TEST_CASE("whoever has waited long enough takes along what there is room for", "[watch][gang]") {
  auto target = film();
  target.gang.longest = std::chrono::hours(2);
  std::vector<WaitingPiece> waiting{piece(8, 8, 0), piece(8, 10, kHour), piece(8, 7, kHour)};
  auto const early = choose_batch(waiting, target, kHour);
  CHECK(early.due.size() == 2);  // 8 and 7 of 16.5 in: filled
  waiting[2] = piece(3, 3, kHour);
  auto const none = choose_batch(waiting, target, kHour);
  CHECK(none.due.empty());
  CHECK(none.next_due == 2 * kHour);
  CHECK(due(waiting, target, 2 * kHour) == Indices{0, 2});
  CHECK(due(waiting, target, 3 * kHour) == Indices{0, 1, 2});
  waiting[1].now = true;
  CHECK(due(waiting, target, kHour) == Indices{1, 2});
  target.gang.waits = false;
  CHECK(due(waiting, target, kHour) == Indices{0, 1, 2});
}

TEST_CASE("what is kept of a piece that waits comes back as it was", "[watch][gang]") {
  auto p = piece(3, 4, 17, 5);
  p.said.incoming = "wrong";
  p.said.accept = {"ink.guide"};
  p.now = true;
  auto const back = parse_waiting_piece(gang_text(p));
  REQUIRE(back);
  CHECK((back->boxes.size() == 1 && back->boxes[0].width == p.boxes[0].width && back->boxes[0].page == 1));
  CHECK((back->count == 5 && back->now && back->since == 17 && back->said.incoming == "wrong" && back->said.accept == p.said.accept));
  for (char const* bad : {"", "[]", "{\"boxes\": 1}", "{\"boxes\": [[1, 2]], \"said\": \"{}\"}", "{\"boxes\": []}"})
    CHECK_FALSE(parse_waiting_piece(bad));
}

TEST_CASE("an order that is written is the order that is read", "[watch][gang]") {
  GangOrder order;
  order.order = "team \"17\" \\ back";
  order.target = "film";
  order.white = White{true, 80.0};
  order.choices.gap = Length::inches(0.5);
  order.choices.cuts = Cuts::shape;
  order.choices.labels = false;
  OrderedPiece a;
  a.file = "/a/b c \"d\" \u00e9.pdf";
  a.count = 7;
  a.label = "12";
  a.incoming = Reading::wrong;
  a.accept = {"ink.guide", "ink.cut"};
  a.scale = "80%";
  OrderedPiece b;
  b.file = "/x.pdf";
  b.width = Length::points(216.123456);
  b.turns = PieceTurns::none;
  b.pages = "1-3,7";
  order.pieces = {a, b};
  auto const back = parse_gang_order(gang_order_text(order), "/a/order.toml");
  INFO((back ? "" : back.error().message));
  REQUIRE(back);
  CHECK(back->order == order.order);
  CHECK(back->target == "film");
  REQUIRE(back->white);
  CHECK((back->white->on && back->white->percent == 80.0));
  CHECK((back->choices.gap == order.choices.gap && back->choices.cuts == Cuts::shape && back->choices.labels == false && !back->choices.marks));
  CHECK(back->pieces == order.pieces);
  order.pieces[0].file = "/a/\xff\n.pdf";
  auto const odd = parse_gang_order(gang_order_text(order), "/a/order.toml");
  REQUIRE(odd);
  CHECK(odd->pieces[0].file == "/a/\uFFFD\uFFFD.pdf");
}

}  // namespace
}  // namespace layright
