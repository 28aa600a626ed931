#include "report/job_sheet_module/shaped.h"

#include <fontconfig/fontconfig.h>
#include <hb-ot.h>
#include <hb.h>

#include "report/job_sheet_module/script_runs.h"

namespace layright {
namespace {

struct Pen {
  Outline& outline;
  double dx = 0, dy = 0, scale = 1;
  double x(float v) const { return (dx + static_cast<double>(v)) * scale; }
  double y(float v) const { return (dy + static_cast<double>(v)) * scale; }
  void add(char kind, std::array<double, 6> at) { outline.parts.push_back({kind, at}); }
};

Pen& pen_of(void* data) { return *static_cast<Pen*>(data); }

void move_to(hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
  Pen& pen = pen_of(data);
  pen.add('m', {pen.x(x), pen.y(y)});
}
void line_to(hb_draw_funcs_t*, void* data, hb_draw_state_t*, float x, float y, void*) {
  Pen& pen = pen_of(data);
  pen.add('l', {pen.x(x), pen.y(y)});
}
void cubic_to(hb_draw_funcs_t*, void* data, hb_draw_state_t*, float ax, float ay, float bx, float by, float x, float y, void*) {
  Pen& pen = pen_of(data);
  pen.add('c', {pen.x(ax), pen.y(ay), pen.x(bx), pen.y(by), pen.x(x), pen.y(y)});
}
void close_path(hb_draw_funcs_t*, void* data, hb_draw_state_t*, void*) { pen_of(data).add('z', {}); }

hb_draw_funcs_t* draw_functions() {
  hb_draw_funcs_t* functions = hb_draw_funcs_create();
  hb_draw_funcs_set_move_to_func(functions, move_to, nullptr, nullptr);
  hb_draw_funcs_set_line_to_func(functions, line_to, nullptr, nullptr);
  hb_draw_funcs_set_cubic_to_func(functions, cubic_to, nullptr, nullptr);  // quadratic curves come as cubic ones
  hb_draw_funcs_set_close_path_func(functions, close_path, nullptr, nullptr);
  return functions;
}

std::string matched_file(FcPattern* pattern) {
  FcConfigSubstitute(nullptr, pattern, FcMatchPattern);
  FcDefaultSubstitute(pattern);
  FcResult result = FcResultNoMatch;
  FcPattern* found = FcFontMatch(nullptr, pattern, &result);
  std::string file;
  FcChar8* name = nullptr;
  if (found && FcPatternGetString(found, FC_FILE, 0, &name) == FcResultMatch) file = reinterpret_cast<char const*>(name);
  if (found) FcPatternDestroy(found);
  FcPatternDestroy(pattern);
  return file;
}

}  // namespace

struct Shaper::Font {
  hb_face_t* face = nullptr;
  hb_font_t* font = nullptr;
  explicit Font(std::string const& file) {
    hb_blob_t* blob = hb_blob_create_from_file(file.c_str());
    face = hb_face_create(blob, 0);
    hb_blob_destroy(blob);
    font = hb_font_create(face);
  }
  ~Font() {
    hb_font_destroy(font);
    hb_face_destroy(face);
  }
  Font(Font const&) = delete;
  bool has(std::uint32_t code_point) const {
    hb_codepoint_t glyph = 0;
    return hb_font_get_nominal_glyph(font, code_point, &glyph);
  }
};

Shaper::Shaper() = default;
Shaper::~Shaper() = default;

std::string Shaper::font_file(char const* family, bool bold) {
  FcPattern* pattern = FcPatternCreate();
  FcPatternAddString(pattern, FC_FAMILY, reinterpret_cast<FcChar8 const*>(family));
  FcPatternAddInteger(pattern, FC_WEIGHT, bold ? FC_WEIGHT_BOLD : FC_WEIGHT_REGULAR);
  return matched_file(pattern);
}

bool Shaper::has_glyph(std::string const& file, std::uint32_t code_point) { return Font(file).has(code_point); }

Shaper::Font* Shaper::font_for(std::string_view text) {
  FcCharSet* wanted = FcCharSetCreate();
  auto const all = code_points(text);
  for (std::uint32_t c : all) FcCharSetAddChar(wanted, c);
  FcPattern* pattern = FcPatternCreate();
  FcPatternAddCharSet(pattern, FC_CHARSET, wanted);
  FcPatternAddBool(pattern, FC_SCALABLE, FcTrue);
  FcPatternAddBool(pattern, FC_COLOR, FcFalse);
  FcCharSetDestroy(wanted);
  std::string const file = matched_file(pattern);
  if (file.empty()) return nullptr;
  auto& font = fonts_[file];
  if (!font) font = std::make_unique<Font>(file);
  for (std::uint32_t c : all)
    if (!font->has(c)) return nullptr;
  return font.get();
}

std::optional<Outline> Shaper::shape(std::string_view text) {
  Font* font = font_for(text);
  if (!font) return std::nullopt;
  hb_buffer_t* buffer = hb_buffer_create();
  hb_buffer_add_utf8(buffer, text.data(), static_cast<int>(text.size()), 0, static_cast<int>(text.size()));
  hb_buffer_guess_segment_properties(buffer);
  hb_shape(font->font, buffer, nullptr, 0);
  unsigned count = 0;
  hb_glyph_info_t const* info = hb_buffer_get_glyph_infos(buffer, nullptr);
  hb_glyph_position_t const* position = hb_buffer_get_glyph_positions(buffer, &count);
  Outline outline;
  Pen pen{outline, 0, 0, 1.0 / hb_face_get_upem(font->face)};
  hb_draw_funcs_t* functions = draw_functions();
  double x = 0;
  for (unsigned i = 0; i < count; ++i) {
    pen.dx = x + position[i].x_offset;
    pen.dy = position[i].y_offset;
    hb_font_get_glyph_shape(font->font, info[i].codepoint, functions, &pen);
    x += position[i].x_advance;
  }
  hb_draw_funcs_destroy(functions);
  hb_buffer_destroy(buffer);
  outline.width = x * pen.scale;
  if (outline.parts.empty() || !(outline.width > 0)) return std::nullopt;
  return outline;
}

}  // namespace layright
