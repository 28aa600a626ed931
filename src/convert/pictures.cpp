#include "convert/pictures.h"

#include "base/module.h"
#include "convert/jpeg.h"
#include "convert/png.h"
#include "convert/psd.h"

namespace layright {
namespace {

/// The module of the program that reads it; empty where none is needed.
std::string module_of(Format format) {
  switch (format) {
    case Format::png: return "layright-png";
    case Format::tiff: return "layright-tiff";
    case Format::webp: return "layright-webp";
    case Format::heif:
    case Format::avif: return "layright-heif";
    default: return {};
  }
}

Outcome read(PictureReader const& reader, std::span<std::byte const> bytes, PictureSink& sink) {
  switch (reader.format) {
    case Format::jpeg: return read_jpeg(bytes, sink);
    case Format::png: return read_png(bytes, sink, reader.by_library);
    case Format::psd: return read_psd(bytes, sink);
    default: break;
  }
  if (!reader.by_library) return Error{ErrorKind::internal, reader.trouble};
  return read_by(reader.by_library, bytes, sink);
}

}  // namespace

PictureReader prepare_picture_reader(Format format) {
  PictureReader reader{format, nullptr, {}};
  auto const name = module_of(format);
  if (name.empty()) return reader;
  auto const found = load_from_module(name, "layright_read");
  if (found) reader.by_library = reinterpret_cast<ReadPictures>(*found);
  else reader.trouble = found.error().message;
  return reader;
}

Outcome pictures_to_pdf(PictureReader const& reader, std::span<std::byte const> bytes, PictureOptions const& options, int descriptor,
                        OriginalFile& source, std::function<void()> const& alive) {
  PdfWriter pdf(descriptor);
  PicturePages pages(pdf, source, options, alive);
  if (auto const done = read(reader, bytes, pages); !done) return done;
  if (pdf.pages() == 0) return broken_picture("there is no picture in it");
  return pdf.finish();
}

}  // namespace layright
