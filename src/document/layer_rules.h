// Which layers print (optional content, ISO 32000-1, 8.11), for the objects of any library that reads PDF: one set of rules for what a page
// shows, what its laid page says, and what is reported.
//
// `Objects` says how one library's objects are asked; all of its functions take anything and never throw:
//   Object get(Object dictionary, char const* key); bool is_dictionary(Object); bool is_array(Object); int size(Object array);
//   Object at(Object array, int i); std::string name(Object)  (without its slash, empty where it is none); std::string text(Object string);
//   int number(Object)  (of an indirect object, else 0)
#pragma once
#include <algorithm>
#include <map>
#include <string>
#include <utility>

namespace layright {

/// How a reader goes by layers.
enum class LayerRule {
  standard,  // as ISO 32000-1 says for printing
  plain,     // no print event, no intents, no expressions: what many readers do
  by_usage,  // a layer's own print state counts, whether or not an AS entry names it
};

struct LayerState {
  std::string name;
  bool prints = true;  // 8.11.4.3, then the print event (8.11.4.4)
  bool by_default = true;
  bool by_usage = true;
  bool counts = true;  // it is listed, and its intent is the configuration's (8.11.2.3)
};
/// By the number of the layer's object.
using LayerStates = std::map<int, LayerState>;

inline constexpr int kMostLayers = 10'000;  // bounds what a hostile file can cost; our own
inline constexpr int kMostLayerDepth = 32;  // of expressions in each other; our own

template <class Objects>
class LayerRules {
 public:
  using Object = typename Objects::Object;
  explicit LayerRules(Objects objects) : o_(objects) {}

  /// Of all layers that the file lists (Table 100). Nothing where it has none.
  LayerStates states(Object catalog) const;
  /// Whether what belongs to a layer or a membership (8.11.2.2) shows.
  bool shows(LayerStates const& states, Object owner, LayerRule rule) const { return shown(states, owner, rule, 0); }

 private:
  template <class Each>
  void each_item(Object array, Each&& each) const {
    if (!o_.is_array(array)) return;
    int const count = std::min(o_.size(array), kMostLayers);
    for (int i = 0; i < count; ++i) each(o_.at(array, i));
  }
  bool has_name(Object names, std::string const& name) const;
  void switch_by_events(LayerStates& states, Object configuration) const;
  bool shown(LayerStates const& states, Object owner, LayerRule rule, int depth) const;
  bool expression(LayerStates const& states, Object array, LayerRule rule, int depth) const;
  bool membership(LayerStates const& states, Object owner, LayerRule rule) const;
  static bool state_of(LayerState const& layer, LayerRule rule) {
    return rule == LayerRule::standard ? layer.prints : rule == LayerRule::plain ? layer.by_default : layer.by_usage;
  }

  Objects o_;
};

template <class Objects>
bool LayerRules<Objects>::has_name(Object names, std::string const& name) const {
  if (o_.name(names) == name) return true;
  bool found = false;
  each_item(names, [&](Object item) { found = found || o_.name(item) == name; });
  return found;
}

/// Each usage that the print event asks about must agree: one that says off is enough.
template <class Objects>
void LayerRules<Objects>::switch_by_events(LayerStates& states, Object configuration) const {
  std::map<int, bool> switched;
  each_item(o_.get(configuration, "AS"), [&](Object usage) {
    if (o_.name(o_.get(usage, "Event")) != "Print") return;
    each_item(o_.get(usage, "OCGs"), [&](Object layer) {
      for (auto const* category : {"Print", "View", "Export"}) {
        if (!has_name(o_.get(usage, "Category"), category)) continue;
        auto const state = o_.name(o_.get(o_.get(o_.get(layer, "Usage"), category), (std::string(category) + "State").c_str()));
        if (state != "ON" && state != "OFF") continue;
        auto const at = switched.emplace(o_.number(layer), true).first;
        at->second = at->second && state == "ON";
      }
    });
  });
  for (auto const& [number, on] : switched)
    if (auto const at = states.find(number); at != states.end()) at->second.prints = on;
}

template <class Objects>
LayerStates LayerRules<Objects>::states(Object catalog) const {
  LayerStates states;
  auto const properties = o_.get(catalog, "OCProperties");
  auto const configuration = o_.get(properties, "D");
  auto const intent = o_.get(configuration, "Intent");
  bool const on_at_first = o_.name(o_.get(configuration, "BaseState")) != "OFF";  // Unchanged says nothing of a file that is just opened
  each_item(o_.get(properties, "OCGs"), [&](Object layer) {
    if (!o_.is_dictionary(layer) || o_.number(layer) == 0) return;
    LayerState state;
    state.name = o_.text(o_.get(layer, "Name"));
    state.by_default = on_at_first;
    auto const own = o_.get(layer, "Intent");
    auto const wanted = [&](std::string const& name) { return has_name(intent, name) || has_name(intent, "All"); };
    bool const views = !o_.is_array(intent) && o_.name(intent).empty();  // what is asked for where nothing is said, on both sides
    bool any = false;
    if (o_.is_array(own)) each_item(own, [&](Object item) { any = any || (views ? o_.name(item) == "View" : wanted(o_.name(item))); });
    else if (auto const name = o_.name(own).empty() ? "View" : o_.name(own); views) any = name == "View";
    else any = wanted(name);
    state.counts = any;
    states.emplace(o_.number(layer), std::move(state));
  });
  auto const set = [&](char const* list, bool on) {
    each_item(o_.get(configuration, list), [&](Object layer) {
      if (auto const at = states.find(o_.number(layer)); at != states.end()) at->second.by_default = on;
    });
  };
  set("ON", true);
  set("OFF", false);
  for (auto& [number, state] : states) state.prints = state.by_usage = state.by_default;
  each_item(o_.get(configuration, "OFF"), [&](Object layer) {  // some readers hide one that the file does not list
    if (o_.is_dictionary(layer) && o_.number(layer) != 0)
      states.emplace(o_.number(layer), LayerState{o_.text(o_.get(layer, "Name")), true, false, true, false});
  });
  switch_by_events(states, configuration);
  each_item(o_.get(properties, "OCGs"), [&](Object layer) {
    auto const own = o_.name(o_.get(o_.get(o_.get(layer, "Usage"), "Print"), "PrintState"));
    if (auto const at = states.find(o_.number(layer)); at != states.end() && (own == "ON" || own == "OFF")) at->second.by_usage = own == "ON";
  });
  return states;
}

template <class Objects>
bool LayerRules<Objects>::shown(LayerStates const& states, Object owner, LayerRule rule, int depth) const {
  if (states.empty() || !o_.is_dictionary(owner) || depth > kMostLayerDepth) return true;
  if (auto const at = states.find(o_.number(owner)); at != states.end() && o_.number(owner) != 0)
    return (rule == LayerRule::standard && !at->second.counts) || state_of(at->second, rule);
  if (o_.name(o_.get(owner, "Type")) != "OCMD") return true;  // a layer that the file does not list
  auto const written = o_.get(owner, "VE");
  if (rule != LayerRule::plain && o_.is_array(written)) return expression(states, written, rule, depth + 1);
  return membership(states, owner, rule);
}

template <class Objects>
bool LayerRules<Objects>::expression(LayerStates const& states, Object array, LayerRule rule, int depth) const {
  auto const word = o_.size(array) > 0 ? o_.name(o_.at(array, 0)) : std::string();
  if (depth > kMostLayerDepth || (word != "And" && word != "Or" && word != "Not")) return true;
  int const count = std::min(o_.size(array), kMostLayers);
  bool all = true, any = count < 2;
  for (int i = 1; i < count; ++i) {
    auto const operand = o_.at(array, i);
    bool const on = o_.is_array(operand) ? expression(states, operand, rule, depth + 1) : shown(states, operand, rule, depth + 1);
    if (word == "Not") return !on;
    all = all && on;
    any = any || on;
  }
  return word == "And" ? all : any;
}

/// By P (Table 99). Layers that do not count or are not there have no say; where none has, the membership hides nothing.
template <class Objects>
bool LayerRules<Objects>::membership(LayerStates const& states, Object owner, LayerRule rule) const {
  auto const policy = o_.name(o_.get(owner, "P"));
  bool const off = policy == "AnyOff" || policy == "AllOff";  // what is looked for
  bool all = true, any = false, some = false;
  auto const ask = [&](Object layer) {
    auto const at = states.find(o_.number(layer));
    if (at == states.end() || (rule == LayerRule::standard && !at->second.counts)) return;
    some = true;
    bool const meets = state_of(at->second, rule) != off;
    all = all && meets;
    any = any || meets;
  };
  auto const layers = o_.get(owner, "OCGs");
  if (o_.is_array(layers)) {
    each_item(layers, ask);
    if (rule == LayerRule::plain && o_.size(layers) == 0) return false;  // as readers take it
  } else if (o_.is_dictionary(layers)) {
    ask(layers);
  }
  if (!some) return true;
  return policy == "AllOn" || policy == "AllOff" ? all : any;
}

}  // namespace layright
