#include "desk/proof_cache.h"

#include <algorithm>
#include <system_error>
#include <utility>

namespace layright {
namespace {

constexpr long long kForTold = 4096;  // what a page says counts too, be there a picture or not

}  // namespace

ProofCache::ProofCache(std::filesystem::path folder, long long most_bytes, int at_once)
    : folder_(std::move(folder)), most_bytes_(most_bytes), at_once_(at_once) {}

std::shared_ptr<LookedAtPage const> ProofCache::find(std::string const& key) {
  auto const found = std::ranges::find(kept_, key, &Kept::key);
  if (found == kept_.end()) return nullptr;
  kept_.splice(kept_.begin(), kept_, found);
  return kept_.front().page;
}

std::shared_ptr<LookedAtPage const> ProofCache::kept(std::string const& key) {
  std::lock_guard const lock(mutex_);
  return find(key);
}

long long ProofCache::bytes() const {
  std::lock_guard const lock(mutex_);
  return bytes_;
}

void ProofCache::keep(std::string const& key, std::shared_ptr<LookedAtPage const> page) {
  bytes_ += page->bytes + kForTold;
  kept_.push_front({key, std::move(page)});
  while (bytes_ > most_bytes_ && kept_.size() > 1) {
    auto const& last = *kept_.back().page;
    bytes_ -= last.bytes + kForTold;
    std::error_code ignored;
    std::filesystem::remove(last.picture, ignored);
    kept_.pop_back();
  }
}

Result<std::shared_ptr<LookedAtPage const>> ProofCache::look(std::string const& key, Make const& make) {
  {
    std::unique_lock lock(mutex_);
    while (true) {
      if (auto page = find(key)) return page;
      if (!in_hand_.contains(key) && std::ssize(in_hand_) < at_once_) break;
      changed_.wait(lock);
    }
    in_hand_.insert(key);
  }
  auto page = std::make_shared<LookedAtPage>();
  page->picture = folder_ / (key + ".png");
  auto told = make(page->picture);
  std::error_code none;
  auto const bytes = std::filesystem::file_size(page->picture, none);
  std::lock_guard const lock(mutex_);
  in_hand_.erase(key);
  changed_.notify_all();
  if (!told) return told.error();
  page->told = std::move(*told);
  page->bytes = none ? 0 : static_cast<long long>(bytes);
  keep(key, page);
  return std::shared_ptr<LookedAtPage const>(page);
}

}  // namespace layright
