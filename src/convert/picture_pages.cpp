#include "convert/picture_pages.h"

#include <zlib.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>

#include "convert/bytes.h"

namespace layright {
namespace {

constexpr double kBytesABand = 16e6;  // of samples
constexpr std::size_t kAliveEvery = 32u << 20;
constexpr double kMostPagePoints = 14400;  // ISO 32000-1, Annex C

bool turned(int orientation) { return orientation >= 5; }

bool profile_fits(std::span<std::byte const> icc, PictureColour colour) {
  std::string_view const text(reinterpret_cast<char const*>(icc.data()), icc.size());
  if (text.size() < 128 || text.substr(36, 4) != "acsp") return false;
  auto const space = text.substr(16, 4);
  switch (colour) {
    case PictureColour::grey: return space == "GRAY";
    case PictureColour::rgb: return space == "RGB ";
    case PictureColour::cmyk: return space == "CMYK";
    default: return false;
  }
}

char const* device_space(PictureColour colour) {
  return colour == PictureColour::grey ? "/DeviceGray" : colour == PictureColour::cmyk ? "/DeviceCMYK" : "/DeviceRGB";
}

std::string numbers(std::initializer_list<double> values) {
  std::string out;
  for (double v : values) out += (out.empty() ? "" : " ") + pdf_number(v);
  return out;
}

bool is_process(std::string_view name) { return name == "Cyan" || name == "Magenta" || name == "Yellow" || name == "Black"; }

/// A calculator function that adds up what each ink contributes to C, M, Y and K, at most 1 (ISO 32000-1, 7.10.5). With n tints on the stack
/// it leaves them where they are, computes the four sums above them, and then rolls the tints out.
std::string tint_function(std::vector<NamedInk> const& inks) {
  int const n = static_cast<int>(inks.size());
  std::string code = "{";
  for (int channel = 0; channel < 4; ++channel) {
    code += " 0";
    for (int i = 0; i < n; ++i) {
      auto const& ink = inks[static_cast<std::size_t>(i)];
      double const part = channel == 0 ? ink.cyan : channel == 1 ? ink.magenta : channel == 2 ? ink.yellow : ink.black;
      // Above tint i lie the later tints, the sums so far and this one.
      if (part > 0) code += " " + std::to_string(n - i + channel) + " index " + pdf_number(part) + " mul add";
    }
    code += " dup 1 gt {pop 1} if";
  }
  code += " " + std::to_string(n + 4) + " 4 roll";
  for (int i = 0; i < n; ++i) code += " pop";
  return code + "}";
}

}  // namespace

std::string orientation_matrix(int orientation, double w, double h) {
  switch (orientation) {
    case 2: return numbers({-w, 0, 0, h, w, 0});
    case 3: return numbers({-w, 0, 0, -h, w, h});
    case 4: return numbers({w, 0, 0, -h, 0, h});
    case 5: return numbers({0, -h, -w, 0, w, h});
    case 6: return numbers({0, -h, w, 0, 0, h});
    case 7: return numbers({0, h, w, 0, 0, 0});
    case 8: return numbers({0, h, -w, 0, w, 0});
    default: return numbers({w, 0, 0, h, 0, 0});
  }
}

/// Packs rows: each against the one above it where samples are bytes (ISO 32000-1, 7.4.4.4, PNG's Up), which suits flat art and photographs.
class PicturePages::Deflater {
 public:
  Deflater(std::size_t row_bytes, bool against_above) : against_above_(against_above), above_(row_bytes), line_(row_bytes + 1), out_(1u << 16) {
    // Speed before size: the file is ours and goes on to the press's own packing.
    if (deflateInit(&stream_, 2) != Z_OK) throw std::bad_alloc();
  }
  ~Deflater() { deflateEnd(&stream_); }
  Deflater(Deflater const&) = delete;
  Deflater& operator=(Deflater const&) = delete;

  template <class Take>
  void row(std::byte const* samples, Take const& take) {
    if (!against_above_) return pack(samples, above_.size(), Z_NO_FLUSH, take);
    line_[0] = std::byte{2};
    for (std::size_t i = 0; i < above_.size(); ++i)
      line_[i + 1] = static_cast<std::byte>(static_cast<unsigned>(samples[i]) - static_cast<unsigned>(above_[i]));
    std::memcpy(above_.data(), samples, above_.size());
    pack(line_.data(), line_.size(), Z_NO_FLUSH, take);
  }
  template <class Take>
  void finish(Take const& take) {
    pack(nullptr, 0, Z_FINISH, take);
    deflateReset(&stream_);
    std::ranges::fill(above_, std::byte{0});
  }
  bool against_above() const { return against_above_; }

 private:
  template <class Take>
  void pack(std::byte const* bytes, std::size_t size, int flush, Take const& take) {
    stream_.next_in = reinterpret_cast<Bytef*>(const_cast<std::byte*>(bytes));
    stream_.avail_in = static_cast<uInt>(size);
    do {
      stream_.next_out = reinterpret_cast<Bytef*>(out_.data());
      stream_.avail_out = static_cast<uInt>(out_.size());
      deflate(&stream_, flush);
      take(std::span<std::byte const>(out_).first(out_.size() - stream_.avail_out));
    } while (stream_.avail_out == 0);
  }
  bool against_above_;
  std::vector<std::byte> above_, line_, out_;
  z_stream stream_{};
};

PicturePages::PicturePages(PdfWriter& pdf, OriginalFile& source, PictureOptions const& options, std::function<void()> alive)
    : pdf_(pdf), source_(source), options_(options), alive_(std::move(alive)) {}
PicturePages::~PicturePages() = default;

void PicturePages::remark(ConversionNote::Kind kind, std::string text) {
  bool const said = std::ranges::any_of(source_.remarks, [&](ConversionNote const& r) { return r.text == text; });
  if (!said && source_.remarks.size() < kMostSourcePictures) source_.remarks.push_back({kind, std::move(text)});
}

Outcome PicturePages::begin(Picture picture) {
  if (picture.width <= 0 || picture.height <= 0) return broken_picture("it has no pixels");
  double const pixels = static_cast<double>(picture.width) * static_cast<double>(picture.height);
  if (pixels > options_.most_pixels)
    return Error{ErrorKind::hold, "it has " + std::to_string(picture.width) + " x " + std::to_string(picture.height) + " pixels, more than the " +
                                      std::to_string(static_cast<long long>(options_.most_pixels / 1e6)) +
                                      " million that may be taken in; ask for a smaller one, or raise most-megapixels in layright.toml"};
  picture_ = std::move(picture);
  if (!picture_.icc.empty() &&
      (!picture_.palette.empty() ? !profile_fits(picture_.icc, PictureColour::rgb) : !profile_fits(picture_.icc, picture_.colour))) {
    remark(ConversionNote::Kind::reported, "its color profile is not one for its colors, so it was left out");
    picture_.icc.clear();
  }
  pieces_.clear();
  row_ = 0;
  encoded_ = false;
  double const row_bytes = static_cast<double>(picture_.row_bytes());
  rows_a_piece_ =
      row_bytes * static_cast<double>(picture_.height) > kMostBytesWhole ? std::max(1L, std::lround(kBytesABand / row_bytes)) : picture_.height;
  bool const bytes = picture_.bits >= 8 && picture_.palette.empty();
  colour_ = std::make_unique<Deflater>(picture_.row_bytes(), bytes);
  alpha_ = picture_.alpha_bits ? std::make_unique<Deflater>(picture_.alpha_row_bytes(), picture_.alpha_bits >= 8) : nullptr;
  space_ = colour_space();
  return done();
}

int PicturePages::colour_space() {
  int const base = pdf_.reserve();
  std::string text = device_space(picture_.colour);
  if (!picture_.palette.empty()) text = "/DeviceRGB";
  if (!picture_.icc.empty()) {
    int const profile = pdf_.reserve();
    int const n = picture_.palette.empty() ? picture_.samples() : 3;
    pdf_.whole_stream(profile, "/N " + std::to_string(n) + " /Alternate " + text, picture_.icc);
    text = "[/ICCBased " + std::to_string(profile) + " 0 R]";
  } else if (picture_.colour == PictureColour::lab) {
    // The white point of ICC's profile connection space, D50.
    text = "[/Lab <</WhitePoint [0.9642 1 0.8249] /Range [-128 127 -128 127]>>]";
  } else if (picture_.colour == PictureColour::inks) {
    int const function = pdf_.reserve();
    std::string names, domain;
    for (auto const& ink : picture_.inks) {
      names += pdf_name(ink.name) + " ";
      domain += "0 1 ";
    }
    pdf_.whole_stream(function, "/FunctionType 4 /Domain [" + domain + "] /Range [0 1 0 1 0 1 0 1]", bytes_of(tint_function(picture_.inks)));
    text = "[/DeviceN [" + names + "] /DeviceCMYK " + std::to_string(function) + " 0 R]";
    if (picture_.inks.size() == 1 && !is_process(picture_.inks[0].name))
      text = "[/Separation " + pdf_name(picture_.inks[0].name) + " /DeviceCMYK " + std::to_string(function) + " 0 R]";
  } else if (picture_.gamma && std::abs(*picture_.gamma * 2.2 - 1) > 0.05) {
    // Near 1/2.2 it is what screens expect and what Device colours are taken for.
    std::string const g = pdf_number(1 / *picture_.gamma);
    // The primaries of IEC 61966-2-1, adapted to nothing: their own white, D65.
    if (picture_.colour == PictureColour::grey && picture_.palette.empty()) text = "[/CalGray <</WhitePoint [0.9505 1 1.089] /Gamma " + g + ">>]";
    else
      text = "[/CalRGB <</WhitePoint [0.9505 1 1.089] /Gamma [" + g + " " + g + " " + g +
             "] /Matrix [0.4124 0.2126 0.0193 0.3576 0.7152 0.1192 0.1805 0.0722 0.9505]>>]";
  }
  if (!picture_.palette.empty()) {
    int const table = pdf_.reserve();
    pdf_.whole_stream(table, "", picture_.palette);
    text = "[/Indexed " + text + " " + std::to_string(picture_.palette.size() / 3 - 1) + " " + std::to_string(table) + " 0 R]";
  }
  pdf_.object(base, text);
  return base;
}

std::string PicturePages::image_entries(long rows) const {
  std::string entries = "/Type /XObject /Subtype /Image /Width " + std::to_string(picture_.width) + " /Height " + std::to_string(rows) +
                        " /BitsPerComponent " + std::to_string(picture_.bits) + " /ColorSpace " + std::to_string(space_) + " 0 R";
  if (picture_.inverted) {
    entries += " /Decode [";
    for (int i = 0; i < picture_.samples(); ++i) entries += "1 0 ";
    entries += "]";
  }
  if (picture_.alpha_bits) entries += " /SMask " + std::to_string(mask_object_) + " 0 R";
  return entries;
}

void PicturePages::begin_piece() {
  pieces_.push_back({pdf_.reserve(), row_, std::min(row_ + rows_a_piece_, picture_.height)});
  if (picture_.alpha_bits) mask_object_ = pdf_.reserve();
  mask_.clear();
  auto const& piece = pieces_.back();
  std::string entries = image_entries(piece.to - piece.from) + " /Filter /FlateDecode";
  if (colour_->against_above())
    entries += " /DecodeParms <</Predictor 15 /Colors " + std::to_string(picture_.samples()) + " /BitsPerComponent " + std::to_string(picture_.bits) +
               " /Columns " + std::to_string(picture_.width) + ">>";
  pdf_.begin_stream(piece.object, entries);
}

void PicturePages::row(std::byte const* colour, std::byte const* alpha) {
  if (row_ >= picture_.height) return;
  if (pieces_.empty() || row_ == pieces_.back().to) begin_piece();
  colour_->row(colour, [&](auto bytes) { pdf_.stream(bytes); });
  if (alpha_) alpha_->row(alpha, [&](auto bytes) { mask_.insert(mask_.end(), bytes.begin(), bytes.end()); });
  since_alive_ += picture_.row_bytes() + picture_.alpha_row_bytes();
  if (since_alive_ > kAliveEvery) {
    alive_();
    since_alive_ = 0;
  }
  if (++row_ == pieces_.back().to) end_piece();
}

void PicturePages::end_piece() {
  colour_->finish([&](auto bytes) { pdf_.stream(bytes); });
  pdf_.end_stream();
  if (!alpha_) return;
  alpha_->finish([&](auto bytes) { mask_.insert(mask_.end(), bytes.begin(), bytes.end()); });
  auto const& piece = pieces_.back();
  std::string entries = "/Type /XObject /Subtype /Image /Width " + std::to_string(picture_.width) + " /Height " +
                        std::to_string(piece.to - piece.from) + " /BitsPerComponent " + std::to_string(picture_.alpha_bits) +
                        " /ColorSpace /DeviceGray /Filter /FlateDecode";
  if (alpha_->against_above())
    entries += " /DecodeParms <</Predictor 15 /Colors 1 /BitsPerComponent " + std::to_string(picture_.alpha_bits) + " /Columns " +
               std::to_string(picture_.width) + ">>";
  if (picture_.premultiplied) {
    entries += " /Matte [";
    for (int i = 0; i < picture_.samples(); ++i) entries += "0 ";
    entries += "]";
  }
  pdf_.whole_stream(mask_object_, entries, mask_);
  mask_ = {};
}

void PicturePages::encoded(std::string_view filter) {
  encoded_ = true;
  row_ = picture_.height;
  pieces_ = {{pdf_.reserve(), 0, picture_.height}};
  pdf_.begin_stream(pieces_.back().object, image_entries(picture_.height) + " " + std::string(filter));
}

void PicturePages::data(std::span<std::byte const> bytes) {
  pdf_.stream(bytes);
  since_alive_ += bytes.size();
  if (since_alive_ > kAliveEvery) {
    alive_();
    since_alive_ = 0;
  }
}

Outcome PicturePages::end() {
  if (encoded_) pdf_.end_stream();
  if (row_ < picture_.height) return cut_short();
  write_page();
  colour_.reset();
  alpha_.reset();
  return done();
}

void PicturePages::write_page() {
  int const orientation = picture_.orientation >= 1 && picture_.orientation <= 8 ? picture_.orientation : 1;
  SourcePicture facts{pdf_.pages() + 1, picture_.width, picture_.height, picture_.along, picture_.down, 0, 0, orientation, picture_.alpha_bits > 0};
  double const w = static_cast<double>(picture_.width), h = static_cast<double>(picture_.height);
  auto const meant = [&](double ppi, double pixels) {
    return ppi >= options_.least_ppi && ppi <= options_.most_ppi && pixels / ppi * 72 <= kMostPagePoints;
  };
  if (picture_.shape_only) facts.along = facts.down = 0;
  if (meant(facts.along, w) && meant(facts.down, h)) {
    facts.used_along = facts.along;
    facts.used_down = facts.down;
  } else {
    // 72 to the inch stands for no size at all: a pixel is a point. It keeps the shape of the pixels where that is known.
    double const least = std::max(w, h) * 72 / kMostPagePoints;
    facts.used_along = facts.used_down = std::max(options_.pixels_per_inch.value_or(72), least);
    if (picture_.along > 0 && picture_.down > 0 && picture_.down / picture_.along > 0.1 && picture_.down / picture_.along < 10)
      facts.used_down *= picture_.down / picture_.along;
  }
  if (source_.pictures.size() < kMostSourcePictures) source_.pictures.push_back(facts);
  double page_w = w * 72 / facts.used_along, page_h = h * 72 / facts.used_down;
  if (turned(orientation)) std::swap(page_w, page_h);
  std::string names, content = "q " + orientation_matrix(orientation, page_w, page_h) + " cm\n";
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    auto const& piece = pieces_[i];
    std::string const name = "P" + std::to_string(i);
    names += "/" + name + " " + std::to_string(piece.object) + " 0 R ";
    if (pieces_.size() == 1) content += "/" + name + " Do\n";
    else
      content += "q " + numbers({1, 0, 0, static_cast<double>(piece.to - piece.from) / h, 0, 1 - static_cast<double>(piece.to) / h}) + " cm /" +
                 name + " Do Q\n";
  }
  pdf_.page(page_w, page_h, "<</XObject <<" + names + ">>>>", content + "Q\n");
}

}  // namespace layright
