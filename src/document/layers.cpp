#include "document/layers.h"

#include <set>

namespace layright {

QPDFObjectHandle LayerObjects::get(QPDFObjectHandle dictionary, char const* key) const {
  return dictionary.isDictionary() ? dictionary.getKey(std::string("/") + key) : QPDFObjectHandle::newNull();
}

std::vector<std::string> layers_not_printing(QPDFObjectHandle catalog) {
  LayerObjects const objects;
  auto const states = LayerRules(objects).states(catalog);
  std::vector<std::string> names;
  std::set<int> reported;
  auto all = objects.get(objects.get(catalog, "OCProperties"), "OCGs");
  int const count = std::min(objects.size(all), kMostLayers);
  for (int i = 0; i < count; ++i) {
    auto const at = states.find(objects.number(all.getArrayItem(i)));
    if (at == states.end() || at->second.prints || !at->second.counts || !reported.insert(at->first).second) continue;
    names.push_back(at->second.name.empty() ? "(without a name)" : at->second.name);
  }
  return names;
}

}  // namespace layright
