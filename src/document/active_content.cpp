#include "document/active_content.h"

#include <set>

#include "document/annotations.h"

namespace layright {
namespace {

// No shop looks at more; it bounds what a hostile name tree can cost.
constexpr long kMostNames = 10'000;

/// How many names a name tree holds (7.9.6); loops end.
long count_names(QPDFObjectHandle root) {
  long count = 0;
  std::set<QPDFObjGen> seen;
  std::vector<QPDFObjectHandle> waiting{root};
  while (!waiting.empty() && count < kMostNames) {
    auto node = waiting.back();
    waiting.pop_back();
    if (!node.isDictionary() || (node.isIndirect() && !seen.insert(node.getObjGen()).second)) continue;
    if (auto names = node.getKey("/Names"); names.isArray()) count += names.getArrayNItems() / 2;
    auto kids = node.getKey("/Kids");
    for (int i = 0; kids.isArray() && i < kids.getArrayNItems() && static_cast<long>(waiting.size()) < kMostNames; ++i)
      waiting.push_back(kids.getArrayItem(i));
  }
  return count;
}

std::string action_kind(QPDFObjectHandle action) {
  auto kind = action.isDictionary() ? action.getKey("/S") : QPDFObjectHandle::newNull();
  auto const name = kind.isName() ? kind.getName() : "";
  if (name == "/JavaScript") return "JavaScript on opening";
  if (name == "/Launch") return "a launch action on opening";
  return "an action on opening";
}

}  // namespace

std::vector<std::string> active_content_of(QPDFObjectHandle catalog) {
  std::vector<std::string> found;
  if (auto action = catalog.getKey("/OpenAction"); is_active_action(action)) found.push_back(action_kind(action));
  if (has_active_action(catalog)) found.push_back("actions of the document");
  if (auto names = catalog.getKey("/Names"); names.isDictionary()) {
    if (names.hasKey("/JavaScript")) found.push_back("JavaScript");
    auto files = count_names(names.getKey("/EmbeddedFiles"));
    if (files == 1) found.push_back("1 attachment");
    if (files > 1) found.push_back((files >= kMostNames ? "at least " : "") + std::to_string(files) + " attachments");
  }
  if (auto form = catalog.getKey("/AcroForm"); form.isDictionary() && form.hasKey("/XFA")) found.push_back("an XFA form");
  if (catalog.getKey("/Collection").isDictionary()) found.push_back("a collection of files");
  return found;
}

}  // namespace layright
