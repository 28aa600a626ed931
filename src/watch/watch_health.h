// The file that tells every few seconds how a watch goes.
#pragma once
#include <cstddef>
#include <filesystem>

#include "base/result.h"

namespace layright {

struct WatchHealth {
  std::size_t queue = 0;
  double oldest_waits = 0;  // seconds
  std::size_t working = 0;
  long long ready = 0, held = 0;
};

Outcome write_health(std::filesystem::path const& path, WatchHealth const& health);

}  // namespace layright
