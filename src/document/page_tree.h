// Walks the page tree once (ISO 32000-1, 7.7.3): every page in order, with the nodes it inherits from. Changes nothing in the file.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// The pages as the tree gives them. A branch that comes up again is passed over, so loops end.
class PageTree {
 public:
  PageTree() = default;
  /// Throws what the library throws.
  explicit PageTree(QPDF& pdf);

  int count() const { return static_cast<int>(pages_.size()); }
  /// `number` from 1. May be anything, also null: then there is no page to look at.
  QPDFObjectHandle page(int number) const { return pages_.at(index(number)).object; }
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
  struct Node {
    QPDFObjectHandle dictionary;
    std::int32_t parent;
  };
  struct Leaf {
    QPDFObjectHandle object;
    std::int32_t node;
  };
  static std::size_t index(int number) { return static_cast<std::size_t>(number) - 1; }
  QPDFObjectHandle find_root(QPDF& pdf);

  std::vector<Node> nodes_;
  std::vector<Leaf> pages_;
  long long stated_ = -1;
  std::vector<std::string> oddities_;
};

}  // namespace layright
