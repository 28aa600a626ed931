#include "write/page_resources.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

bool lacks_resources(Object part) {
  auto dictionary = part.isStream() ? part.getDict() : part;
  return dictionary.isDictionary() && !dictionary.getKey("/Resources").isDictionary();
}

template <class IsMeant>
bool any_lacks(Object source, char const* category, IsMeant&& is_meant) {
  auto parts = source.getKey(category);
  if (!parts.isDictionary()) return false;
  for (auto [name, part] : parts.getDictAsMap())
    if (is_meant(part) && lacks_resources(part)) return true;
  return false;
}

bool leans_on_the_page(Object source) {
  return any_lacks(source, "/XObject", [](Object part) { return part.isStream() && part.getDict().getKey("/Subtype").isNameAndEquals("/Form"); }) ||
         any_lacks(source, "/Font", [](Object part) { return part.isDictionary() && part.getKey("/Subtype").isNameAndEquals("/Type3"); }) ||
         any_lacks(source, "/Pattern", [](Object part) { return part.isStream(); });
}

}  // namespace

Object laid_resources(Object source) {
  auto resources = leans_on_the_page(source) ? source.shallowCopy() : Object::newDictionary();
  auto forms = resources.getKey("/XObject");
  resources.replaceKey("/XObject", forms.isDictionary() ? forms.shallowCopy() : Object::newDictionary());
  if (auto layers = resources.getKey("/Properties"); layers.isDictionary()) resources.replaceKey("/Properties", layers.shallowCopy());
  return resources;
}

std::string name_source(Object resources, Object form) {
  auto forms = resources.getKey("/XObject");
  std::string name = "/Source";
  while (forms.hasKey(name)) name += "-";
  forms.replaceKey(name, form);
  return name;
}

}  // namespace layright
