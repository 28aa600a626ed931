// Why a page cannot be laid, in the program's own words; what a library throws says it in its own, with pieces of the file.
#pragma once
#include <stdexcept>

namespace layright {

struct NotLaid : std::runtime_error {
  using std::runtime_error::runtime_error;
};

}  // namespace layright
