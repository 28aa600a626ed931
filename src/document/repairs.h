// Turns what the PDF library had to repair into plain words, and tells what was certainly lost.
#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

/// Counts repairs by kind, so that a thousand warnings of one kind make one line.
class Repairs {
 public:
  /// A warning of the PDF library, in its own words.
  void add_warning(std::string_view message);
  /// Something of our own.
  void add(std::string const& words, bool lost);

  bool lost() const { return lost_; }
  /// The table of what is where had to be made anew: then what the pages need may be missing.
  bool rebuilt() const { return rebuilt_; }
  bool any() const { return !counts_.empty(); }
  /// In the order of their first coming.
  std::vector<std::string> in_words() const;

 private:
  std::vector<std::string> order_;
  std::map<std::string, long> counts_;
  bool lost_ = false, rebuilt_ = false;
};

}  // namespace layright
