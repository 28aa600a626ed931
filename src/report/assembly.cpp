#include "report/assembly.h"

#include "base/module.h"
#include "report/proof_module/entry.h"

namespace layright {

Result<std::string> make_assembly(Assembly const& assembly) {
  auto const found = load_from_module("layright-proof", kAssemblyEntry);
  if (!found) return found.error();
  std::string text;
  if (reinterpret_cast<AssemblyEntry>(*found)(assembly, text)) return text;
  return Error{ErrorKind::internal, "the assembly picture could not be made: " + text};
}

}  // namespace layright
