#include "report/side_labels.h"

#include <algorithm>
#include <array>

namespace layright {
namespace {

double middle_of(DrawnRect const& place) { return (place.y0 + place.y1) / 2; }

/// The upper edges of labels that stand as near as they can to `middles`, which go downwards, and do not meet.
std::vector<double> stacked(std::vector<double> const& middles, double side, double top, double bottom) {
  std::vector<double> edges;
  for (double const middle : middles) {
    edges.push_back(std::max(middle - side / 2, top));
    top = edges.back() + side;
  }
  for (auto edge = edges.rbegin(); edge != edges.rend(); ++edge) bottom = *edge = std::min(*edge, bottom - side);
  return edges;
}

/// Places of a finding that have one label.
struct Group {
  std::size_t finding = 0;
  std::vector<DrawnRect> places;
  double middle() const {
    double sum = 0;
    for (auto const& each : places) sum += middle_of(each);
    return sum / static_cast<double>(places.size());
  }
};

SideLabel label_of(Group group, bool right, DrawnRect const& box) {
  SideLabel label{group.finding, group.places.size(), right, box, {}};
  std::ranges::stable_sort(group.places, [&](DrawnRect const& a, DrawnRect const& b) { return right ? a.x1 > b.x1 : a.x0 < b.x0; });
  group.places.resize(std::min(group.places.size(), kMostLines));
  double const x = right ? box.x0 : box.x1, y = (box.y0 + box.y1) / 2;
  for (auto const& place : group.places) label.lines.push_back({x, y, right ? place.x1 : place.x0, std::clamp(y, place.y0, place.y1)});
  return label;
}

}  // namespace

std::vector<SideLabel> side_labels(DrawnRect const& drawing, double gap, double side, std::vector<std::vector<DrawnRect>> const& findings) {
  auto const room = static_cast<std::size_t>(std::max(0.0, (drawing.y1 - drawing.y0) / side));
  std::array<std::vector<Group>, 2> margins;  // left, right
  for (std::size_t i = 0; i < findings.size(); ++i) {
    std::array<Group, 2> sides{Group{i, {}}, Group{i, {}}};
    for (auto const& place : findings[i]) sides[place.x0 + place.x1 > drawing.x0 + drawing.x1 ? 1 : 0].places.push_back(place);
    for (std::size_t at = 0; at < 2; ++at) {
      if (sides[at].places.empty()) continue;
      auto& nearer = margins[at];
      auto& other = margins[1 - at];
      if (nearer.size() < room) nearer.push_back(std::move(sides[at]));
      else if (other.size() < room) other.push_back(std::move(sides[at]));
    }
  }
  std::vector<SideLabel> labels;
  for (bool const right : {false, true}) {
    auto& margin = margins[right ? 1 : 0];
    std::ranges::stable_sort(margin, [](Group const& a, Group const& b) { return a.middle() < b.middle(); });
    std::vector<double> middles;
    for (auto const& group : margin) middles.push_back(group.middle());
    auto const edges = stacked(middles, side, drawing.y0, drawing.y1);
    double const x = right ? drawing.x1 + gap : drawing.x0 - gap - side;
    for (std::size_t k = 0; k < margin.size(); ++k) labels.push_back(label_of(std::move(margin[k]), right, {x, edges[k], x + side, edges[k] + side}));
  }
  return labels;
}

}  // namespace layright
