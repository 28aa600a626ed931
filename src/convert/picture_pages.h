// Pictures that become pages of a PDF, each of its own size: its pixels by its density, turned as its orientation says.
#pragma once
#include <functional>
#include <memory>
#include <vector>

#include "convert/pdf_writer.h"
#include "convert/picture.h"

namespace layright {

/// What a person or the target has said about pictures.
struct PictureOptions {
  std::optional<double> pixels_per_inch;    // for pictures that state no density, or one that cannot be meant
  double least_ppi = 10, most_ppi = 10000;  // what can be meant
  double most_pixels = 1.5e9;               // a larger picture is refused
};

class PicturePages : public PictureSink {
 public:
  /// `alive` is called every now and then while much is written.
  PicturePages(PdfWriter& pdf, OriginalFile& source, PictureOptions const& options, std::function<void()> alive);
  ~PicturePages() override;
  Outcome begin(Picture picture) override;
  void row(std::byte const* colour, std::byte const* alpha) override;
  void encoded(std::string_view filter) override;
  void data(std::span<std::byte const> bytes) override;
  Outcome end() override;
  void remark(ConversionNote::Kind kind, std::string text) override;

 private:
  class Deflater;
  struct Piece {
    int object = 0;
    long from = 0, to = 0;  // rows
  };
  void begin_piece();
  void end_piece();
  std::string image_entries(long rows) const;
  int colour_space();
  void write_page();

  PdfWriter& pdf_;
  OriginalFile& source_;
  PictureOptions options_;
  std::function<void()> alive_;
  Picture picture_;
  std::vector<Piece> pieces_;
  std::unique_ptr<Deflater> colour_, alpha_;
  std::vector<std::byte> mask_;  // the opacity of this piece, packed
  int space_ = 0, mask_object_ = 0;
  long row_ = 0, rows_a_piece_ = 0;
  bool encoded_ = false;
  std::size_t since_alive_ = 0;
};

/// The page's matrix for what is stored in an orientation, from the unit square, onto a page of `width` x `height` points as it is seen.
std::string orientation_matrix(int orientation, double width, double height);

}  // namespace layright
