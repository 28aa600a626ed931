// The curve is taken as straight pieces. From its value at dark on, each piece paints the value at its end through a mask that grows from
// clear to full along the piece: between the two that is the straight line. Such a mask is the group, stretched by ColorBurn (which cuts
// off below) and ColorDodge (which cuts off above; 11.3.5.2).
#include "mupdf/mask_transfer.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace layright {
namespace {

using Curve = std::array<unsigned char, 256>;

constexpr int kClose = 3;  // of 255: so near the straight pieces keep to the curve
constexpr std::size_t kMostPieces = 12;
constexpr std::size_t kMostText = 4096;

/// Ends of the straight pieces, from 0 to 255.
std::vector<int> knots_of(Curve const& curve) {
  std::vector<int> knots{0, 255};
  while (knots.size() <= kMostPieces) {
    int worst = kClose, where = -1;
    for (std::size_t i = 0; i + 1 < knots.size(); ++i)
      for (int x = knots[i] + 1; x < knots[i + 1]; ++x) {
        double const part = static_cast<double>(x - knots[i]) / (knots[i + 1] - knots[i]);
        double const line = curve[static_cast<std::size_t>(knots[i])] +
                            part * (curve[static_cast<std::size_t>(knots[i + 1])] - curve[static_cast<std::size_t>(knots[i])]);
        if (int const off = static_cast<int>(std::lround(std::fabs(line - curve[static_cast<std::size_t>(x)]))); off > worst) {
          worst = off;
          where = x;
        }
      }
    if (where < 0) break;
    knots.insert(std::ranges::upper_bound(knots, where), where);
  }
  return knots;
}

std::string number(double value) { return std::isfinite(value) ? std::to_string(value) + " " : "0 "; }

/// FormText that the library's calls can take: they may jump out, past destructors.
struct FormText {
  char bytes[kMostText];
  explicit FormText(std::string const& text) { bytes[text.copy(bytes, kMostText - 1)] = 0; }
};

/// A form of `entries` that draws `content`; null where the library failed.
pdf_obj* new_form(fz_context* ctx, pdf_document* document, FormText const& entries, FormText const& content) {
  pdf_lexbuf scratch;
  fz_stream* text = nullptr;
  pdf_obj* dictionary = nullptr;
  fz_buffer* data = nullptr;
  pdf_obj* form = nullptr;
  fz_var(text);
  fz_var(dictionary);
  fz_var(data);
  fz_var(form);
  pdf_lexbuf_init(ctx, &scratch, PDF_LEXBUF_SMALL);
  fz_try(ctx) {
    text = fz_open_memory(ctx, reinterpret_cast<unsigned char const*>(entries.bytes), std::char_traits<char>::length(entries.bytes));
    dictionary = pdf_parse_stm_obj(ctx, document, text, &scratch);
    data = fz_new_buffer_from_copied_data(ctx, reinterpret_cast<unsigned char const*>(content.bytes), std::char_traits<char>::length(content.bytes));
    form = pdf_add_stream(ctx, document, data, dictionary, 0);
  }
  fz_always(ctx) {
    pdf_lexbuf_fin(ctx, &scratch);
    fz_drop_stream(ctx, text);
    pdf_drop_obj(ctx, dictionary);
    fz_drop_buffer(ctx, data);
  }
  fz_catch(ctx) form = nullptr;
  return form;
}

/// Around the group, in the space that its mask is used in.
bool box_of(fz_context* ctx, pdf_obj* group, fz_rect* box) {
  bool volatile read = true;
  fz_try(ctx)* box = fz_transform_rect(pdf_xobject_bbox(ctx, group), pdf_xobject_matrix(ctx, group));
  fz_catch(ctx) read = false;
  return read && !fz_is_empty_rect(*box);
}

int number_of(fz_context* ctx, pdf_obj* object) {
  int volatile n = 0;
  fz_try(ctx) n = pdf_is_indirect(ctx, object) ? pdf_to_num(ctx, object) : 0;
  fz_catch(ctx) n = 0;
  return n;
}

struct Words {
  std::string head, fill, group;  // what all forms begin with; to fill the box; the group's name as an object
};

/// What grows from clear to full while the group goes from `low` to `high`, of one.
pdf_obj* ramp(fz_context* ctx, pdf_document* document, MaskToTransfer const& mask, Words const& words, double low, double high) {
  std::string content;
  if (mask.luminosity) content = number(mask.backdrop) + "g " + words.fill + "1 g /G Do ";
  else content = "0 g " + words.fill + "/A gs 1 g " + words.fill + "/N gs ";
  double const rest = 1 - low;
  if (low > 0) content += "/B gs " + number(rest) + "g " + words.fill;
  if (high < 1) content += "/D gs " + number(1 - (high - low) / rest) + "g " + words.fill;
  std::string const resources = "/Resources<</XObject<</G " + words.group + ">>/ExtGState<</A<</SMask<</S/Alpha/G " + words.group +
                                ">>>>/N<</SMask/None>>/B<</BM/ColorBurn>>/D<</BM/ColorDodge>>>>>>>>";
  return new_form(ctx, document, FormText(words.head + resources), FormText(content));
}

}  // namespace

pdf_obj* transferred_mask(fz_context* ctx, pdf_document* document, MaskToTransfer const& mask) {
  fz_rect box;
  int const group = number_of(ctx, mask.group);
  if (group == 0 || !box_of(ctx, mask.group, &box)) return nullptr;
  Words words;
  words.head = "<</Type/XObject/Subtype/Form/Group<</S/Transparency/CS/DeviceGray/I true>>/BBox[" + number(box.x0) + number(box.y0) + number(box.x1) +
               number(box.y1) + "]";
  words.fill = number(box.x0) + number(box.y0) + number(box.x1 - box.x0) + number(box.y1 - box.y0) + "re f ";
  words.group = std::to_string(group) + " 0 R";
  auto const value = [&](int x) { return number(mask.curve[static_cast<std::size_t>(x)] / 255.0) + "g " + words.fill; };
  auto const knots = knots_of(mask.curve);
  std::string content = value(knots.front()), states;
  for (std::size_t i = 0; i + 1 < knots.size(); ++i) {
    if (mask.curve[static_cast<std::size_t>(knots[i])] == mask.curve[static_cast<std::size_t>(knots[i + 1])]) continue;
    pdf_obj* const grown = ramp(ctx, document, mask, words, knots[i] / 255.0, knots[i + 1] / 255.0);
    int const form = number_of(ctx, grown);
    pdf_drop_obj(ctx, grown);  // the file in memory has it
    if (form == 0) return nullptr;
    std::string const name = "/M" + std::to_string(i);
    states += name + "<</SMask<</S/Luminosity/G " + std::to_string(form) + " 0 R/BC[" + number(0) + "]>>>>";
    content += "q " + name + " gs " + value(knots[i + 1]) + "Q ";
  }
  return new_form(ctx, document, FormText(words.head + "/Resources<</ExtGState<<" + states + ">>>>>>"), FormText(content));
}

}  // namespace layright
