// Several files or folders brought to the disk at once: a disk that is asked for many has them sooner than one after the other.
#pragma once
#include <span>
#include <vector>

namespace layright {

/// fsync of each descriptor, side by side; for each 0 or errno. No thread is left when it returns.
std::vector<int> sync_together(std::span<int const> descriptors);

}  // namespace layright
