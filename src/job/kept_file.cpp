#include "job/kept_file.h"

#include <sys/mman.h>

#include "isolate/input_file.h"

namespace layright {

std::shared_ptr<KeptFile const> KeptFile::of(int descriptor) {
  auto const bytes = map_whole(descriptor);
  return bytes.empty() ? nullptr : std::shared_ptr<KeptFile const>(new KeptFile(bytes));
}

KeptFile::~KeptFile() { munmap(const_cast<std::byte*>(bytes_.data()), bytes_.size()); }

}  // namespace layright
