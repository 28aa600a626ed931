// libjpeg over a JPEG in memory. Its errors are jumps: what run() runs has nothing with a destructor in it.
#pragma once
#include <csetjmp>
#include <cstddef>
#include <cstdio>
#include <functional>
#include <span>
// These two want <cstdio> first.
#include <jpeglib.h>

#include <jerror.h>

namespace layright {

class JpegReader {
 public:
  /// `bytes` must outlive it. `warned` hears the code of each warning (jerror.h), at once.
  explicit JpegReader(std::span<std::byte const> bytes, std::function<void(int)> warned = {});
  ~JpegReader() { jpeg_destroy_decompress(&info); }
  JpegReader(JpegReader const&) = delete;
  JpegReader& operator=(JpegReader const&) = delete;

  /// False where the library has given up; what it has read till then is in `info`.
  template <class Work>
  [[gnu::noinline]] bool run(Work const& work) {
    if (!ready_ || setjmp(out_) != 0) return false;
    work();
    return true;
  }
  /// Why it has given up, or what it has said last; and a number of that.
  int code() const { return manager_.msg_code; }
  int number() const { return manager_.msg_parm.i[0]; }
  /// Bytes that have been read.
  std::size_t used() const { return info.src ? size_ - info.src->bytes_in_buffer : 0; }
  /// Memory for one row of what it decodes to; inside run().
  JSAMPARRAY row();

  jpeg_decompress_struct info{};

 private:
  static JpegReader& self(j_common_ptr info) { return *static_cast<JpegReader*>(info->client_data); }

  std::function<void(int)> warned_;
  std::size_t size_;
  jpeg_error_mgr manager_{};
  std::jmp_buf out_{};
  bool ready_ = false;
};

}  // namespace layright
