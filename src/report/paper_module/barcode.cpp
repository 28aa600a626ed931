#include "report/paper_module/barcode.h"

#include <memory>

#include <zint.h>

#include "report/not_made.h"

namespace layright {

Bars code_128(std::string const& text) {
  std::unique_ptr<zint_symbol, decltype(&ZBarcode_Delete)> const symbol(ZBarcode_Create(), &ZBarcode_Delete);
  if (!symbol) throw std::bad_alloc();
  symbol->symbology = BARCODE_CODE128;
  symbol->scale = 0.5F;  // one unit of its drawing is one module
  symbol->show_hrt = 0;
  auto const* const bytes = reinterpret_cast<unsigned char const*>(text.data());
  if (ZBarcode_Encode_and_Buffer_Vector(symbol.get(), const_cast<unsigned char*>(bytes), static_cast<int>(text.size()), 0) >= ZINT_ERROR ||
      !symbol->vector)
    throw NotMade("the job number cannot be a barcode: " + std::string(symbol->errtxt));
  Bars found;
  for (auto const* r = symbol->vector->rectangles; r; r = r->next) found.bars.push_back({r->x, r->width});
  found.width = symbol->vector->width;
  return found;
}

}  // namespace layright
