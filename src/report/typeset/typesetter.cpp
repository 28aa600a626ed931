#include "report/typeset/typesetter.h"

#include <fontconfig/fontconfig.h>
#include <pango/pangofc-fontmap.h>

#include <algorithm>
#include <cstdio>
#include <utility>

#include "report/not_made.h"

namespace layright {
namespace {

constexpr char kFamily[] = "DejaVu Sans";  // Debian's fonts-dejavu-core: Latin, Greek, Cyrillic and many signs

// What is printed must not depend on the grid of a screen, and colours of letters are not ours to print.
constexpr char kRules[] =
    "<fontconfig><match target='pattern'><edit name='hinting' mode='assign'><bool>false</bool></edit></match>"
    "<selectfont><rejectfont><pattern><patelt name='color'><bool>true</bool></patelt></pattern></rejectfont></selectfont></fontconfig>";

/// Of this machine, with our rules; loaded once, and kept for children that are forked afterwards.
FcConfig* font_settings() {
  static FcConfig* const settings = [] {
    FcConfig* const made = FcInitLoadConfig();
    if (!made || !FcConfigParseAndLoadFromMemory(made, reinterpret_cast<FcChar8 const*>(kRules), FcTrue) || !FcConfigBuildFonts(made))
      throw NotMade("the fonts of this machine cannot be listed");
    return made;
  }();
  return settings;
}

using Description = std::unique_ptr<PangoFontDescription, decltype(&pango_font_description_free)>;

Description description(double size, Face face) {
  Description made(pango_font_description_new(), &pango_font_description_free);
  pango_font_description_set_family_static(made.get(), kFamily);
  pango_font_description_set_weight(made.get(), face == Face::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(made.get(), size * PANGO_SCALE);
  return made;
}

bool is_installed(PangoFontMap* fonts, PangoContext* context) {
  std::unique_ptr<PangoFont, ObjectUnref> const found(pango_font_map_load_font(fonts, context, description(9, Face::regular).get()));
  if (!found) return false;
  Description const is(pango_font_describe(found.get()), &pango_font_description_free);
  return std::string_view(pango_font_description_get_family(is.get())) == kFamily;
}

/// A font of pictures has none.
bool has_outlines(PangoFont* font) {
  hb_face_t* const face = font ? hb_font_get_face(pango_font_get_hb_font(font)) : nullptr;
  return face && (has_table(face, "glyf") || has_table(face, "CFF "));
}

/// The stretches of the layout's text that no font here can draw, in bytes.
std::vector<std::pair<int, int>> not_drawn(PangoLayout* layout) {
  std::vector<std::pair<int, int>> found;
  char const* const text = pango_layout_get_text(layout);
  for (GSList* r = pango_layout_get_line_readonly(layout, 0)->runs; r; r = r->next) {
    auto* const run = static_cast<PangoGlyphItem*>(r->data);
    bool const drawn = has_outlines(run->item->analysis.font);
    PangoGlyphItemIter at;
    for (bool more = pango_glyph_item_iter_init_start(&at, run, text); more; more = pango_glyph_item_iter_next_cluster(&at)) {
      auto const glyph = run->glyphs->glyphs[at.start_glyph].glyph;
      if (glyph != PANGO_GLYPH_EMPTY && (!drawn || (glyph & PANGO_GLYPH_UNKNOWN_FLAG))) found.emplace_back(at.start_index, at.end_index);
    }
  }
  std::ranges::sort(found);
  return found;
}

std::string in_numbers(std::string_view text, std::vector<std::pair<int, int>> const& stretches) {
  std::string out;
  int done = 0;
  for (auto const& [from, to] : stretches) {
    bool const goes_on = !out.empty() && from == done;
    out += text.substr(static_cast<std::size_t>(done), static_cast<std::size_t>(from - done));
    if (goes_on) out += ' ';
    for (char const* c = text.data() + from; c < text.data() + to; c = g_utf8_next_char(c)) {
      char number[16];
      std::snprintf(number, sizeof number, "%sU+%04X", c > text.data() + from ? " " : "", static_cast<unsigned>(g_utf8_get_char(c)));
      out += number;
    }
    done = to;
  }
  return out += text.substr(static_cast<std::size_t>(done));
}

void put_text(PangoLayout* layout, std::string_view text) { pango_layout_set_text(layout, text.data(), static_cast<int>(text.size())); }

}  // namespace

bool has_table(hb_face_t* face, char const (&name)[5]) {
  hb_blob_t* const table = hb_face_reference_table(face, HB_TAG(name[0], name[1], name[2], name[3]));
  bool const there = hb_blob_get_length(table) > 0;
  hb_blob_destroy(table);
  return there;
}

Typesetter::Typesetter(PangoFontMap* fonts) {
  std::unique_ptr<PangoFontMap, ObjectUnref> const taken(fonts);
  pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(fonts), font_settings());
  context_.reset(pango_font_map_create_context(fonts));
  pango_context_set_language(context_.get(), pango_language_from_string("en"));
  pango_context_set_round_glyph_positions(context_.get(), FALSE);
  if (!is_installed(fonts, context_.get())) throw NotMade("the font DejaVu Sans is not installed: apt-get install fonts-dejavu-core");
}

SetLine Typesetter::set(std::string_view text, double size, Face face) const {
  SetLine layout(pango_layout_new(context_.get()));
  pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
  pango_layout_set_font_description(layout.get(), description(size, face).get());
  put_text(layout.get(), text);
  if (auto const lost = not_drawn(layout.get()); !lost.empty()) put_text(layout.get(), in_numbers(text, lost));
  return layout;
}

double Typesetter::width(std::string_view text, double size, Face face) const {
  int width = 0;
  pango_layout_get_size(set(text, size, face).get(), &width, nullptr);
  return static_cast<double>(width) / PANGO_SCALE;
}

std::vector<std::string> Typesetter::lines(std::string_view text, double room, double size, Face face) const {
  auto const layout = set(text, size, face);
  pango_layout_set_width(layout.get(), static_cast<int>(room * PANGO_SCALE));
  pango_layout_set_wrap(layout.get(), PANGO_WRAP_WORD_CHAR);
  std::string_view const all = pango_layout_get_text(layout.get());
  std::vector<std::string> lines;
  for (GSList* l = pango_layout_get_lines_readonly(layout.get()); l; l = l->next) {
    auto const* const line = static_cast<PangoLayoutLine*>(l->data);
    auto const part = all.substr(static_cast<std::size_t>(line->start_index), static_cast<std::size_t>(line->length));
    lines.emplace_back(part.substr(0, part.find_last_not_of(' ') + 1));
  }
  return lines;
}

}  // namespace layright
