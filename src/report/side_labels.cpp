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

}  // namespace

std::vector<SideLabel> side_labels(DrawnRect const& drawing, double gap, double side, std::vector<DrawnRect> const& places) {
  auto const room = static_cast<std::size_t>(std::max(0.0, (drawing.y1 - drawing.y0) / side));
  std::array<std::vector<std::size_t>, 2> margins;  // left, right
  for (std::size_t i = 0; i < places.size(); ++i) {
    bool const right = places[i].x0 + places[i].x1 > drawing.x0 + drawing.x1;
    auto& nearer = margins[right ? 1 : 0];
    auto& other = margins[right ? 0 : 1];
    if (nearer.size() < room) nearer.push_back(i);
    else if (other.size() < room) other.push_back(i);
  }
  std::vector<SideLabel> labels;
  for (bool const right : {false, true}) {
    auto& margin = margins[right ? 1 : 0];
    std::ranges::stable_sort(margin, [&](std::size_t a, std::size_t b) { return middle_of(places[a]) < middle_of(places[b]); });
    std::vector<double> middles;
    for (std::size_t const i : margin) middles.push_back(middle_of(places[i]));
    auto const edges = stacked(middles, side, drawing.y0, drawing.y1);
    double const x = right ? drawing.x1 + gap : drawing.x0 - gap - side;
    for (std::size_t k = 0; k < margin.size(); ++k) {
      DrawnRect const& place = places[margin[k]];
      double const y = edges[k] + side / 2;
      labels.push_back({margin[k],
                        {x, edges[k], x + side, edges[k] + side},
                        right ? x : x + side,
                        y,
                        right ? place.x1 : place.x0,
                        std::clamp(y, place.y0, place.y1)});
    }
  }
  return labels;
}

}  // namespace layright
