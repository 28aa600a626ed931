#include "convert/frame_pages.h"

#include <unistd.h>

#include <cerrno>
#include <cmath>
#include <cstring>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include "convert/pages_out.h"

namespace layright {
namespace {

bool is_placeholder(QPDFObjectHandle media, SeenSize placeholder) {
  if (!media.isArray() || media.getArrayNItems() != 4) return false;
  double const w = media.getArrayItem(2).getNumericValue(), h = media.getArrayItem(3).getNumericValue();
  return std::abs(w - placeholder.width) < 1 && std::abs(h - placeholder.height) < 1;
}

}  // namespace

Outcome frame_pages(std::span<std::byte const> bytes, SeenSize placeholder, std::function<std::optional<Rect<PageSpace>>(int)> const& box,
                    int descriptor) {
  try {
    QPDF pdf;
    pdf.setSuppressWarnings(true);
    pdf.processMemoryFile("pages", reinterpret_cast<char const*>(bytes.data()), bytes.size());
    int number = 0;
    for (auto& page : QPDFPageDocumentHelper(pdf).getAllPages()) {
      ++number;
      if (!is_placeholder(page.getAttribute("/MediaBox", true), placeholder)) continue;
      auto const wanted = box(number);
      if (!wanted) continue;
      auto object = page.getObjectHandle();
      object.replaceKey("/MediaBox", QPDFObjectHandle::newArray(QPDFObjectHandle::Rectangle(wanted->x0, wanted->y0, wanted->x1, wanted->y1)));
      object.removeKey("/CropBox");
    }
    std::function<void()> const nobody_waits;
    PagesOut out(descriptor, nobody_waits);
    QPDFWriter writer(pdf);
    writer.setOutputPipeline(&out);
    writer.setStreamDataMode(qpdf_s_preserve);
    writer.write();
    if (out.error() != 0) return Error{ErrorKind::io, std::string("the page made from it cannot be kept: ") + std::strerror(out.error())};
    return std::monostate{};
  } catch (std::exception const&) {
    return Error{ErrorKind::data, "the pages that were drawn from it cannot be read, or are too many; ask for a simpler file, or for PDF"};
  }
}

}  // namespace layright
