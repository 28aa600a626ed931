#include "sheet/gang_order.h"

#include <catch2/catch.hpp>

namespace layright {
namespace {

Result<GangOrder> parsed(std::string const& text) { return parse_gang_order(text, "/shop/orders/team.toml"); }

TEST_CASE("an order says files, counts, sizes and how they share a sheet") {
  auto const order = parsed(
      "order = \"1042\"\ntarget = \"film\"\ncuts = \"free\"\nturns = \"none\"\ngap = \"3mm\"\nmarks = \"off\"\nlabels = false\nmanifest = "
      "\"m.json\"\n"
      "[[piece]]\nfile = \"crest.pdf\"\ncount = 6\nwidth = \"3.5in\"\nlabel = \"HOME\"\nturns = \"any\"\n"
      "[[piece]]\nfile = \"../fox.pdf\"\npages = \"1-2\"\n[[piece]]\nfile = \"/art/owl.pdf\"\npages = 3\n");
  REQUIRE(order);
  CHECK(order->order == "1042");
  CHECK(order->target == "film");
  CHECK(order->manifest == "/shop/orders/m.json");
  auto const options = with_choices({}, order->choices);
  CHECK(options.cuts == Cuts::free);
  CHECK(options.turns == PieceTurns::none);
  CHECK(options.gap == Length::millimetres(3));
  CHECK_FALSE(options.marks);
  CHECK_FALSE(options.labels);
  REQUIRE(order->pieces.size() == 3);
  CHECK(order->pieces[0].file == "/shop/orders/crest.pdf");
  CHECK(order->pieces[0].count == 6);
  CHECK(order->pieces[0].width == Length::inches(3.5));
  CHECK(order->pieces[0].label == "HOME");
  CHECK(order->pieces[0].turns == PieceTurns::any);
  CHECK(order->pieces[1].file == "/shop/fox.pdf");
  CHECK(order->pieces[1].pages == "1-2");
  CHECK(order->pieces[1].count == 1);
  CHECK(order->pieces[2].pages == "3");
}

TEST_CASE("a mistake in an order is reported with its place and the nearest key") {
  struct Mistake {
    std::string text, told;
  };
  auto const mistake = GENERATE(values<Mistake>({{"cust = \"free\"\n[[piece]]\nfile = \"a.pdf\"\n", "did you mean"},
                                                 {"[[piece]]\nfile = \"a.pdf\"\nwidht = \"3in\"\n", "width"},
                                                 {"[[piece]]\ncount = 3\n", "file"},
                                                 {"cuts = \"free\"\n", "piece"},
                                                 {"piece = 3\n", "[[piece]]"},
                                                 {"[[piece]]\nfile = \"a.pdf\"\ncount = 0\n", "1 to 9999"},
                                                 {"[[piece]]\nfile = \"a.pdf\"\nwidth = \"0in\"\n", "above zero"},
                                                 {"gap = \"-1in\"\n[[piece]]\nfile = \"a.pdf\"\n", "over each other"},
                                                 {"gap = \"5in\"\n[[piece]]\nfile = \"a.pdf\"\n", "usual"},
                                                 {"cuts = \"laser\"\n[[piece]]\nfile = \"a.pdf\"\n", "straight, free or shape"},
                                                 {"[[piece]\nfile = \"a.pdf\"\n", ":1:"}}));
  auto const order = parsed(mistake.text);
  REQUIRE_FALSE(order);
  CHECK(order.error().kind == ErrorKind::usage);
  CHECK_THAT(order.error().message, Catch::Contains(mistake.told) && Catch::StartsWith("/shop/orders/team.toml:"));
}

TEST_CASE("an order that is not there, or is a folder") {
  CHECK(load_gang_order("/nowhere/at/all.toml").error().kind == ErrorKind::no_input);
  CHECK(load_gang_order("/").error().kind == ErrorKind::no_input);
}

TEST_CASE("a piece is a file, its count and its width on the goods") {
  struct Piece {
    std::string word, file;
    int count;
    std::optional<Length> width;
  };
  auto const piece = GENERATE(values<Piece>({{"crest.pdf", "crest.pdf", 1, {}},
                                             {"crest.pdf:6", "crest.pdf", 6, {}},
                                             {"fox.pdf:2@4in", "fox.pdf", 2, Length::inches(4)},
                                             {"fox.pdf@40mm", "fox.pdf", 1, Length::millimetres(40)},
                                             {"a@b.pdf:3", "a@b.pdf", 3, {}},
                                             {"odd:name.pdf", "odd:name.pdf", 1, {}}}));
  auto const found = parse_ordered_piece(piece.word);
  REQUIRE(found);
  CHECK(found->file == piece.file);
  CHECK(found->count == piece.count);
  CHECK(found->width == piece.width);
}

TEST_CASE("counts and widths that cannot be meant are refused") {
  auto const word = GENERATE("crest.pdf:0", "crest.pdf:-1", "crest.pdf:10000", "crest.pdf:99999999999", "crest.pdf@4", "crest.pdf@0in", ":3");
  CAPTURE(word);
  auto const found = parse_ordered_piece(word);
  REQUIRE_FALSE(found);
  CHECK(found.error().kind == ErrorKind::usage);
}

}  // namespace
}  // namespace layright
