// Messages from a shut-in child to its parent: a kind and some bytes, over a pipe.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace layright {

struct Message {
  char kind = 0;  // what it is: the two sides agree (see file_job.h)
  std::string bytes;
};

/// The child's end. A parent that is gone ends the child.
class Sender {
 public:
  explicit Sender(int descriptor) : descriptor_(descriptor) {}
  void send(char kind, std::string_view bytes) const;

 private:
  int descriptor_;
};

/// The parent's end: collects what comes and cuts it into messages. The other side is not trusted.
class Receiver {
 public:
  /// Takes what is there to read. False when the other side has closed, or sent a message above the limit (then flooded()).
  bool take(int descriptor);
  std::optional<Message> next();
  bool flooded() const { return flooded_; }

 private:
  std::string waiting_;
  std::size_t start_ = 0;
  bool flooded_ = false;
};

/// A message above this is refused. A page with 10,000 pictures fits many times.
inline constexpr std::uint32_t kLargestMessage = 64u << 20;

}  // namespace layright
