#include "convert/jpeg_whole.h"

#include <algorithm>

#include "convert/jpeg_reader.h"

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

/// What was passed over, up to where the library reads now.
bool is_padding(jpeg_decompress_struct const& info, int bytes) {
  auto const* const end = info.src->next_input_byte;
  return bytes <= kMostPadding && std::all_of(end - bytes, end, [&](JOCTET b) { return b == end[-bytes]; });
}

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
bool zeros_show(jpeg_decompress_struct const& info, std::size_t& bytes) {
  bytes = kZeroBytes;
  bool report = false;
  if (info.progressive_mode || info.arith_code) return false;
  for (int i = 0; i < info.comps_in_scan; ++i) {
    auto const* const table = info.ac_huff_tbl_ptrs[info.cur_comp_info[i]->ac_tbl_no];
    if (!table || table->huffval[0] == 0) continue;
    std::size_t length = 1;
    while (length < 16 && table->bits[length] == 0) ++length;
    bytes = std::max(bytes, (length + (table->huffval[0] & 15U)) * kZeroCoefficients / 8 + 1);
    report = true;
  }
  return report;
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

}  // namespace

Result<std::optional<std::size_t>> whole_jpeg_length(std::span<std::byte const> bytes, std::function<void(std::size_t)> const& used) {
  bool cut = false, broken = false, too_large = false;
  // Only what loses rows or blocks: a little padding between the parts is harmless and common.
  JpegReader reader(bytes, [&](int code) {
    if (code == JWRN_HIT_MARKER || code == JWRN_JPEG_EOF) cut = true;
    if (code == JWRN_EXTRANEOUS_DATA && !is_padding(reader.info, reader.number())) broken = true;
    if (code == JWRN_HUFF_BAD_CODE || code == JWRN_MUST_RESYNC) broken = true;
  });
  auto& info = reader.info;
  std::size_t data = 0, zeros = 0;  // where its data begins, and how many zeros there are too many
  bool const decoded = reader.run([&] {
    jpeg_read_header(&info, TRUE);
    too_large = jpeg_has_multiple_scans(&info) && kept_bytes(info) > kMostKept;
    if (too_large) return;
    info.scale_num = 1;
    info.scale_denom = DCTSIZE;
    info.out_color_space = info.jpeg_color_space;
    info.do_fancy_upsampling = FALSE;
    info.do_block_smoothing = FALSE;
    jpeg_start_decompress(&info);
    data = reader.used();
    // Of several scans only the first could be looked at: the others have tables of their own.
    if (jpeg_has_multiple_scans(&info) || !zeros_show(info, zeros)) zeros = 0;
    for (auto* const row = reader.row(); info.output_scanline < info.output_height; used(reader.used())) jpeg_read_scanlines(&info, row, 1);
    jpeg_finish_decompress(&info);
  });
  if (too_large || (!decoded && reader.code() == JERR_OUT_OF_MEMORY)) return std::optional<std::size_t>();
  if (cut) return cut_short();
  if (broken || (decoded && zeros > 0 && has_zeros(bytes.subspan(data, reader.used() - data), zeros)))
    return broken_picture("parts of the picture cannot be read");
  if (!decoded) return broken_picture("no reader of pictures can show it");
  return std::optional(reader.used());
}

}  // namespace layright
