#include "write/settled_layers.h"

#include <optional>
#include <set>
#include <vector>

#include "document/layers.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

constexpr int kMostNesting = 64;  // of direct objects; our own

class Settling {
 public:
  explicit Settling(QPDF& pdf) : pdf_(pdf), states_(LayerRules(LayerObjects{}).states(pdf.getRoot())) {}

  void run() {
    // Told before anything is changed: a membership may name a layer, and an expression another membership.
    for (auto const& object : pdf_.getAllObjects()) look(object, 0);
    for (auto& [owner, shows] : memberships_) settle(owner, shows);
    for (auto& form : hidden_forms_)
      if (!looks_.contains(form.getObjGen())) form.replaceStreamData("", Object::newNull(), Object::newNull());
    for (auto const& look : looks_) pdf_.getObjectByObjGen(look).getDict().removeKey("/OC");
    write_states();
  }

 private:
  void look(Object object, int depth) {
    if (depth > kMostNesting) return;
    if (object.isArray()) {
      for (auto const& item : object.getArrayAsVector())
        if (!item.isIndirect()) look(item, depth + 1);
      return;
    }
    auto dictionary = object.isStream() ? object.getDict() : object;
    if (!dictionary.isDictionary()) return;
    if (dictionary.getKey("/Type").isNameAndEquals("/OCMD")) memberships_.emplace_back(dictionary, shows(dictionary));
    if (object.isStream() && dictionary.getKey("/Subtype").isNameAndEquals("/Form") && !shows(dictionary.getKey("/OC")))
      hidden_forms_.push_back(object);
    if (auto normal = LayerObjects{}.get(dictionary.getKey("/AP"), "N"); normal.isStream()) looks_.insert(normal.getObjGen());
    else if (normal.isDictionary())
      for (auto& [state, value] : normal.getDictAsMap())
        if (value.isStream()) looks_.insert(value.getObjGen());
    for (auto& [key, value] : dictionary.getDictAsMap())
      if (!value.isIndirect()) look(value, depth + 1);
  }

  bool shows(Object owner) const { return LayerRules(LayerObjects{}).shows(states_, owner, LayerRule::standard); }

  static bool prints(LayerState const& layer) { return layer.prints || !layer.counts; }

  Object layer_that(bool on) {
    for (auto const& [number, state] : states_)
      if (prints(state) == on) return pdf_.getObjectByID(number, 0).isDictionary() ? pdf_.getObjectByID(number, 0) : Object::newNull();
    return Object::newNull();
  }

  /// A layer of our own where the file has none that is on, or off.
  Object layer_for(bool on) {
    auto& layer = on ? shown_ : hidden_;
    if (layer) return *layer;
    layer = layer_that(on);
    if (layer->isNull()) {
      layer = pdf_.makeIndirectObject(Object::newDictionary());
      layer->replaceKey("/Type", Object::newName("/OCG"));
      layer->replaceKey("/Name", Object::newUnicodeString(on ? "prints" : "does not print"));
      (on ? on_ : off_).appendItem(*layer);
      auto all = pdf_.getRoot().getKey("/OCProperties").getKey("/OCGs");
      if (all.isArray()) all.appendItem(*layer);
    }
    return *layer;
  }

  void settle(Object owner, bool shows) {
    owner.removeKey("/VE");
    owner.replaceKey("/P", Object::newName("/AnyOn"));
    owner.replaceKey("/OCGs", layer_for(shows));
  }

  void write_states() {
    auto properties = pdf_.getRoot().getKey("/OCProperties");
    LayerObjects const objects;
    auto all = properties.getKey("/OCGs");
    for (int i = 0, n = std::min(objects.size(all), kMostLayers); i < n; ++i) {
      auto layer = all.getArrayItem(i);
      auto const at = states_.find(objects.number(layer));
      if (at == states_.end() || !layer.isDictionary()) continue;
      (prints(at->second) ? on_ : off_).appendItem(layer);
      layer.removeKey("/Usage");
      layer.removeKey("/Intent");
    }
    auto configuration = properties.getKey("/D");
    if (!configuration.isDictionary()) {
      configuration = Object::newDictionary();
      properties.replaceKey("/D", configuration);
    }
    configuration.replaceKey("/BaseState", Object::newName("/ON"));
    configuration.replaceKey("/ON", on_);
    configuration.replaceKey("/OFF", off_);
    for (auto const* key : {"/AS", "/Intent"}) configuration.removeKey(key);
    properties.removeKey("/Configs");
  }

  QPDF& pdf_;
  LayerStates states_;
  std::vector<std::pair<Object, bool>> memberships_;
  std::vector<Object> hidden_forms_;
  std::set<QPDFObjGen> looks_;  // of annotations: readers go by the annotation's layer, not by the form's
  std::optional<Object> shown_, hidden_;
  Object on_ = Object::newArray(), off_ = Object::newArray();
};

}  // namespace

void settle_layers(QPDF& pdf) {
  if (!pdf.getRoot().getKey("/OCProperties").isDictionary()) return;
  Settling(pdf).run();
}

}  // namespace layright
