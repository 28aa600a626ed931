#include "report/job_sheet_module/script_runs.h"

#include <hb.h>

namespace layright {

std::vector<std::uint32_t> code_points(std::string_view text) {
  std::vector<std::uint32_t> result;
  // HarfBuzz reads UTF-8 and puts U+FFFD for what is none (RFC 3629).
  hb_buffer_t* buffer = hb_buffer_create();
  hb_buffer_set_replacement_codepoint(buffer, 0xFFFD);
  hb_buffer_add_utf8(buffer, text.data(), static_cast<int>(text.size()), 0, static_cast<int>(text.size()));
  unsigned count = 0;
  hb_glyph_info_t const* info = hb_buffer_get_glyph_infos(buffer, &count);
  for (unsigned i = 0; i < count; ++i) result.push_back(info[i].codepoint);
  hb_buffer_destroy(buffer);
  return result;
}

std::string utf8(std::uint32_t c) {
  std::string out;
  auto const put = [&](std::uint32_t byte) { out += static_cast<char>(byte); };
  if (c < 0x80) {
    put(c);
  } else if (c < 0x800) {
    put(0xC0 | (c >> 6)), put(0x80 | (c & 63));
  } else if (c < 0x10000) {
    put(0xE0 | (c >> 12)), put(0x80 | ((c >> 6) & 63)), put(0x80 | (c & 63));
  } else {
    put(0xF0 | (c >> 18)), put(0x80 | ((c >> 12) & 63)), put(0x80 | ((c >> 6) & 63)), put(0x80 | (c & 63));
  }
  return out;
}

bool is_plain_script(std::uint32_t code_point) {
  // The embedded font is written two bytes a character.
  if (code_point > 0xFFFF) return false;
  switch (hb_unicode_script(hb_unicode_funcs_get_default(), code_point)) {
    case HB_SCRIPT_LATIN:
    case HB_SCRIPT_GREEK:
    case HB_SCRIPT_CYRILLIC:
    case HB_SCRIPT_COMMON:
    case HB_SCRIPT_INHERITED: return true;
    default: return false;
  }
}

std::uint32_t script_of(std::uint32_t code_point) {
  auto const script = hb_unicode_script(hb_unicode_funcs_get_default(), code_point);
  return script == HB_SCRIPT_INHERITED ? 0 : static_cast<std::uint32_t>(script);
}

std::string in_code_points(std::string_view text) {
  std::string out;
  for (std::uint32_t c : code_points(text)) {
    static constexpr char kHex[] = "0123456789ABCDEF";
    out += out.empty() ? "U+" : " U+";
    for (int shift = c > 0xFFFF ? 20 : 12; shift >= 0; shift -= 4) out += kHex[(c >> shift) & 15];
  }
  return out;
}

}  // namespace layright
