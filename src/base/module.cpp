#include "base/module.h"

#include <dlfcn.h>

#include <filesystem>

namespace layright {

Result<void*> load_from_module(std::string const& name, char const* symbol) {
  std::error_code ec;
  auto const here = std::filesystem::read_symlink("/proc/self/exe", ec).parent_path();
  std::string trouble;
  for (auto const& folder : {here / "lib" / "layright", here.parent_path() / LAYRIGHT_MODULES}) {
    auto const path = folder / (name + ".so");
    if (!std::filesystem::exists(path, ec)) {
      trouble += (trouble.empty() ? "" : ", ") + path.string() + " is not there";
      continue;
    }
    void* module = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
    if (void* found = module ? dlsym(module, symbol) : nullptr) return found;
    char const* why = dlerror();
    trouble += (trouble.empty() ? "" : ", ") + std::string(why ? why : "it does not hold what it should");
  }
  return Error{ErrorKind::internal, "a part of layright cannot be loaded: " + trouble + "; install it afresh"};
}

}  // namespace layright
