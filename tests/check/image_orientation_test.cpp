// image.orientation: which tags mirror is the table of CIPA DC-008-2019, 4.6.5, tag 274 (0th row and 0th column by orientation).
#include "check/view.h"

using namespace layright;
using namespace layright::test;

namespace {

View with_pictures(std::vector<int> const& orientations) {
  View v;
  v.ink(100, 100, 500, 900);
  for (std::size_t i = 0; i < orientations.size(); ++i) {
    ImageUse image;
    double const y = 100 + 200 * static_cast<double>(i);
    image.where = {100, y, 300, y + 150};
    image.orientation = orientations[i];
    v.marks.images.push_back(image);
  }
  return v;
}

}  // namespace

TEST_CASE("image.orientation tells tags that mirror, and no others") {
  for (int tag : {1, 3, 6, 8}) CHECK(with_pictures({tag}).silent("image.orientation"));
  for (int tag : {2, 4, 5, 7}) {
    auto const f = with_pictures({tag}).finding("image.orientation");
    CHECK(f.level == Level::note);
    CHECK(number(f.measured, "orientation") == tag);
    CHECK_THAT(f.message, Contains("Exif orientation " + std::to_string(tag)));
  }
  CHECK(with_pictures({}).silent("image.orientation"));
}

TEST_CASE("image.orientation counts photographs and says where they lie") {
  auto const f = with_pictures({1, 2, 6, 5}).finding("image.orientation");
  CHECK(number(f.measured, "count") == 2);
  CHECK(f.where == Rect<SeenSpace>{100, 300, 300, 850});
  CHECK_THAT(f.message, Contains("2 photographs carry"));
}
