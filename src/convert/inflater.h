// Unpacks deflated data piece by piece (zlib), with whoever takes it able to say that it is enough.
#pragma once
#include <zlib.h>

#include <algorithm>
#include <cstddef>
#include <limits>
#include <new>
#include <span>
#include <vector>

namespace layright {

class Inflater {
 public:
  /// `window` as zlib's inflateInit2 has it: 15 with a header of zlib, -15 without any, 31 with one of gzip.
  explicit Inflater(int window) : out_(1u << 16) {
    if (inflateInit2(&stream_, window) != Z_OK) throw std::bad_alloc();
  }
  ~Inflater() { inflateEnd(&stream_); }
  Inflater(Inflater const&) = delete;
  Inflater& operator=(Inflater const&) = delete;

  /// The data said itself that it is over.
  bool ended() const { return ended_; }
  /// How much of what was given has been used.
  std::size_t used() const { return used_; }

  /// Gives `take` what comes out of `bytes`; false when they are damaged or `take` has had enough.
  template <class Take>
  bool some(std::span<std::byte const> bytes, Take const& take) {
    while (!bytes.empty() && !ended_) {
      auto const piece = bytes.first(std::min<std::size_t>(bytes.size(), std::numeric_limits<uInt>::max() / 2));
      stream_.next_in = reinterpret_cast<Bytef*>(const_cast<std::byte*>(piece.data()));
      stream_.avail_in = static_cast<uInt>(piece.size());
      do {
        stream_.next_out = reinterpret_cast<Bytef*>(out_.data());
        stream_.avail_out = static_cast<uInt>(out_.size());
        int const status = inflate(&stream_, Z_NO_FLUSH);
        if (status != Z_OK && status != Z_STREAM_END && status != Z_BUF_ERROR) return false;
        ended_ = status == Z_STREAM_END;
        auto const made = out_.size() - stream_.avail_out;
        if (made > 0 && !take(std::span<std::byte const>(out_).first(made))) return false;
        if (made == 0 && stream_.avail_in > 0 && !ended_) return false;
      } while (!ended_ && (stream_.avail_in > 0 || stream_.avail_out == 0));
      used_ += piece.size() - stream_.avail_in;
      bytes = bytes.subspan(piece.size());
    }
    return true;
  }
  /// All of it at once: true when it came to its own end.
  template <class Take>
  bool all(std::span<std::byte const> bytes, Take const& take) {
    return some(bytes, take) && ended_;
  }

 private:
  std::vector<std::byte> out_;
  z_stream stream_{};
  bool ended_ = false;
  std::size_t used_ = 0;
};

}  // namespace layright
