#include "write/sync_together.h"

#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <system_error>
#include <thread>

namespace layright {
namespace {

constexpr std::size_t kSideBySide = 8;

}  // namespace

std::vector<int> sync_together(std::span<int const> descriptors) {
  std::vector<int> errors(descriptors.size(), 0);
  std::atomic<std::size_t> next = 0;
  auto const work = [&] {
    for (auto i = next++; i < descriptors.size(); i = next++)
      if (::fsync(descriptors[i]) != 0) errors[i] = errno;
  };
  std::vector<std::thread> others;
  try {
    while (others.size() + 1 < std::min(descriptors.size(), kSideBySide)) others.emplace_back(work);
  } catch (std::system_error const&) {  // there is room for fewer: these do it all
  }
  work();
  for (auto& each : others) each.join();
  return errors;
}

}  // namespace layright
