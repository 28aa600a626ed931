// Layers (optional content, ISO 32000-1, 8.11) in their print state.
#pragma once
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

#include "document/layer_rules.h"

namespace layright {

/// How the rules ask the PDF library's objects.
struct LayerObjects {
  using Object = QPDFObjectHandle;
  Object get(Object dictionary, char const* key) const;
  bool is_dictionary(Object object) const { return object.isDictionary(); }
  bool is_array(Object object) const { return object.isArray(); }
  int size(Object array) const { return array.isArray() ? array.getArrayNItems() : 0; }
  Object at(Object array, int i) const { return array.getArrayItem(i); }
  std::string name(Object object) const { return object.isName() ? object.getName().substr(1) : std::string(); }
  std::string text(Object object) const { return object.isString() ? object.getUTF8Value() : std::string(); }
  int number(Object object) const { return object.isIndirect() ? object.getObjGen().getObj() : 0; }
};

/// Names of the layers that do not print, in the file's order.
std::vector<std::string> layers_not_printing(QPDFObjectHandle catalog);

}  // namespace layright
