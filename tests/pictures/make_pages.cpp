// Writes the sample pages into a folder: make_pages FOLDER
#include <cstdio>
#include <filesystem>

#include "support/pdf_maker.h"
#include "support/sample_pages.h"

int main(int count, char** words) {
  if (count != 2) return std::fputs("usage: make_pages FOLDER\n", stderr), 64;
  std::filesystem::path const folder = words[1];
  std::filesystem::create_directories(folder);
  for (auto const& page : layright::test::sample_pages()) layright::test::write_file(folder / (page.name + ".pdf"), page.bytes);
}
