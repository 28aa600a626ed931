// How many connections each address has at a time.
#pragma once
#include <map>
#include <mutex>
#include <string>
#include <utility>

namespace layright {

class AddressPlaces {
 public:
  explicit AddressPlaces(int most) : most_(most) {}

  /// One of them, as long as it lives. What comes by a socket of this machine has no address, and is not counted.
  class Place {
   public:
    Place(AddressPlaces& all, std::string address) : all_(all), address_(std::move(address)) {
      std::lock_guard const lock(all_.mutex_);
      free_ = address_.empty() || ++all_.taken_[address_] <= all_.most_;
    }
    ~Place() {
      std::lock_guard const lock(all_.mutex_);
      if (auto const mine = all_.taken_.find(address_); mine != all_.taken_.end() && --mine->second == 0) all_.taken_.erase(mine);
    }
    Place(Place const&) = delete;
    Place& operator=(Place const&) = delete;
    bool is_free() const { return free_; }

   private:
    AddressPlaces& all_;
    std::string const address_;
    bool free_ = false;
  };

 private:
  std::mutex mutex_;
  std::map<std::string, int> taken_;
  int const most_;
};

}  // namespace layright
