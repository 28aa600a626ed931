#include "desk/current_shop.h"

#include <sys/stat.h>

#include <utility>

namespace layright {
namespace {

constexpr auto kLookEvery = std::chrono::milliseconds(500);

}  // namespace

CurrentShop::CurrentShop(DeskShop shop, Read read)
    : path_(shop.configuration.path), read_(std::move(read)), shop_(std::make_shared<DeskShop const>(std::move(shop))), mark_(mark()) {}

std::string CurrentShop::mark() const {
  struct stat about {};
  if (path_.empty() || ::stat(path_.c_str(), &about) != 0) return {};
  return std::to_string(about.st_dev) + " " + std::to_string(about.st_ino) + " " + std::to_string(about.st_size) + " " +
         std::to_string(about.st_mtim.tv_sec) + "." + std::to_string(about.st_mtim.tv_nsec);
}

void CurrentShop::look() const {
  auto const now = std::chrono::steady_clock::now();
  if (!read_ || now - looked_ < kLookEvery) return;
  looked_ = now;
  auto seen = mark();
  if (seen == mark_) return;
  auto read = read_();
  mark_ = std::move(seen);
  if (!read) {
    trouble_ = read.error().message;
  } else if (read->ledger != shop_->ledger) {
    trouble_ = "it names another ledger now, " + read->ledger.string() + ": start the desk anew";
  } else {
    trouble_.clear();
    shop_ = std::make_shared<DeskShop const>(std::move(*read));
  }
}

std::shared_ptr<DeskShop const> CurrentShop::now() const {
  std::lock_guard const lock(mutex_);
  look();
  return shop_;
}

std::string CurrentShop::trouble() const {
  std::lock_guard const lock(mutex_);
  look();
  return trouble_;
}

}  // namespace layright
