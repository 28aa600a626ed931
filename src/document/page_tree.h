// Walks the page tree once (ISO 32000-1, 7.7.3): every page in order, with the nodes it inherits from. Changes nothing in the file.
#pragma once
#include <cstdint>
#include <set>
#include <string>
#include <vector>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

#include "document/open_file.h"

namespace layright {

/// The pages as the tree gives them. A branch that comes up again is passed over, so loops end.
class PageTree {
 public:
  PageTree() = default;
  /// Throws what the library throws. `file` must outlive the tree.
  explicit PageTree(OpenFile& file);

  int count() const { return static_cast<int>(pages_.size()); }
  /// `number` from 1. May be anything, also null: then there is no page to look at.
  QPDFObjectHandle page(int number) const { return object(pages_.at(index(number)).entry); }
  /// The page's own value of `key`, else that of the nearest node above it; null where there is none. Only Resources, MediaBox,
  /// CropBox and Rotate are inherited (ISO 32000-1, Table 30): the caller asks for no others.
  QPDFObjectHandle inherited(int number, std::string const& key) const;
  /// Which node that value comes from: a number that pages share exactly when they share the value; -1 when it is the page's own, or
  /// there is none.
  std::int32_t inherited_from(int number, std::string const& key) const;
  /// What the root says how many pages there are; -1 when it does not say.
  long long stated_count() const { return stated_; }
  /// What was odd about the tree, in plain words.
  std::vector<std::string> const& oddities() const { return oddities_; }

 private:
  static constexpr std::int32_t kNone = -1;
  /// Objects are kept by number, since the file may be opened anew; those without a number (no sound file has such) as they are.
  struct Entry {
    QPDFObjGen id;
    QPDFObjectHandle direct;
  };
  struct Node {
    Entry entry;
    std::int32_t parent;
  };
  struct Leaf {
    Entry entry;
    std::int32_t node;
  };
  static std::size_t index(int number) { return static_cast<std::size_t>(number) - 1; }
  Entry entry_of(QPDFObjectHandle object);
  QPDFObjectHandle object(Entry const& entry) const;
  QPDFObjectHandle node(std::int32_t number) const { return object(nodes_[static_cast<std::size_t>(number)].entry); }
  QPDFObjectHandle find_root();
  void walk();

  struct Step {
    std::int32_t node;
    int next, count;
  };
  void enter(QPDFObjectHandle branch, std::int32_t parent);

  OpenFile* file_ = nullptr;
  std::set<QPDFObjGen> visited_;  // while walking
  std::vector<Step> path_;        // while walking
  std::vector<Node> nodes_;
  std::vector<Leaf> pages_;
  long long stated_ = -1;
  std::vector<std::string> oddities_;
};

}  // namespace layright
