// The doors into the module.
#pragma once
#include <string>

namespace layright {

struct Proof;
struct ReadingPicture;
struct Assembly;
/// `out` gets the bytes, or, where false comes back, why there are none. Throws nothing.
using ProofEntry = bool (*)(Proof const& proof, std::string& out);
inline constexpr char const* kProofEntry = "layright_make_proof";
using ReadingPictureEntry = bool (*)(ReadingPicture const& picture, std::string& out);
inline constexpr char const* kReadingPictureEntry = "layright_make_reading_picture";
using AssemblyEntry = bool (*)(Assembly const& assembly, std::string& out);
inline constexpr char const* kAssemblyEntry = "layright_make_assembly";

}  // namespace layright
