// What a child writes of a laid file.
#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "base/write_all.h"
#include "isolate/channel.h"
#include "isolate/input_file.h"
#include "job/messages.h"

namespace layright {

/// Small pieces are gathered, so that a file of many small objects does not cost a call each.
class FileSink {
 public:
  /// `source` is mapped: what was written of it is let go of.
  FileSink(int descriptor, std::span<std::byte const> source, Sender const& sender) : descriptor_(descriptor), source_(source), sender_(sender) {}
  bool take(std::span<std::byte const> bytes) {
    waiting_.insert(waiting_.end(), bytes.begin(), bytes.end());
    return waiting_.size() < kGathered || flush();
  }
  bool flush() {
    error_ = write_all(descriptor_, waiting_);
    since_ += waiting_.size();
    waiting_.clear();
    if (since_ >= kBetween) drop_cached_pages(source_), since_ = 0;
    send_message(sender_, message::Alive{});  // writing a long file takes longer than a page may; say that it goes on
    return error_ == 0;
  }
  int error() const { return error_; }

 private:
  static constexpr std::size_t kGathered = 1u << 20, kBetween = 32u << 20;
  int descriptor_;
  std::span<std::byte const> source_;
  std::size_t since_ = 0;
  Sender const& sender_;
  std::vector<std::byte> waiting_;
  int error_ = 0;
};

}  // namespace layright
