// Runs a fuzz target over files, without the fuzzer: any compiler, any machine. A crash is a failed test.
//   replay_TARGET FOLDER-OR-FILE…
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <vector>

#include "support/pdf_maker.h"

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size);

int main(int count, char** words) {
  std::vector<std::filesystem::path> files;
  for (int i = 1; i < count; ++i) {
    if (!std::filesystem::is_directory(words[i])) files.emplace_back(words[i]);
    else
      for (auto const& entry : std::filesystem::directory_iterator(words[i])) files.push_back(entry.path());
  }
  for (auto const& file : files) {
    std::fprintf(stderr, "%s\n", file.c_str());
    auto const bytes = layright::test::read_file(file);
    LLVMFuzzerTestOneInput(reinterpret_cast<std::uint8_t const*>(bytes.data()), bytes.size());
  }
  std::printf("%zu passed, %d failed\n", files.size(), files.empty() ? 1 : 0);
  return files.empty() ? 1 : 0;
}
