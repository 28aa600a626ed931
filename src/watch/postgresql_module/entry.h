// The door into the module.
#pragma once
#include <string>

namespace layright {

class Database;

/// A connection to the server of a postgresql:// address, by libpq's rules (passwords from ~/.pgpass or the environment, TLS by its options). Null:
/// it could not be had, and `trouble` says why. Throws nothing; what is called on the database throws DatabaseError. Delete it.
using OpenPostgresql = Database* (*)(std::string const& address, std::string& trouble);
inline constexpr char const* kOpenPostgresql = "layright_open_postgresql";

}  // namespace layright
