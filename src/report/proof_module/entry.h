// The one door into the module.
#pragma once
#include <string>

namespace layright {

struct Proof;
/// `out` gets the bytes, or, where false comes back, why there are none. Throws nothing.
using ProofEntry = bool (*)(Proof const& proof, std::string& out);
inline constexpr char const* kProofEntry = "layright_make_proof";

}  // namespace layright
