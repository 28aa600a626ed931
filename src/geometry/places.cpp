#include "geometry/places.h"

namespace layright {

void Places::add(Rect<SeenSpace> const& where) {
  ++count;
  if (first.size() < kMostArtPlaces) first.push_back(where);
}

void Places::add(Places const& more) {
  count += more.count;
  for (auto const& where : more.first)
    if (first.size() < kMostArtPlaces) first.push_back(where);
}

}  // namespace layright
