#include "convert/jpeg_reader.h"

#include <utility>

namespace layright {

JpegReader::JpegReader(std::span<std::byte const> bytes, std::function<void(int)> warned) : warned_(std::move(warned)), size_(bytes.size()) {
  info.err = jpeg_std_error(&manager_);
  info.client_data = this;
  manager_.error_exit = [](j_common_ptr common) { std::longjmp(self(common).out_, 1); };
  manager_.emit_message = [](j_common_ptr common, int level) {
    auto& reader = self(common);
    if (level < 0 && reader.warned_) reader.warned_(reader.code());
  };
  manager_.output_message = [](j_common_ptr) {};
  if (setjmp(out_) != 0) return;
  jpeg_create_decompress(&info);
  jpeg_mem_src(&info, reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size());
  ready_ = true;
}

JSAMPARRAY JpegReader::row() {
  return (*info.mem->alloc_sarray)(reinterpret_cast<j_common_ptr>(&info), JPOOL_IMAGE,
                                   info.output_width * static_cast<JDIMENSION>(info.output_components), 1);
}

}  // namespace layright
