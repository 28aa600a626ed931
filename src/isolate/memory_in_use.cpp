#include "isolate/memory_in_use.h"

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

namespace layright {
namespace {

namespace fs = std::filesystem;
using OpenText = std::unique_ptr<std::FILE, decltype([](std::FILE* f) { std::fclose(f); })>;

OpenText open_about(pid_t process, char const* what) { return OpenText(std::fopen(("/proc/" + std::to_string(process) + "/" + what).c_str(), "re")); }

/// Its fourth word; the second is a name in brackets, with whatever its owner likes in it.
pid_t parent_of(pid_t process) {
  auto const file = open_about(process, "stat");
  char text[256] = {};
  if (!file || std::fread(text, 1, sizeof text - 1, file.get()) == 0) return 0;
  char const* const name_ends = std::strrchr(text, ')');
  pid_t parent = 0;
  return name_ends && std::sscanf(name_ends + 1, " %*c %d", &parent) == 1 ? parent : 0;
}

/// By the kernel's lists, one for each of its threads.
std::vector<pid_t> listed_children(pid_t process) {
  std::vector<pid_t> children;
  std::error_code error;
  for (fs::directory_iterator it("/proc/" + std::to_string(process) + "/task", error), end; !error && it != end; it.increment(error)) {
    OpenText const list(std::fopen((it->path() / "children").c_str(), "re"));
    for (pid_t child = 0; list && std::fscanf(list.get(), "%d", &child) == 1;) children.push_back(child);
  }
  return children;
}

}  // namespace

bool lists_children() { return ::access("/proc/thread-self/children", R_OK) == 0; }

ProcessTree::ProcessTree(bool by_lists) : by_lists_(by_lists) {
  if (by_lists) return;
  std::error_code error;
  for (fs::directory_iterator it("/proc", error), end; !error && it != end; it.increment(error)) {
    std::string const name = it->path().filename().native();
    if (name.find_first_not_of("0123456789") != std::string::npos) continue;
    auto const process = static_cast<pid_t>(std::strtol(name.c_str(), nullptr, 10));
    begun_by_[parent_of(process)].push_back(process);
  }
}

std::vector<pid_t> ProcessTree::begun_by(pid_t process) const {
  if (by_lists_) return listed_children(process);
  auto const begun = begun_by_.find(process);
  return begun != begun_by_.end() && process > 0 ? begun->second : std::vector<pid_t>();
}

std::size_t ProcessTree::memory_of(pid_t root) const {
  std::size_t sum = 0;
  std::vector<pid_t> left{root};
  while (!left.empty()) {
    pid_t const process = left.back();
    left.pop_back();
    sum += memory_of_process(process);
    auto const begun = begun_by(process);
    left.insert(left.end(), begun.begin(), begun.end());
  }
  return sum;
}

std::size_t memory_of_process(pid_t process) {
  std::size_t in_memory = 0, of_files = 0;
  auto const file = open_about(process, "statm");
  if (!file || std::fscanf(file.get(), "%*u %zu %zu", &in_memory, &of_files) != 2) return 0;
  return (in_memory - std::min(in_memory, of_files)) * static_cast<std::size_t>(sysconf(_SC_PAGESIZE));
}

std::size_t memory_of_files(std::span<int const> descriptors) {
  constexpr std::string_view kInMemory = "/memfd:";
  std::size_t sum = 0;
  for (int const descriptor : descriptors) {
    char name[16] = {};
    struct stat about {};
    auto const link = "/proc/self/fd/" + std::to_string(descriptor);
    if (readlink(link.c_str(), name, sizeof name) < static_cast<ssize_t>(kInMemory.size()) ||
        !std::string_view(name, sizeof name).starts_with(kInMemory))
      continue;
    if (fstat(descriptor, &about) == 0) sum += static_cast<std::size_t>(about.st_blocks) * 512;
  }
  return sum;
}

}  // namespace layright
