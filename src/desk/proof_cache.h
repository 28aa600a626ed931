// Pictures of pages, each drawn once: kept by what they show, the ones that nobody has asked for longest given up first.
#pragma once
#include <condition_variable>
#include <filesystem>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <set>
#include <string>

#include "base/result.h"

namespace layright {

/// What a page was found to be, and its picture.
struct LookedAtPage {
  std::string told;               // the check's JSON
  std::filesystem::path picture;  // not there where the page could not be drawn
  long long bytes = 0;            // of the picture; 0: there is none
};

class ProofCache {
 public:
  /// Keeps at most `most_bytes` of pictures in `folder`, and has at most `at_once` drawn at a time.
  ProofCache(std::filesystem::path folder, long long most_bytes, int at_once);

  /// What is kept as `key` (hexadecimal), or what `make` gives, which writes the picture to the path. Asked twice at once, it is made once.
  using Make = std::function<Result<std::string>(std::filesystem::path const& picture)>;
  Result<std::shared_ptr<LookedAtPage const>> look(std::string const& key, Make const& make);
  /// Only what is kept.
  std::shared_ptr<LookedAtPage const> kept(std::string const& key);
  long long bytes() const;

 private:
  struct Kept {
    std::string key;
    std::shared_ptr<LookedAtPage const> page;
  };
  std::shared_ptr<LookedAtPage const> find(std::string const& key);
  void keep(std::string const& key, std::shared_ptr<LookedAtPage const> page);

  std::filesystem::path const folder_;
  long long const most_bytes_;
  int const at_once_;
  mutable std::mutex mutex_;
  std::condition_variable changed_;
  std::list<Kept> kept_;  // asked for last first
  std::set<std::string> in_hand_;
  long long bytes_ = 0;
};

}  // namespace layright
