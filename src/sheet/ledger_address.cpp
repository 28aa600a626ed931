#include "sheet/ledger_address.h"

#include <algorithm>

namespace layright {

bool is_server_address(std::string_view text) { return text.starts_with("postgresql://") || text.starts_with("postgres://"); }

Outcome check_server_address(std::string_view text) {
  if (!is_server_address(text)) return done();
  auto const rest = text.substr(text.find("://") + 3);
  auto const host = rest.substr(0, std::min(rest.find_first_of("/?"), rest.size()));
  auto const at = rest.rfind('@');  // a password may hold anything, / and ? too
  bool const beside_user = at != std::string_view::npos && rest.substr(0, at).find(':') != std::string_view::npos;
  if (beside_user || rest.find("password=") != std::string_view::npos)
    return usage_error(
        "the ledger's address has a password in it, where others can read it. Put it into ~/.pgpass, and write the "
        "address without it");
  if (host.find_first_of(" \t\n") != std::string_view::npos) return usage_error("the ledger's address has blanks in it");
  return done();
}

Result<std::filesystem::path> ledger_place(std::string const& text, std::filesystem::path const& folder) {
  if (auto const good = check_server_address(text); !good) return good.error();
  if (is_server_address(text)) return std::filesystem::path(text);
  auto const whole_path = (folder / text).lexically_normal();
  return whole_path.has_filename() || !whole_path.has_relative_path() ? whole_path : whole_path.parent_path();
}

}  // namespace layright
