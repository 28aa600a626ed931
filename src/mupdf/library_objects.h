// The library's objects, asked without its errors: what they do not know is null, empty or 0.
#pragma once
#include <string>

#include "mupdf/library.h"

namespace layright {

/// Plain calls that may jump out, so nothing in `call` has a destructor.
template <class Value, class Call>
Value tried(fz_context* ctx, Value fallback, Call&& call) {
  Value volatile result = fallback;
  fz_try(ctx) result = call();
  fz_catch(ctx) result = fallback;
  return result;
}

/// How the rules ask the library's objects.
struct LibraryLayerObjects {
  using Object = pdf_obj*;
  fz_context* ctx = nullptr;
  pdf_obj* get(pdf_obj* dictionary, char const* key) const;
  bool is_dictionary(pdf_obj* object) const;
  bool is_array(pdf_obj* object) const;
  int size(pdf_obj* array) const;
  pdf_obj* at(pdf_obj* array, int i) const;
  std::string name(pdf_obj* object) const;
  std::string text(pdf_obj* object) const;
  int number(pdf_obj* object) const;
};

}  // namespace layright
