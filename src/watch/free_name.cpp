#include "watch/free_name.h"

#include <algorithm>

#include "base/utf8.h"
#include "write/move_file.h"

namespace layright {
namespace {

constexpr std::size_t kLongestName = 255;  // bytes: NAME_MAX of the file systems in use

std::string key_of(std::filesystem::path const& folder, std::string const& name) { return folder.native() + "/" + case_folded(name); }

Result<bool> is_free(Ledger const& ledger, std::filesystem::path const& folder, std::string const& name, Promised const& promised,
                     NamesAsked const& asked) {
  auto const key = key_of(folder, name);
  if (promised.contains(key) || is_there(folder / name)) return false;
  auto const before = asked.find(key);
  auto const known = before == asked.end() ? ledger.names_like(folder, name) : Result<std::vector<KnownName>>(before->second);
  if (!known) return known.error();
  return std::none_of(known->begin(), known->end(), [](KnownName const& each) { return each.coming || is_there(each.path); });
}

}  // namespace

Result<NamesAsked> ask_for_names(Ledger const& ledger, std::vector<std::filesystem::path> const& paths) {
  auto const known = ledger.names_like(paths);
  if (!known) return known.error();
  NamesAsked asked;
  for (std::size_t i = 0; i < paths.size(); ++i) asked[key_of(paths[i].parent_path(), paths[i].filename().native())] = (*known)[i];
  return asked;
}

Result<std::string> free_stem(Ledger const& ledger, std::filesystem::path const& folder, std::string const& stem,
                              std::vector<std::string> const& endings, Promised& promised, NamesAsked const& asked) {
  std::size_t longest = 0;
  for (auto const& ending : endings) longest = std::max(longest, ending.size());
  auto const numbered = [&](long long n) {
    std::string const number = n == 1 ? std::string() : "-" + std::to_string(n);
    return std::string(utf8_prefix(stem, kLongestName - std::min(kLongestName, longest + number.size()))) + number;
  };
  auto const all_free = [&](long long n) -> Result<bool> {
    for (auto const& ending : endings) {
      auto const free = is_free(ledger, folder, numbered(n) + ending, promised, asked);
      if (!free || !*free) return free;
    }
    return true;
  };
  // Ten thousand files of one name must not cost ten thousand looks each: far steps forward, then back to the first that is free.
  long long taken = 0, n = 1;
  for (;; taken = n, n *= 2) {
    auto const free = all_free(n);
    if (!free) return free.error();
    if (*free) break;
  }
  while (n - taken > 1) {
    long long const middle = taken + (n - taken) / 2;
    auto const free = all_free(middle);
    if (!free) return free.error();
    (*free ? n : taken) = middle;
  }
  auto const found = numbered(n);
  for (auto const& ending : endings) promised.insert(key_of(folder, found + ending));
  return found;
}

Result<bool> is_free_stem(Ledger const& ledger, std::filesystem::path const& folder, std::string const& stem,
                          std::vector<std::string> const& endings) {
  Promised none;
  auto const next = free_stem(ledger, folder, stem, endings, none);
  if (!next) return next.error();
  return *next == stem;
}

}  // namespace layright
