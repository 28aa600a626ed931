#include "document/page_tree.h"

namespace layright {
namespace {

// The standard sets no limit on the number of pages; this one only bounds what a small hostile file can ask for.
constexpr std::size_t kMostPages = 1'000'000;

/// Quicker than getKey, which makes a null that tells where it is missing.
bool has(QPDFObjectHandle dictionary, std::string const& key) { return dictionary.isDictionary() && dictionary.hasKey(key); }

bool is_branch(QPDFObjectHandle const& node) {
  auto kid = node;
  if (!kid.isDictionary()) return false;
  if (kid.getKey("/Type").isNameAndEquals("/Page")) return false;
  return kid.getKey("/Kids").isArray();
}

}  // namespace

// A catalog's Pages that points at a page or a branch instead of the root has been seen in real files: climb from there.
QPDFObjectHandle PageTree::find_root() {
  auto root = file_->pdf().getRoot().getKey("/Pages");
  std::set<QPDFObjGen> seen;
  while (root.isDictionary() && root.getKey("/Parent").isDictionary() && seen.insert(root.getObjGen()).second) root = root.getKey("/Parent");
  if (!seen.empty()) oddities_.push_back("the catalog does not point at the root of the page tree");
  return root;
}

PageTree::PageTree(OpenFile& file) : file_(&file) {
  auto root = find_root();
  if (!root.isDictionary()) return;
  if (auto count = root.getKey("/Count"); count.isInteger()) stated_ = count.getIntValue();
  file.expect_pages(stated_);
  if (is_branch(root)) {
    enter(root, kNone);
    root = QPDFObjectHandle::newNull();  // nothing may be held on to while walking
    walk();
  } else if (root.getKey("/Type").isNameAndEquals("/Page")) {
    pages_.push_back({entry_of(root), kNone});
  }
}

PageTree::Entry PageTree::entry_of(QPDFObjectHandle object) {
  if (object.isIndirect()) return {object.getObjGen(), {}};
  file_->pin();
  return {{}, object};
}

QPDFObjectHandle PageTree::object(Entry const& entry) const {
  return entry.id.isIndirect() ? file_->pdf().getObjectByObjGen(entry.id) : entry.direct;
}

void PageTree::enter(QPDFObjectHandle branch, std::int32_t parent) {
  if (branch.isIndirect() && !visited_.insert(branch.getObjGen()).second) {
    oddities_.push_back("a branch of the page tree comes up twice, or leads back to itself");
    return;
  }
  nodes_.push_back({entry_of(branch), parent});
  path_.push_back({static_cast<std::int32_t>(nodes_.size()) - 1, 0, branch.getKey("/Kids").getArrayNItems()});
}

void PageTree::walk() {
  while (!path_.empty()) {
    auto& step = path_.back();
    if (step.next == step.count || pages_.size() >= kMostPages) {
      path_.pop_back();
      continue;
    }
    auto const parent = step.node;
    {
      auto kid = node(parent).getKey("/Kids").getArrayItem(step.next++);
      if (is_branch(kid)) {
        enter(kid, parent);
        continue;
      }
      pages_.push_back({entry_of(kid), parent});
    }
    file_->page_was_read();
  }
  visited_.clear();
  if (pages_.size() >= kMostPages) oddities_.push_back("the page tree lists more than a million pages; the rest is passed over");
}

std::int32_t PageTree::inherited_from(int number, std::string const& key) const {
  auto own = page(number);
  if (has(own, key)) return kNone;
  for (auto at = pages_.at(index(number)).node; at != kNone; at = nodes_[static_cast<std::size_t>(at)].parent)
    if (has(node(at), key)) return at;
  return kNone;
}

QPDFObjectHandle PageTree::inherited(int number, std::string const& key) const {
  auto const from_node = inherited_from(number, key);
  auto from = from_node == kNone ? page(number) : node(from_node);
  return has(from, key) ? from.getKey(key) : QPDFObjectHandle::newNull();
}

}  // namespace layright
