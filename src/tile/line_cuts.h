// Cuts along one direction: how few pieces there can be, and where they are parted at the least cost.
#pragma once
#include <vector>

namespace layright {

/// In points: the art's length, the longest that a piece may be, and by how much two neighbors overlap, half of it on each side of their cut.
struct LineToCut {
  double length = 0, longest = 0, overlap = 0;
};

/// 1 where the art is no longer than a piece; 0 where no number of pieces would do, because the overlap takes all there is.
int fewest_pieces(LineToCut const& line);

/// What a cut costs at equal steps along the line, from 0 to its length, both included; at least two.
using CutCosts = std::vector<double>;

struct LineCuts {
  std::vector<double> at;  // in points, one fewer than there are pieces
  double cost = 0;         // of all of them
};

/// The cheapest cuts into so many pieces, all at once (dynamic programming); of places that cost the same, next to each other, the middle one.
/// No piece is a sliver: each is at least shortest_piece() long. Requires pieces >= fewest_pieces(line) >= 1.
LineCuts cheapest_cuts(LineToCut const& line, int pieces, CutCosts const& costs);
double shortest_piece(LineToCut const& line, int pieces);

/// Moves each cut to the middle of the places beside it that cost no more by `costs`, of those at most so many points away; its pieces stay within
/// what they may be.
void to_middle_of_gaps(LineCuts& cuts, LineToCut const& line, CutCosts const& costs, double most);

/// Where the cut before piece `number` (from 2) may lie, so that all pieces can be had.
struct CutRange {
  double lo = 0, hi = 0;
};
CutRange cut_range(LineToCut const& line, int pieces, int number);

/// Together, all of these are so long.
double length_of_ranges(LineToCut const& line, int pieces);

/// The cost at any place, straight between the two steps that it lies between.
double cost_at(CutCosts const& costs, double length, double where);

}  // namespace layright
