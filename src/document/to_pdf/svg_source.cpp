#include "document/to_pdf/svg_source.h"

#include <algorithm>

#include "document/format.h"
#include "document/to_pdf/bytes.h"
#include "document/to_pdf/inflater.h"
#include "document/to_pdf/picture.h"
#include "document/to_pdf/svg_pictures.h"

namespace layright {
namespace {

constexpr std::size_t kMostNamed = 8, kLongestName = 120;

void note(std::vector<std::string>& into, std::string_view what) {
  auto const first = what.find_first_not_of(" \t\r\n\"'");
  if (first == std::string_view::npos) return;
  what = what.substr(first, what.find_last_not_of(" \t\r\n\"'") - first + 1);
  std::string const named(what.substr(0, kLongestName));
  if (into.size() < kMostNamed && std::ranges::find(into, named) == into.end()) into.push_back(named);
}

bool outside(std::string_view address) {
  auto const first = address.find_first_not_of(" \t\r\n\"'");
  if (first == std::string_view::npos) return false;
  address = address.substr(first);
  return !address.starts_with('#') && !address.starts_with("data:") && !address.starts_with("&");
}

/// url(…) anywhere in a style or an attribute.
void look_for_urls(std::string_view text, SvgSource& source) {
  for (auto at = text.find("url("); at != std::string_view::npos; at = text.find("url(", at + 4)) {
    auto const end = text.find(')', at);
    if (end == std::string_view::npos) return;
    auto const address = text.substr(at + 4, end - at - 4);
    if (outside(address)) note(source.outside, address);
  }
}

void look_for_families(std::string_view text, SvgSource& source) {
  for (auto at = text.find("font-family:"); at != std::string_view::npos; at = text.find("font-family:", at + 12))
    note(source.families, text.substr(at + 12, std::min(text.find_first_of(";}\"<", at), text.size()) - at - 12));
}

/// @import "…"; what stands in url(…) has been found already.
void look_for_imports(std::string_view style, SvgSource& source) {
  constexpr std::string_view kImport = "@import";
  for (auto at = style.find(kImport); at != std::string_view::npos; at = style.find(kImport, at + 1)) {
    auto const rest = style.substr(at + kImport.size());
    auto const wanted = rest.substr(0, rest.find(';'));
    if (wanted.find("url(") == std::string_view::npos) note(source.outside, wanted);
  }
}

struct Attribute {
  std::string_view name, value;
};

/// One kind put in the place of another that a picture was said to be of.
struct Mending {
  std::size_t at = 0, length = 0;
  std::string with;
};

struct Look {
  SvgSource& source;
  std::string_view text;           // what is looked through: the drawing, or its letters alone where each takes two bytes
  std::vector<Mending> mendings{};
  bool root = true;
};

/// The attributes of one tag; XML's own rules are the drawing library's to check.
std::vector<Attribute> attributes(std::string_view tag) {
  std::vector<Attribute> all;
  for (std::size_t at = 0; (at = tag.find('=', at)) != std::string_view::npos;) {
    auto const name_ends = tag.find_last_not_of(" \t\r\n", at == 0 ? 0 : at - 1);
    auto const quote = tag.find_first_not_of(" \t\r\n", at + 1);
    if (name_ends == std::string_view::npos || quote == std::string_view::npos) break;
    if (tag[quote] != '"' && tag[quote] != '\'') {
      at = quote;
      continue;
    }
    auto const name_begins = tag.find_last_of(" \t\r\n/", name_ends);
    auto const end = tag.find(tag[quote], quote + 1);
    if (end == std::string_view::npos) break;
    auto const begin = name_begins == std::string_view::npos ? 0 : name_begins + 1;
    all.push_back({tag.substr(begin, name_ends + 1 - begin), tag.substr(quote + 1, end - quote - 1)});
    at = end + 1;
  }
  return all;
}

void look_at_picture(std::string_view address, Look& look) {
  auto const found = look_at_embedded(address);
  if (found.fate == EmbeddedPicture::Fate::damaged) return note(look.source.damaged, found.why);
  if (found.fate == EmbeddedPicture::Fate::not_drawn) return note(look.source.not_drawn, found.why);
  if (found.meant.empty()) return;
  if (look.text.data() == look.source.text.data()) look.mendings.push_back({static_cast<std::size_t>(found.said.data() - look.text.data()), found.said.size(), found.meant});
  else note(look.source.not_drawn, "says that it is of another kind than it is");
}

/// A picture without an address, or with an empty one, is art that was lost.
void look_at_image(std::vector<Attribute> const& all, Look& look) {
  bool any = false;
  for (auto const& a : all) {
    if (a.name != "href" && !a.name.ends_with(":href")) continue;
    auto const first = a.value.find_first_not_of(" \t\r\n");
    if (first == std::string_view::npos) continue;
    any = true;
    if (a.value.substr(first).starts_with("data:")) look_at_picture(a.value, look);
  }
  if (!any) note(look.source.damaged, "has nothing in it");
}

void look_at_tag(std::string_view tag, Look& look) {
  auto& source = look.source;
  auto const name = tag.substr(0, tag.find_first_of(" \t\r\n/"));
  // A link that somebody could follow is nothing that is drawn.
  bool const link = name == "a" || name.ends_with(":a");
  bool width = false, height = false, view = false;
  auto const all = attributes(tag);
  if (name == "image" || name.ends_with(":image") || name == "feImage") look_at_image(all, look);
  for (auto const& a : all) {
    bool const reference = a.name == "href" || a.name.ends_with(":href") || (a.name == "src" && name != "a");
    if (reference && !link && outside(a.value)) note(source.outside, a.value);
    if (a.name == "font-family") note(source.families, a.value);
    if (a.name == "style") look_for_families(a.value, source);
    look_for_urls(a.value, source);
    bool const relative = a.value.ends_with('%');
    width = width || (a.name == "width" && !relative);
    height = height || (a.name == "height" && !relative);
    view = view || a.name == "viewBox";
  }
  if (look.root) source.sized = view || (width && height);
  look.root = false;
}

void look_through(Look& look) {
  auto& source = look.source;
  auto const text = look.text;
  for (auto at = text.find('<'); at != std::string_view::npos; at = text.find('<', at + 1)) {
    auto const rest = text.substr(at + 1);
    if (rest.starts_with("!--")) {
      at = text.find("-->", at);
      if (at == std::string_view::npos) return;
      continue;
    }
    auto const end = rest.find('>');
    if (end == std::string_view::npos) return;
    auto const tag = rest.substr(0, end);
    if (tag.starts_with("?xml-stylesheet")) {
      for (auto const& a : attributes(tag))
        if (a.name == "href" && outside(a.value)) note(source.outside, a.value);
    } else if (tag.starts_with("!ENTITY") && (tag.find("SYSTEM") != std::string_view::npos || tag.find("PUBLIC") != std::string_view::npos)) {
      note(source.outside, tag.substr(tag.find_first_of("\"'") == std::string_view::npos ? 0 : tag.find_first_of("\"'")));
    } else if (!tag.starts_with('!') && !tag.starts_with('?') && !tag.starts_with('/')) {
      look_at_tag(tag, look);
      if (tag == "style" || tag.starts_with("style ")) {
        auto const style = text.substr(at, std::min(text.find("</", at), text.size()) - at);
        look_for_urls(style, source);
        look_for_families(style, source);
        look_for_imports(style, source);
      }
    }
  }
}

/// The root's closing tag, maybe with comments behind it, so that a file cut short is not drawn as far as it goes.
bool comes_to_an_end(std::string_view text) {
  auto const cut_blanks = [&] { text = text.substr(0, text.find_last_not_of(std::string_view(" \t\r\n\0", 5)) + 1); };
  for (cut_blanks(); text.ends_with("-->"); cut_blanks()) {
    auto const comment = text.rfind("<!--");
    if (comment == std::string_view::npos) return false;
    text = text.substr(0, comment);
  }
  auto const begins = text.rfind('<');
  if (begins == std::string_view::npos || !text.ends_with('>')) return false;
  auto tag = text.substr(begins + 1);
  bool const closing = tag.starts_with('/');
  if (closing) tag.remove_prefix(1);
  return tag.substr(0, tag.find_first_of(" \t\r\n/>")).ends_with("svg") && (closing || tag.ends_with("/>"));
}

}  // namespace

Result<SvgSource> read_svg_source(std::span<std::byte const> bytes, std::size_t most) {
  SvgSource source;
  if (text_of(bytes).starts_with("\x1F\x8B")) {
    Inflater inflater(31);
    bool const good = inflater.some(bytes, [&](std::span<std::byte const> out) {
      source.text += text_of(out);
      return source.text.size() <= most;
    });
    if (source.text.size() > most) return Error{ErrorKind::hold, "it unpacks to far more than it is, more than may be taken in; ask for it unpacked"};
    if (!good) return broken_picture("it cannot be unpacked");
    if (recognise(bytes_of(source.text)).format != Format::svg || source.text.starts_with("\x1F\x8B"))
      return not_taken("it is packed (gzip), and there is no SVG drawing inside", "unpack it first, or ask for the file itself");
    if (!inflater.ended()) return cut_short();
  } else {
    source.text = text_of(bytes);
  }
  // Two bytes a letter: what is looked for is all in ASCII.
  bool const wide = source.text.starts_with("\xFF\xFE") || source.text.starts_with("\xFE\xFF");
  std::string narrow;
  if (wide)
    for (char c : source.text)
      if (c != '\0' && c != '\xFF' && c != '\xFE') narrow += c;
  Look look{source, wide ? std::string_view(narrow) : std::string_view(source.text)};
  if (!comes_to_an_end(look.text)) return Error{ErrorKind::data, "it is cut short: the drawing does not come to its end; ask the customer to send it again"};
  look_through(look);
  for (auto at = look.mendings.rbegin(); at != look.mendings.rend(); ++at) source.text.replace(at->at, at->length, at->with);
  return source;
}

}  // namespace layright
