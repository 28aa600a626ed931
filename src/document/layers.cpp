#include "document/layers.h"

#include <map>
#include <set>

namespace layright {
namespace {

constexpr int kMostLayers = 10'000;  // bounds what a hostile file can cost; our own

template <class Each>
void each_item(QPDFObjectHandle array, Each&& each) {
  if (!array.isArray()) return;
  int const count = std::min(array.getArrayNItems(), kMostLayers);
  for (int i = 0; i < count; ++i) each(array.getArrayItem(i));
}

bool has_name(QPDFObjectHandle array, std::string const& name) {
  bool found = false;
  each_item(array, [&](QPDFObjectHandle item) { found = found || (item.isName() && item.getName() == name); });
  return found;
}

QPDFObjectHandle member(QPDFObjectHandle dictionary, std::string const& key) {
  return dictionary.isDictionary() ? dictionary.getKey(key) : QPDFObjectHandle::newNull();
}

/// The layers that the print event switches by their own print state.
std::set<QPDFObjGen> switched_by_printing(QPDFObjectHandle configuration) {
  std::set<QPDFObjGen> layers;
  each_item(member(configuration, "/AS"), [&](QPDFObjectHandle usage) {
    auto event = member(usage, "/Event");
    if (!event.isName() || event.getName() != "/Print" || !has_name(member(usage, "/Category"), "/Print")) return;
    each_item(member(usage, "/OCGs"), [&](QPDFObjectHandle layer) { layers.insert(layer.getObjGen()); });
  });
  return layers;
}

}  // namespace

std::vector<std::string> layers_not_printing(QPDFObjectHandle catalog) {
  auto properties = catalog.getKey("/OCProperties");
  auto configuration = member(properties, "/D");
  auto base = member(configuration, "/BaseState");
  bool const on_at_first = !(base.isName() && base.getName() == "/OFF");
  std::map<QPDFObjGen, bool> on;
  each_item(member(configuration, "/ON"), [&](QPDFObjectHandle layer) { on[layer.getObjGen()] = true; });
  each_item(member(configuration, "/OFF"), [&](QPDFObjectHandle layer) { on[layer.getObjGen()] = false; });
  auto const switched = switched_by_printing(configuration);

  std::vector<std::string> names;
  std::set<QPDFObjGen> told;
  each_item(member(properties, "/OCGs"), [&](QPDFObjectHandle layer) {
    if (!layer.isDictionary() || !told.insert(layer.getObjGen()).second) return;
    auto const listed = on.find(layer.getObjGen());
    bool prints = listed == on.end() ? on_at_first : listed->second;
    if (switched.count(layer.getObjGen())) {
      auto state = member(member(member(layer, "/Usage"), "/Print"), "/PrintState");
      if (state.isName()) prints = state.getName() != "/OFF";
    }
    if (prints) return;
    auto name = layer.getKey("/Name");
    names.push_back(name.isString() ? name.getUTF8Value() : "(without a name)");
  });
  return names;
}

}  // namespace layright
