#include "document/stream_filters.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace layright {
namespace {

using Object = QPDFObjectHandle;

/// A dictionary that sets something: its type is no parameter.
bool says_something(Object parameters) {
  if (!parameters.isDictionary()) return false;
  auto const keys = parameters.getKeys();
  return std::ranges::any_of(keys, [&](std::string const& key) { return key != "/Type" && !parameters.getKey(key).isNull(); });
}

/// ISO 32000-1, Table 6: these have no parameters, and the library reads none where they have some all the same.
bool takes_none(Object name) {
  if (!name.isName()) return false;
  constexpr std::array<std::string_view, 6> kWithout{"/ASCIIHexDecode", "/AHx", "/ASCII85Decode", "/A85", "/RunLengthDecode", "/RL"};
  return std::ranges::find(kWithout, name.getName()) != kWithout.end();
}

bool is_tidy(Object filter, Object parameters, std::size_t filters, bool any) {
  if (!any) return parameters.isNull();
  if (!filter.isArray()) return parameters.isDictionary();
  return parameters.isArray() && static_cast<std::size_t>(parameters.getArrayNItems()) == filters;
}

}  // namespace

std::vector<std::pair<Object, Object>> filters_of(Object dictionary) {
  std::vector<std::pair<Object, Object>> all;
  auto filter = dictionary.getKey("/Filter"), parameters = dictionary.getKey("/DecodeParms");
  auto const parameters_at = [&](Object name, int i) {
    if (takes_none(name)) return Object::newNull();
    auto one = !parameters.isArray()             ? (i == 0 ? parameters : Object::newNull())
               : i < parameters.getArrayNItems() ? parameters.getArrayItem(i)
                                                 : Object::newNull();
    return says_something(one) ? one : Object::newNull();
  };
  if (filter.isName()) all.emplace_back(filter, parameters_at(filter, 0));
  if (filter.isArray())
    for (int i = 0; i < filter.getArrayNItems(); ++i) all.emplace_back(filter.getArrayItem(i), parameters_at(filter.getArrayItem(i), i));
  return all;
}

void tidy_filters(Object dictionary) {
  bool const has_parameters = dictionary.hasKey("/DecodeParms");
  auto filter = dictionary.getKey("/Filter");
  if (!has_parameters && !filter.isArray()) return;
  auto const all = filters_of(dictionary);
  bool const crypt = std::ranges::any_of(all, [](auto const& one) { return Object(one.first).isNameAndEquals("/Crypt"); });
  bool const any = std::ranges::any_of(all, [](auto const& one) { return !Object(one.second).isNull(); });
  if (crypt && filter.isArray()) {  // the library takes these out of the lists themselves: nobody else may share them
    auto names = Object::newArray(), list = Object::newArray();
    for (auto const& [name, parameters] : all) {
      names.appendItem(name);
      list.appendItem(parameters);
    }
    dictionary.replaceKey("/Filter", names);
    return dictionary.replaceKey("/DecodeParms", list);
  }
  if (is_tidy(filter, dictionary.getKey("/DecodeParms"), all.size(), any)) return;
  if (!any) return dictionary.removeKey("/DecodeParms");
  if (!filter.isArray()) return dictionary.replaceKey("/DecodeParms", all.front().second);
  auto list = Object::newArray();
  for (auto const& one : all) list.appendItem(one.second);
  dictionary.replaceKey("/DecodeParms", list);
}

Object without_crypt(Object dictionary) {
  auto filter = dictionary.getKey("/Filter");
  if (filter.isNull() || !filter.isOrHasName("/Crypt")) return dictionary;
  auto copy = dictionary.shallowCopy();
  if (filter.isName()) {
    copy.removeKey("/Filter");
    copy.removeKey("/DecodeParms");
    return copy;
  }
  auto const all = filters_of(dictionary);
  auto names = Object::newArray(), list = Object::newArray();
  for (auto const& [name, parameters] : all) {
    if (Object(name).isNameAndEquals("/Crypt")) continue;
    names.appendItem(name);
    list.appendItem(parameters);
  }
  copy.replaceKey("/Filter", names);
  copy.replaceKey("/DecodeParms", list);
  return copy;
}

bool is_metadata(Object dictionary) { return dictionary.getKey("/Type").isNameAndEquals("/Metadata"); }

}  // namespace layright
