#include "document/page_tree.h"

#include <set>

namespace layright {
namespace {

// The standard sets no limit on the number of pages; this one only bounds what a small hostile file can ask for.
constexpr std::size_t kMostPages = 1'000'000;

bool is_branch(QPDFObjectHandle const& node) {
  auto kid = node;
  if (!kid.isDictionary()) return false;
  auto type = kid.getKey("/Type");
  if (type.isName() && type.getName() == "/Page") return false;
  return kid.getKey("/Kids").isArray();
}

}  // namespace

// A catalog's Pages that points at a page or a branch instead of the root has been seen in real files: climb from there.
QPDFObjectHandle PageTree::find_root(QPDF& pdf) {
  auto root = pdf.getRoot().getKey("/Pages");
  std::set<QPDFObjGen> seen;
  while (root.isDictionary() && root.getKey("/Parent").isDictionary() && seen.insert(root.getObjGen()).second)
    root = root.getKey("/Parent");
  if (seen.size() > 0) oddities_.push_back("the catalog does not point at the root of the page tree");
  return root;
}

PageTree::PageTree(QPDF& pdf) {
  auto root = find_root(pdf);
  if (!root.isDictionary()) return;
  auto dictionary = root;
  if (auto count = dictionary.getKey("/Count"); count.isInteger()) stated_ = count.getIntValue();
  if (!is_branch(root)) {
    auto type = dictionary.getKey("/Type");
    if (type.isName() && type.getName() == "/Page") pages_.push_back({root, kNone});
    return;
  }

  struct Step {
    std::int32_t node;
    int next, count;
  };
  std::set<QPDFObjGen> visited;
  std::vector<Step> path;
  auto const enter = [&](QPDFObjectHandle branch, std::int32_t parent) {
    if (branch.isIndirect() && !visited.insert(branch.getObjGen()).second) {
      oddities_.push_back("a branch of the page tree comes up twice, or leads back to itself");
      return;
    }
    nodes_.push_back({branch, parent});
    path.push_back({static_cast<std::int32_t>(nodes_.size()) - 1, 0, branch.getKey("/Kids").getArrayNItems()});
  };
  enter(root, kNone);
  while (!path.empty()) {
    auto& step = path.back();
    if (step.next == step.count || pages_.size() >= kMostPages) {
      path.pop_back();
      continue;
    }
    auto const node = step.node;
    auto kid = nodes_[static_cast<std::size_t>(node)].dictionary.getKey("/Kids").getArrayItem(step.next++);
    if (is_branch(kid)) {
      enter(kid, node);
    } else {
      pages_.push_back({kid, node});
    }
  }
  if (pages_.size() >= kMostPages) oddities_.push_back("the page tree lists more than a million pages; the rest is passed over");
}

std::int32_t PageTree::inherited_from(int number, std::string const& key) const {
  auto const& leaf = pages_.at(index(number));
  auto page = leaf.object;
  if (page.isDictionary() && !page.getKey(key).isNull()) return kNone;
  for (auto node = leaf.node; node != kNone; node = nodes_[static_cast<std::size_t>(node)].parent) {
    auto dictionary = nodes_[static_cast<std::size_t>(node)].dictionary;
    if (!dictionary.getKey(key).isNull()) return node;
  }
  return kNone;
}

QPDFObjectHandle PageTree::inherited(int number, std::string const& key) const {
  auto const node = inherited_from(number, key);
  auto from = node == kNone ? pages_.at(index(number)).object : nodes_[static_cast<std::size_t>(node)].dictionary;
  return from.isDictionary() ? from.getKey(key) : QPDFObjectHandle::newNull();
}

}  // namespace layright
