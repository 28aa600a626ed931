#include "base/utf8.h"
#include "sheet/gang_order.h"

namespace layright {
namespace {

/// A basic string (TOML 1.0, "String"). Control characters, which no order may have, become U+FFFD.
std::string in_toml(std::string const& text) {
  std::string out = "\"";
  for (char const c : valid_utf8(text)) {
    auto const byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f) {
      append_utf8(out, U'\uFFFD');
      continue;
    }
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + "\"";
}

std::string in_toml(Length length) { return "\"" + format_number(length.in_points(), 6) + "pt\""; }

std::string line(char const* key, std::string const& value) { return std::string(key) + " = " + value + "\n"; }

std::string choices_text(GangChoices const& c) {
  std::string text;
  if (c.cuts) text += line("cuts", in_toml(std::string(word(*c.cuts))));
  if (c.turns) text += line("turns", in_toml(std::string(word(*c.turns))));
  if (c.gap) text += line("gap", in_toml(*c.gap));
  if (c.marks) text += line("marks", *c.marks ? "\"on\"" : "\"off\"");
  if (c.labels) text += line("labels", *c.labels ? "\"on\"" : "\"off\"");
  return text;
}

std::string piece_text(OrderedPiece const& p) {
  std::string text = "\n[[piece]]\n" + line("file", in_toml(p.file.native()));
  if (!p.pages.empty()) text += line("pages", in_toml(p.pages));
  if (p.count != 1) text += line("count", std::to_string(p.count));
  if (p.width) text += line("width", in_toml(*p.width));
  if (p.height) text += line("height", in_toml(*p.height));
  if (!p.scale.empty()) text += line("scale", in_toml(p.scale));
  if (!p.label.empty()) text += line("label", in_toml(p.label));
  if (p.turns) text += line("turns", in_toml(std::string(word(*p.turns))));
  if (p.incoming) text += line("incoming", in_toml(std::string(word(*p.incoming))));
  std::string accept;
  for (auto const& check : p.accept) accept += (accept.empty() ? "" : ", ") + in_toml(check);
  if (!accept.empty()) text += line("accept", "[" + accept + "]");
  return text;
}

}  // namespace

std::string gang_order_text(GangOrder const& order) {
  std::string text;
  if (!order.order.empty()) text += line("order", in_toml(order.order));
  if (!order.target.empty()) text += line("target", in_toml(order.target));
  if (!order.manifest.empty()) text += line("manifest", in_toml(order.manifest.native()));
  if (order.white)
    text += line("white", in_toml(!order.white->on ? "off" : !order.white->percent ? "on" : format_number(*order.white->percent, 6) + "%"));
  text += choices_text(order.choices);
  for (auto const& piece : order.pieces) text += piece_text(piece);
  return text;
}

}  // namespace layright
