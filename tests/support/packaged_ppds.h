// PPDs of Debian's packages, unpacked once for all tests of this program.
#pragma once
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

#include "support/places.h"
#include "support/program.h"

/// 400 drawn by LAYRIGHT_SEED, else by the clock; with LAYRIGHT_ALL every one. Throws std::runtime_error where the packages are missing.
class PackagedPpds {
 public:
  PackagedPpds() : all(std::getenv("LAYRIGHT_ALL") != nullptr) {
    char const* given = std::getenv("LAYRIGHT_SEED");
    seed = given ? given : std::to_string(std::chrono::system_clock::now().time_since_epoch().count() % 1000000);
    std::string const here = std::string(layright::test::kSource) + "/tests/setup/";
    auto const done = layright::test::run(
        {"python3", here + "unpack_ppds.py", folder_.path().string(), all ? "0" : "400", seed, here + "read_by_hand.txt"}, folder_.path());
    if (done.status != 0) throw std::runtime_error("install openprinting-ppds and foomatic-db-compressed-ppds: " + done.err);
  }
  std::filesystem::path drawn() const { return folder_ / "drawn"; }
  std::filesystem::path by_hand() const { return folder_ / "by-hand"; }  // those of read_by_hand.txt, by their digests
  bool all;
  std::string seed;

 private:
  layright::test::Folder folder_;
};

inline PackagedPpds const& packaged_ppds() {
  static PackagedPpds const ppds;
  return ppds;
}
