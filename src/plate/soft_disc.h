// Erodes a picture of eight bits a pixel by a disc, exactly: each pixel becomes the least of those whose middles lie within the radius.
#pragma once
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

namespace layright {

class SoftDisc {
 public:
  using Row = std::vector<std::uint8_t>;
  using Take = std::function<void(std::span<std::uint8_t const> row)>;
  /// As Disc (plate/disc.h) for DiscKind::erode; outside of the picture all is 0.
  SoftDisc(int width, double radius, Take take);
  void row(std::span<std::uint8_t const> row);
  void finish();

 private:
  Row& held(int row) { return held_[static_cast<std::size_t>(row) % held_.size()]; }

  std::vector<int> half_widths_;
  std::vector<Row> held_;
  std::size_t padding_;
  Row padded_, least_;
  int next_ = 0, given_ = 0;
  Take take_;
};

}  // namespace layright
