// Runs a program as a person would, and keeps what it says.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace layright::test {

struct Ran {
  int status = -1;  // exit status, or 128 + the signal
  std::string out, err;
};

/// `words[0]` is looked up in PATH. Standard input is `input`. Throws std::runtime_error when it cannot be started.
Ran run(std::vector<std::string> const& words, std::filesystem::path const& folder, std::string const& input = {});

/// What a shell command says on both its outputs, in the order said.
std::string shell(std::string const& command);

/// A folder of its own that goes away with the value.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(Folder const&) = delete;
  Folder& operator=(Folder const&) = delete;
  std::filesystem::path const& path() const { return path_; }
  std::filesystem::path operator/(std::string const& name) const { return path_ / name; }

 private:
  std::filesystem::path path_;
};

}  // namespace layright::test
