// The door into the module.
#pragma once
#include <string>

namespace layright {

/// False where the system has no randomness, or the word is longer than a hash takes (511 bytes). Throw nothing.
using HashEntry = bool (*)(std::string const& password, std::string& hash);
using MatchEntry = bool (*)(std::string const& password, std::string const& hash);
inline constexpr char const* kHashEntry = "layright_hash";
inline constexpr char const* kMatchEntry = "layright_match";

}  // namespace layright
