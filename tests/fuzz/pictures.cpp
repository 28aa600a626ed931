// Readers of our own of what customers send: markers of JPEG, chunks of PNG, layered pictures, Exif, comments of PostScript, SVG. Nothing but
// an Error may come out, and no more rows than were promised.
#include <algorithm>
#include <cstdint>

#include "convert/bytes.h"
#include "convert/dsc.h"
#include "convert/exif.h"
#include "convert/jpeg.h"
#include "convert/png.h"
#include "convert/psd.h"
#include "convert/svg_source.h"
#include "fuzz/require.h"

using namespace layright;
using test::require;

namespace {

class Counting : public PictureSink {
 public:
  Outcome begin(Picture picture) override {
    require(picture.width > 0 && picture.height > 0 && picture.samples() > 0, "a picture has pixels");
    if (static_cast<double>(picture.width) * static_cast<double>(picture.height) > 1e6) return Error{ErrorKind::hold, "large"};
    picture_ = std::move(picture);
    rows_ = 0;
    return done();
  }
  void row(std::byte const* colour, std::byte const* alpha) override {
    ++rows_;
    sum_ += static_cast<unsigned>(colour[0]) + static_cast<unsigned>(colour[picture_.row_bytes() - 1]);
    if (picture_.alpha_bits) sum_ += static_cast<unsigned>(alpha[0]) + static_cast<unsigned>(alpha[picture_.alpha_row_bytes() - 1]);
  }
  void encoded(std::string_view) override { encoded_ = true; }
  void data(std::span<std::byte const>) override {}
  Outcome end() override {
    require(encoded_ || rows_ == picture_.height, "as many rows as it has");
    return done();
  }
  void remark(ConversionNote::Kind, std::string text) override { require(!text.empty(), "a remark has words"); }

 private:
  Picture picture_;
  long rows_ = 0;
  unsigned sum_ = 0;
  bool encoded_ = false;
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  auto const bytes = std::as_bytes(std::span(data, size));
  Counting sink;
  auto const reported = [](Outcome const& o) { require(o || !o.error().message.empty(), "an error has words"); };
  auto const is = recognise(bytes);
  require(is.format != Format::refused || (!is.what.empty() && !is.ask.empty()), "a refusal has words");
  misleading_ending(text_of(bytes.first(std::min<std::size_t>(size, 40))), is.format);
  switch (is.format) {
    case Format::jpeg: reported(read_jpeg(bytes, sink)); break;
    case Format::png: reported(read_png(bytes, sink, nullptr)); break;
    case Format::psd: reported(read_psd(bytes, sink)); break;
    case Format::eps:
    case Format::postscript:
      if (auto const facts = read_dsc(bytes)) require(facts->from <= size && facts->length <= size - facts->from, "PostScript lies inside");
      break;
    case Format::svg: (void)read_svg_source(bytes, 1 << 20); break;
    default: read_exif(bytes); break;
  }
  return 0;
}
