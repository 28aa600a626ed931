#include "raster/weed_pieces.h"

#include <algorithm>

namespace layright {
namespace {

constexpr std::size_t kMostFinished = 65536;  // pieces that wait to be handed over

}  // namespace

int WeedPieces::root(int label) {
  while (parents_[static_cast<std::size_t>(label)] != label) {
    auto& parent = parents_[static_cast<std::size_t>(label)];
    parent = parents_[static_cast<std::size_t>(parent)];
    label = parent;
  }
  return label;
}

void WeedPieces::join(int a, int b) {
  a = root(a);
  b = root(b);
  if (a == b) return;
  auto& into = pieces_[static_cast<std::size_t>(std::min(a, b))];
  auto const& from = pieces_[static_cast<std::size_t>(std::max(a, b))];
  into = {std::min(into.x0, from.x0), std::min(into.y0, from.y0),       std::max(into.x1, from.x1), std::max(into.y1, from.y1),
          into.area + from.area,      std::max(into.width, from.width), into.marked || from.marked, into.held || from.held};
  parents_[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
}

void WeedPieces::row(int y, std::vector<WeedRun> const& runs) {
  if (runs.empty() && last_.empty()) return;
  std::vector<int> labels;
  labels.reserve(runs.size());
  std::size_t above = 0;
  for (auto const& run : runs) {
    JoinedPiece const alone{run.x0, y, run.x1, y + 1, run.x1 - run.x0, run.width, run.marked, run.held};
    int label = -1;
    while (above < last_.size() && last_[above].x1 + reach_ <= run.x0) ++above;
    for (std::size_t i = above; i < last_.size() && last_[i].x0 < run.x1 + reach_; ++i) {
      if (label >= 0) {
        join(label, last_labels_[i]);
        continue;
      }
      label = root(last_labels_[i]);
      auto& piece = pieces_[static_cast<std::size_t>(label)];
      piece = {std::min(piece.x0, alone.x0), piece.y0,
               std::max(piece.x1, alone.x1), y + 1,
               piece.area + alone.area,      std::max(piece.width, alone.width),
               piece.marked || alone.marked, piece.held || alone.held};
    }
    if (label < 0) {
      label = static_cast<int>(pieces_.size());
      parents_.push_back(label);
      pieces_.push_back(alone);
    }
    labels.push_back(label);
  }
  last_ = runs;
  last_labels_ = std::move(labels);
  if (pieces_.size() > kMostFinished + 2 * last_.size()) hand_over();
}

/// Numbers anew what the last row touches, and hands over the others.
void WeedPieces::hand_over() {
  std::vector<int> fresh(pieces_.size(), -1);
  std::vector<JoinedPiece> kept;
  for (int& label : last_labels_) {
    auto const at = static_cast<std::size_t>(root(label));
    if (fresh[at] < 0) {
      fresh[at] = static_cast<int>(kept.size());
      kept.push_back(pieces_[at]);
    }
    label = fresh[at];
  }
  for (std::size_t i = 0; i < pieces_.size(); ++i)
    if (parents_[i] == static_cast<int>(i) && fresh[i] < 0) done_(pieces_[i]);
  pieces_ = std::move(kept);
  parents_.resize(pieces_.size());
  for (std::size_t i = 0; i < parents_.size(); ++i) parents_[i] = static_cast<int>(i);
}

void WeedPieces::stop(int rows) {
  std::vector<int> low;
  for (int const label : last_labels_) {
    auto const& piece = pieces_[static_cast<std::size_t>(root(label))];
    if (piece.y1 - piece.y0 < rows) low.push_back(label);
  }
  last_labels_ = std::move(low);  // what a row touches is not handed over
  hand_over();
  last_.clear();
  last_labels_.clear();
}

void WeedPieces::finish() {
  last_.clear();
  last_labels_.clear();
  hand_over();
}

}  // namespace layright
