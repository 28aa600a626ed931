#include "isolate/channel.h"

#include <sys/uio.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "base/write_all.h"

namespace layright {
namespace {
constexpr std::size_t kHeader = 1 + sizeof(std::uint32_t);
}

void Sender::send(char kind, std::string_view bytes) const {
  std::string frame(kHeader, kind);
  auto const size = static_cast<std::uint32_t>(bytes.size());
  std::memcpy(frame.data() + 1, &size, sizeof size);
  frame += bytes;
  if (write_all(descriptor_, frame) != 0) _exit(0);
}

bool Receiver::take(int descriptor) {
  std::array<char, 65536> buffer;
  ssize_t n;
  do n = read(descriptor, buffer.data(), buffer.size());
  while (n < 0 && errno == EINTR);
  if (n < 0 && errno == EAGAIN) return true;
  if (n <= 0) return false;
  waiting_.append(buffer.data(), static_cast<std::size_t>(n));
  return !flooded_;
}

std::optional<Message> Receiver::next() {
  if (flooded_ || waiting_.size() - start_ < kHeader) return std::nullopt;
  std::uint32_t size;
  std::memcpy(&size, waiting_.data() + start_ + 1, sizeof size);
  if (size > kLargestMessage) {
    flooded_ = true;
    return std::nullopt;
  }
  if (waiting_.size() - start_ - kHeader < size) return std::nullopt;
  Message message{waiting_[start_], waiting_.substr(start_ + kHeader, size)};
  start_ += kHeader + size;
  if (start_ == waiting_.size()) {
    waiting_.clear();
    start_ = 0;
  } else if (start_ > (1u << 20)) {
    waiting_.erase(0, start_);
    start_ = 0;
  }
  return message;
}

}  // namespace layright
