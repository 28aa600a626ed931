// Whose desk it is, by the configuration as it stands now.
#pragma once
#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "sheet/configuration.h"
#include "sheet/ledger_address.h"

namespace layright {

struct DeskShop {
  Configuration configuration;
  std::vector<Intake> intakes;  // of the one ledger
  std::filesystem::path ledger;
  std::filesystem::path door;  // the watched folder that customers' files come into
  std::string who = "desk";    // who decides where nobody has logged in, as the ledger tells it

  /// What the desk keeps, its users and who handed in what, lies beside the ledger's file; of a server's beside the configuration, which all
  /// machines read.
  std::filesystem::path kept_beside() const { return is_server_address(ledger.native()) ? configuration.path : ledger; }
};

/// Reads the configuration again when its file is another than it was. What cannot be read changes nothing, and is told.
class CurrentShop {
 public:
  using Read = std::function<Result<DeskShop>()>;
  CurrentShop(DeskShop shop, Read read);
  /// May be called from many threads at a time.
  std::shared_ptr<DeskShop const> now() const;
  /// Why the file, as it is now, is not what the desk goes by; empty where it is.
  std::string trouble() const;

 private:
  /// What tells the file from another: its place on the disk, its size and time.
  std::string mark() const;
  void look() const;

  std::filesystem::path const path_;
  Read const read_;
  mutable std::mutex mutex_;
  mutable std::shared_ptr<DeskShop const> shop_;
  mutable std::string mark_, trouble_;
  mutable std::chrono::steady_clock::time_point looked_{};
};

}  // namespace layright
