// What holds a file and nobody has accepted: while there is any of it, nothing is written.
#pragma once
#include <string>
#include <vector>

#include "report/page_summary.h"

namespace layright {

class OpenHolds {
 public:
  void add(PageSummary const& page);
  void add(std::vector<Finding> const& of_file);
  void clear() { holds_.clear(); }

  bool empty() const { return holds_.empty(); }
  /// Ids, in the order told.
  std::vector<std::string> checks() const;
  /// All of them would be lifted by --accept.
  bool can_all_be_accepted() const;
  /// "page 1: MESSAGE (held by ink.guide on page 1, font.embedded on pages 2 and 3)". Requires some.
  std::string words() const;

 private:
  struct Hold {
    std::string check, message;
    std::vector<int> pages;  // empty: of the file
    std::string member;      // of the first page
  };
  void add(std::string const& check, std::string const& message, PageSummary const* page);
  std::vector<Hold> holds_;
};

}  // namespace layright
