#include "convert/psd.h"

#include <cstring>

#include "convert/inflater.h"
#include "convert/psd_header.h"

namespace layright {
namespace {

constexpr std::size_t kMostUnpacked = 400u << 20;  // of data that can only be unpacked as a whole

/// The merged picture's planes, a row at a time, however they are packed.
class Planes {
 public:
  Planes(Bytes const& in, PsdHeader const& header)
      : in_(in),
        header_(header),
        rows_(static_cast<std::size_t>(header.picture.height)),
        row_bytes_((static_cast<std::size_t>(header.picture.width) * static_cast<std::size_t>(header.depth) + 7) / 8) {}

  Outcome open();
  std::size_t row_bytes() const { return row_bytes_; }
  /// False when the data ends before.
  bool row(int channel, std::size_t y, std::byte* into) const;

 private:
  Outcome open_runs();
  Outcome unpack(bool predicted);
  void undo_prediction();

  Bytes const& in_;
  PsdHeader const& header_;
  std::size_t rows_, row_bytes_;
  int packing_ = 0;
  std::size_t data_ = 0;
  std::vector<std::uint64_t> run_offsets_;  // of each row of each channel, and the end
  std::vector<std::byte> unpacked_;
};

Outcome Planes::open() {
  packing_ = in_.u16(header_.pixels);
  data_ = header_.pixels + 2;
  if (in_.short_of()) return cut_short();
  switch (packing_) {
    case 0: return in_.inside(data_, row_bytes_ * rows_ * static_cast<std::size_t>(header_.channels)) ? done() : cut_short();
    case 1: return open_runs();
    case 2: return unpack(false);
    case 3: return unpack(true);
    default: return broken_picture("its pixels are packed in a way that there is not");
  }
}

Outcome Planes::open_runs() {
  std::size_t const count = rows_ * static_cast<std::size_t>(header_.channels), width = header_.large ? 4 : 2;
  if (!in_.inside(data_, count * width)) return cut_short();
  run_offsets_.reserve(count + 1);
  std::uint64_t at = data_ + count * width;
  for (std::size_t i = 0; i < count; ++i) {
    run_offsets_.push_back(at);
    at += header_.large ? in_.u32(data_ + i * width) : in_.u16(data_ + i * width);
  }
  run_offsets_.push_back(at);
  return in_.inside(0, at) ? done() : cut_short();
}

Outcome Planes::unpack(bool predicted) {
  std::size_t const wanted = row_bytes_ * rows_ * static_cast<std::size_t>(header_.channels);
  if (wanted > kMostUnpacked)
    return Error{ErrorKind::hold, "its merged picture is packed in one piece that is too large to unpack; ask for it saved as TIFF"};
  Inflater inflater(15);
  bool const good = inflater.some(in_.part(data_, in_.size() - data_), [&](std::span<std::byte const> out) {
    unpacked_.insert(unpacked_.end(), out.begin(), out.end());
    return unpacked_.size() <= wanted;
  });
  if (unpacked_.size() < wanted) return good ? cut_short() : broken_picture("its pixels cannot be unpacked");
  if (predicted) undo_prediction();
  return done();
}

/// Each sample is stored as its difference to the one on its left.
void Planes::undo_prediction() {
  auto* p = reinterpret_cast<unsigned char*>(unpacked_.data());
  for (std::size_t row = 0; row < rows_ * static_cast<std::size_t>(header_.channels); ++row, p += row_bytes_) {
    if (header_.depth == 8)
      for (std::size_t x = 1; x < row_bytes_; ++x) p[x] = static_cast<unsigned char>(p[x] + p[x - 1]);
    if (header_.depth != 16) continue;
    for (std::size_t x = 2; x + 1 < row_bytes_; x += 2) {
      unsigned const sum = (p[x] * 256u + p[x + 1]) + (p[x - 2] * 256u + p[x - 1]);
      p[x] = static_cast<unsigned char>(sum >> 8);
      p[x + 1] = static_cast<unsigned char>(sum);
    }
  }
}

/// PackBits (TIFF 6.0, section 9).
bool unpack_bits(std::span<std::byte const> runs, std::byte* into, std::size_t wanted) {
  std::size_t at = 0, made = 0;
  while (at < runs.size() && made < wanted) {
    int const byte = std::to_integer<int>(runs[at++]), n = byte < 128 ? byte : byte - 256;
    if (n == -128) continue;
    std::size_t const length = static_cast<std::size_t>(n >= 0 ? n + 1 : 1 - n);
    if (made + length > wanted) return false;
    if (n >= 0) {
      if (length > runs.size() - at) return false;
      std::memcpy(into + made, runs.data() + at, length);
      at += length;
    } else {
      if (at >= runs.size()) return false;
      std::memset(into + made, static_cast<int>(runs[at++]), length);
    }
    made += length;
  }
  return made == wanted;
}

bool Planes::row(int channel, std::size_t y, std::byte* into) const {
  std::size_t const index = static_cast<std::size_t>(channel) * rows_ + y;
  if (packing_ == 1) {
    auto const from = run_offsets_[index];
    return unpack_bits(in_.part(from, run_offsets_[index + 1] - from), into, row_bytes_);
  }
  if (packing_ > 1) {
    std::memcpy(into, unpacked_.data() + index * row_bytes_, row_bytes_);
    return true;
  }
  auto const part = in_.part(data_ + index * row_bytes_, row_bytes_);
  if (part.size() != row_bytes_) return false;
  std::memcpy(into, part.data(), row_bytes_);
  return true;
}

/// Which channels make the picture, and what they are.
struct Chosen {
  std::vector<int> colours;
  int alpha = -1;
};

Chosen choose(PsdHeader const& header, Picture& picture, PictureSink& sink) {
  Chosen chosen;
  int const colours = colour_channels(header.mode);
  for (int i = 0; i < colours; ++i) chosen.colours.push_back(i);
  if (header.transparent) chosen.alpha = colours;
  picture.bits = header.depth;
  picture.alpha_bits = chosen.alpha >= 0 ? header.depth : 0;
  switch (header.mode) {
    case PsdMode::bitmap: picture.colour = PictureColour::grey, picture.inverted = true; break;
    case PsdMode::grey:
    case PsdMode::duotone: picture.colour = PictureColour::grey; break;
    case PsdMode::indexed:
    case PsdMode::rgb: picture.colour = PictureColour::rgb; break;
    case PsdMode::cmyk: picture.colour = PictureColour::cmyk, picture.inverted = true; break;
    case PsdMode::lab: picture.colour = PictureColour::lab; break;
    case PsdMode::multichannel: picture.colour = PictureColour::inks; break;
  }
  if (header.mode == PsdMode::duotone)
    sink.remark(
        ConversionNote::Kind::left_out,
        "it is a duotone: only its gray picture could be taken, not the inks that it is to be printed in; ask for it as CMYK or with spot channels");
  std::vector<NamedInk> spots;
  std::string others;
  for (std::size_t i = 0; i < header.extras.size(); ++i) {
    int const channel = colours + static_cast<int>(i);
    if (channel == chosen.alpha) continue;
    if (header.extras[i].spot) spots.push_back(header.extras[i].ink), chosen.colours.push_back(channel);
    else others += (others.empty() ? "" : ", ") + header.extras[i].name;
  }
  if (!others.empty()) sink.remark(ConversionNote::Kind::reported, "it has channels that are kept selections and do not print: " + others);
  if (spots.empty()) return chosen;
  std::string names;
  for (auto const& s : spots) names += (names.empty() ? "" : ", ") + s.name;
  if (header.mode != PsdMode::cmyk && header.mode != PsdMode::grey && header.mode != PsdMode::multichannel) {
    sink.remark(ConversionNote::Kind::left_out,
                "its spot channels (" + names +
                    ") stand beside colors that are no inks, so they could not be taken; ask for the picture as CMYK with its spot channels");
    chosen.colours.resize(static_cast<std::size_t>(colours));
    return chosen;
  }
  sink.remark(ConversionNote::Kind::reported, "its spot channels are kept as separations: " + names);
  if (header.mode == PsdMode::cmyk) picture.inks = {{"Cyan", 1, 0, 0, 0}, {"Magenta", 0, 1, 0, 0}, {"Yellow", 0, 0, 1, 0}, {"Black", 0, 0, 0, 1}};
  if (header.mode == PsdMode::grey) picture.inks = {{"Black", 0, 0, 0, 1}};
  picture.inks.insert(picture.inks.end(), spots.begin(), spots.end());
  picture.colour = PictureColour::inks;
  picture.inverted = true;
  return chosen;
}

}  // namespace

Outcome read_psd(std::span<std::byte const> bytes, PictureSink& sink) {
  Bytes const in(bytes);
  auto const header = read_psd_header(in);
  if (!header) return header.error();
  if (!header->merged)
    return not_taken("it was saved without its merged picture, so only the program that made it can show it",
                     "ask the customer to save it again so that other programs can read it (with the full, merged picture in it), or as TIFF or PNG");
  Picture picture = header->picture;
  auto const chosen = choose(*header, picture, sink);
  if (auto const begun = sink.begin(picture); !begun) return begun;
  Planes planes(in, *header);
  if (auto const opened = planes.open(); !opened) return opened;
  std::size_t const sample = header->depth == 16 ? 2 : 1, samples = chosen.colours.size();
  std::vector<std::byte> plane(planes.row_bytes()), row(planes.row_bytes() * samples), alpha(chosen.alpha >= 0 ? planes.row_bytes() : 0);
  for (std::size_t y = 0; y < static_cast<std::size_t>(picture.height); ++y) {
    for (std::size_t c = 0; c < samples; ++c) {
      if (!planes.row(chosen.colours[c], y, plane.data())) return broken_picture("its row " + std::to_string(y + 1) + " cannot be unpacked");
      if (samples == 1) std::memcpy(row.data(), plane.data(), plane.size());
      else
        for (std::size_t x = 0, to = c * sample; x < plane.size(); x += sample, to += samples * sample)
          std::memcpy(row.data() + to, plane.data() + x, sample);
    }
    if (chosen.alpha >= 0 && !planes.row(chosen.alpha, y, alpha.data())) return broken_picture("its opacity cannot be unpacked");
    sink.row(row.data(), alpha.data());
  }
  return sink.end();
}

}  // namespace layright
