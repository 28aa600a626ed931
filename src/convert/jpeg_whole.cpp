#include "convert/jpeg_whole.h"

#include <algorithm>
#include <csetjmp>
#include <cstdio>
// These two want <cstdio> first.
#include <jpeglib.h>

#include <jerror.h>

namespace layright {
namespace {

// A progressive picture is kept whole until its last scan, two bytes a sample.
constexpr double kMostKept = 256e6;
// Bytes between the picture's last row and the next part. A few that are all alike are padding; others are rows that nobody would see. Our own.
constexpr int kMostPadding = 64;
// So many zeros in a row are no picture where zeros stand for anything but "the rest of the block is empty": at least as many coefficients of one
// and the same value, one after another. Our own.
constexpr std::size_t kZeroBytes = 16;
constexpr int kZeroCoefficients = 20;

/// libjpeg's way out of an error, and what it warned of.
struct Watch {
  jpeg_error_mgr manager{};
  std::jmp_buf out{};
  bool cut = false, broken = false;
};

Watch& watch_of(j_common_ptr info) { return *static_cast<Watch*>(info->client_data); }

[[noreturn]] void leave(j_common_ptr info) { std::longjmp(watch_of(info).out, 1); }

/// What was passed over, up to where the library reads now.
bool is_padding(jpeg_decompress_struct const& info, int bytes) {
  auto const* const end = info.src->next_input_byte;
  return bytes <= kMostPadding && std::all_of(end - bytes, end, [&](JOCTET b) { return b == end[-bytes]; });
}

/// Only what loses rows or blocks: a little padding between the parts is harmless and common.
void warn(j_common_ptr info, int level) {
  if (level >= 0) return;
  int const code = info->err->msg_code;
  if (code == JWRN_HIT_MARKER || code == JWRN_JPEG_EOF) watch_of(info).cut = true;
  if (code == JWRN_EXTRANEOUS_DATA && info->is_decompressor &&
      !is_padding(*reinterpret_cast<jpeg_decompress_struct*>(info), info->err->msg_parm.i[0]))
    watch_of(info).broken = true;
  if (code == JWRN_HUFF_BAD_CODE || code == JWRN_MUST_RESYNC) watch_of(info).broken = true;
}

void say_nothing(j_common_ptr) {}

double kept_bytes(jpeg_decompress_struct const& info) {
  double samples = 0;
  for (int i = 0; i < info.num_components; ++i) {
    auto const& c = info.comp_info[i];
    samples += static_cast<double>(c.width_in_blocks) * static_cast<double>(c.height_in_blocks) * DCTSIZE2;
  }
  return samples * sizeof(JCOEF);
}

/// Whether a run of zero bits in this scan is nothing that a picture has: in a sequential one, where some component's shortest code (the one of
/// zeros alone) does not end its blocks (T.81, F.1.2.2 and Annex C). `bytes`: how many of them are too many.
bool zeros_tell(jpeg_decompress_struct const& info, std::size_t& bytes) {
  bytes = kZeroBytes;
  bool tell = false;
  if (info.progressive_mode || info.arith_code) return false;
  for (int i = 0; i < info.comps_in_scan; ++i) {
    auto const* const table = info.ac_huff_tbl_ptrs[info.cur_comp_info[i]->ac_tbl_no];
    if (!table || table->huffval[0] == 0) continue;
    std::size_t length = 1;
    while (length < 16 && table->bits[length] == 0) ++length;
    bytes = std::max(bytes, (length + (table->huffval[0] & 15U)) * kZeroCoefficients / 8 + 1);
    tell = true;
  }
  return tell;
}

bool has_zeros(std::span<std::byte const> bytes, std::size_t count) {
  std::size_t run = 0;
  // Looks at every count-th byte first: a run of that many has one of them in it.
  for (std::size_t at = count - 1; at < bytes.size(); at += count) {
    if (bytes[at] != std::byte{0}) continue;
    std::size_t from = at, to = at + 1;
    while (from > 0 && bytes[from - 1] == std::byte{0} && at - from < count) --from;
    while (to < bytes.size() && bytes[to] == std::byte{0} && to - from < count) ++to;
    run = std::max(run, to - from);
    if (run >= count) return true;
  }
  return false;
}

enum class End { whole, too_large, failed };

// Nothing in here may have a destructor: an error jumps over it.
End decode(jpeg_decompress_struct& info, Watch& watch, std::span<std::byte const> bytes, std::function<void(std::size_t)> const& used) {
  if (setjmp(watch.out) != 0) return End::failed;
  jpeg_mem_src(&info, reinterpret_cast<unsigned char const*>(bytes.data()), bytes.size());
  jpeg_read_header(&info, TRUE);
  if (jpeg_has_multiple_scans(&info) && kept_bytes(info) > kMostKept) return End::too_large;
  info.scale_num = 1;
  info.scale_denom = DCTSIZE;
  info.out_color_space = info.jpeg_color_space;
  info.do_fancy_upsampling = FALSE;
  info.do_block_smoothing = FALSE;
  jpeg_start_decompress(&info);
  // Of several scans only the first is looked at: the others have tables of their own.
  std::size_t zeros = 0;
  if (!jpeg_has_multiple_scans(&info) && zeros_tell(info, zeros) && has_zeros(bytes.subspan(bytes.size() - info.src->bytes_in_buffer), zeros))
    watch.broken = true;
  auto* const rows = (*info.mem->alloc_sarray)(reinterpret_cast<j_common_ptr>(&info), JPOOL_IMAGE,
                                               info.output_width * static_cast<JDIMENSION>(info.output_components), 1);
  while (info.output_scanline < info.output_height) {
    jpeg_read_scanlines(&info, rows, 1);
    used(bytes.size() - info.src->bytes_in_buffer);
  }
  jpeg_finish_decompress(&info);
  return End::whole;
}

}  // namespace

Result<bool> jpeg_is_whole(std::span<std::byte const> bytes, std::function<void(std::size_t)> const& used) {
  Watch watch;
  jpeg_decompress_struct info{};
  info.err = jpeg_std_error(&watch.manager);
  info.client_data = &watch;
  watch.manager.error_exit = leave;
  watch.manager.emit_message = warn;
  watch.manager.output_message = say_nothing;
  jpeg_create_decompress(&info);
  auto const end = decode(info, watch, bytes, used);
  int const code = watch.manager.msg_code;
  jpeg_destroy_decompress(&info);
  if (end == End::too_large || (end == End::failed && code == JERR_OUT_OF_MEMORY)) return false;
  if (watch.cut) return cut_short();
  if (watch.broken) return broken_picture("parts of the picture cannot be read");
  if (end == End::failed) return broken_picture("no reader of pictures can show it");
  return true;
}

}  // namespace layright
