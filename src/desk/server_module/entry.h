// The door into the module.
#pragma once
#include <string>

#include "desk/exchange.h"

namespace layright {

struct ServerOptions;
/// False: it could not listen there, and `trouble` says why. Throws nothing.
using ServeEntry = bool (*)(ServerOptions const& options, Answerer const& answer, std::string& trouble);
inline constexpr char const* kServeEntry = "layright_serve";

}  // namespace layright
