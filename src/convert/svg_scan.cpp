#include "convert/svg_scan.h"

#include <expat.h>
#include <iconv.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <deque>
#include <functional>
#include <limits>
#include <memory>
#include <new>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "convert/svg_css.h"
#include "convert/svg_pictures.h"

namespace layright {
namespace {

constexpr std::size_t kMostNamed = 8, kLongestName = 120;
constexpr std::string_view kBlanks = " \t\r\n";

std::string_view trimmed(std::string_view text) {
  auto const first = text.find_first_not_of(" \t\r\n\"'");
  return first == std::string_view::npos ? std::string_view() : text.substr(first, text.find_last_not_of(" \t\r\n\"'") - first + 1);
}

void note(std::vector<std::string>& into, std::string_view what) {
  std::string const named(trimmed(what).substr(0, kLongestName));
  if (!named.empty() && into.size() < kMostNamed && std::ranges::find(into, named) == into.end()) into.push_back(named);
}

bool is_data(std::string_view address) {
  address = trimmed(address).substr(0, 5);
  return std::ranges::equal(address, std::string_view("data:"), {},
                            [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
}

bool outside(std::string_view address) {
  address = trimmed(address);
  return !address.empty() && !address.starts_with('#') && !is_data(address);
}

void put_escaped(std::string& out, std::string_view text) {
  for (char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\n': out += "&#10;"; break;
      case '\r': out += "&#13;"; break;
      case '\t': out += "&#9;"; break;
      default: out += c;
    }
  }
}

/// What is behind the last colon: the prefix of a name is the file's own choice.
std::string_view local(std::string_view name) { return name.substr(name.rfind(':') + 1); }

struct Attribute {
  std::string_view name, value;
};

/// Elements that draw nothing where they stand.
bool draws_elsewhere(std::string_view name) {
  static constexpr std::array kSuch = {"defs",   "symbol", "clipPath",      "mask",     "pattern", "marker",
                                       "filter", "switch", "foreignObject", "metadata", "title",   "desc"};
  return std::ranges::find(kSuch, name) != kSuch.end();
}

/// Attributes that may hide what has them, or move it out of sight.
bool may_hide(std::string_view name) {
  static constexpr std::array kSuch = {"display", "visibility", "opacity", "transform",        "clip-path",          "mask",          "filter",
                                       "class",   "style",      "clip",    "requiredFeatures", "requiredExtensions", "systemLanguage"};
  return std::ranges::find(kSuch, name) != kSuch.end();
}

using Parser = std::unique_ptr<XML_ParserStruct, decltype(&XML_ParserFree)>;

Parser parser_for(char const* encoding) {
  Parser made(XML_ParserCreate(encoding), &XML_ParserFree);
  if (!made) throw std::bad_alloc();
  return made;
}

/// Of what an instruction says in the way of attributes (XML-stylesheet 1.0, 4): one by its name, or nothing.
std::string attribute_of(std::string_view data, char const* name) {
  std::pair<std::string_view, std::string> wanted{name, {}};
  std::string const element = "<x " + std::string(data) + "/>";
  auto const parser = parser_for("UTF-8");
  XML_SetUserData(parser.get(), &wanted);
  XML_SetStartElementHandler(parser.get(), [](void* user, char const*, char const** given) {
    auto& [which, value] = *static_cast<std::pair<std::string_view, std::string>*>(user);
    for (; given[0]; given += 2)
      if (which == given[0]) value = given[1];
  });
  XML_Parse(parser.get(), element.data(), static_cast<int>(element.size()), 1);
  return wanted.second;
}

class Scan {
 public:
  Scan(SvgSource& source, std::size_t most, XML_Parser parser) : source_(source), most_(most), parser_(parser) {}

  void start(char const* name, char const** given) {
    corrected_.clear();
    std::vector<Attribute> all;
    std::string base = open_.empty() ? std::string() : open_.back().base;
    bool hidden = !open_.empty() && open_.back().hidden;
    for (; given[0]; given += 2) {
      if (std::string_view(given[0]) == "xml:base") base = given[1];
      else all.push_back({given[0], given[1]});
    }
    auto const kind = local(name);
    bool const root = open_.empty();
    if (root) look_at_size(all);
    hidden = hidden || draws_elsewhere(kind) || (kind != "svg" && std::ranges::any_of(all, [](Attribute const& a) { return may_hide(a.name); })) ||
             (kind == "svg" && !root);
    open_.push_back({base, hidden});
    if (kind == "image" || kind == "feImage") look_at_image(all, base, kind == "image" && !hidden);
    look_at_attributes(kind, all, base);
    if (kind == "style") in_style_ = true, styles_ = true;
    put("<");
    put(name);
    for (auto const& a : all) {
      put(" ");
      put(a.name);
      put("=\"");
      put_escaped(source_.text, a.value);
      put("\"");
    }
    put(">");
  }

  void end(char const* name) {
    if (local(name) == "style") {
      auto const css = plain_css(style_);
      auto const& base = open_.back().base;
      each_css_address(css, [&](std::string_view address) { look_at_address(address, base); });
      each_css_family(css, [&](std::string_view family) { note(source_.families, family); });
      style_.clear();
      in_style_ = false;
    }
    open_.pop_back();
    put("</");
    put(name);
    put(">");
  }

  void characters(std::string_view text) {
    if (in_style_) style_ += text;
    put_escaped(source_.text, text);
    stop_where_too_large();
  }

  void instruction(std::string_view target, std::string_view data) {
    if (target != "xml-stylesheet") return;
    std::string const address = attribute_of(data, "href");
    if (outside(address)) note(source_.outside, address);
    else if (is_data(address)) note(source_.not_drawn_styles, address.substr(0, 30));
  }

  void entity_from_elsewhere(char const* address) { note(source_.outside, address ? address : "an entity"); }
  void entity_unknown(std::string_view name) { note(source_.outside, "&" + std::string(name) + ";"); }
  bool too_large() const { return too_large_; }

  void conclude() { source_.plain_pictures = styles_ ? 0 : pictures_.size(); }

 private:
  struct Open {
    std::string base;
    bool hidden;
  };

  void put(std::string_view text) {
    source_.text += text;
    stop_where_too_large();
  }
  void stop_where_too_large() {
    if (source_.text.size() <= most_ || too_large_) return;
    too_large_ = true;
    XML_StopParser(parser_, XML_FALSE);
  }

  void look_at_size(std::vector<Attribute> const& all) {
    bool width = false, height = false, view = false;
    for (auto const& a : all) {
      bool const relative = a.value.ends_with('%');
      width = width || (a.name == "width" && !relative);
      height = height || (a.name == "height" && !relative);
      view = view || a.name == "viewBox";
      if (a.name == "viewBox")
        frame_known_ =
            std::sscanf(std::string(a.value).c_str(), "%lf%*[ ,]%lf%*[ ,]%lf%*[ ,]%lf", &frame_[0], &frame_[1], &frame_[2], &frame_[3]) == 4;
    }
    source_.sized = view || (width && height);
  }

  void look_at_address(std::string_view address, std::string const& base) {
    if (!outside(address)) return;
    address = trimmed(address);
    bool const whole = address.find(':') < address.find('/') || address.starts_with('/');
    note(source_.outside, base.empty() || whole ? std::string(address) : base.substr(0, base.rfind('/') + 1) + std::string(address));
  }

  void look_at_attributes(std::string_view kind, std::vector<Attribute> const& all, std::string const& base) {
    bool const link = kind == "a";  // a link that somebody could follow is nothing that is drawn
    for (auto const& a : all) {
      bool const reference = local(a.name) == "href" || a.name == "src";
      if (reference && !link) look_at_address(a.value, base);
      if (a.name == "font-family") note(source_.families, plain_css(a.value));
      if (reference || a.value.find_first_of("(\\:") == std::string::npos) continue;
      auto const css = plain_css(a.value);
      if (a.name == "style") each_css_family(css, [&](std::string_view family) { note(source_.families, family); });
      each_css_address(css, [&](std::string_view address) { look_at_address(address, base); });
    }
  }

  /// A picture without an address, or with an empty one, is art that was lost.
  void look_at_image(std::vector<Attribute>& all, std::string const& base, bool shown) {
    bool any = false;
    for (auto& a : all) {
      if (local(a.name) != "href" || a.value.find_first_not_of(kBlanks) == std::string::npos) continue;
      any = true;
      if (is_data(a.value)) look_at_picture(a.value, shown && in_frame(all));
    }
    if (any) return;
    if (base.empty()) note(source_.damaged, "has nothing in it");
    else note(source_.outside, base);
  }

  void look_at_picture(std::string_view& address, bool shown) {
    auto const found = look_at_embedded(address);
    if (found.fate == EmbeddedPicture::Fate::damaged) return note(source_.damaged, found.why);
    if (found.fate == EmbeddedPicture::Fate::not_drawn) return note(source_.not_drawn, found.why);
    if (!found.meant.empty()) {
      // One kind is put in the place of another that it was said to be of.
      auto const at = static_cast<std::size_t>(found.said.data() - address.data());
      address = corrected_.emplace_back(std::string(address.substr(0, at)) + found.meant + std::string(address.substr(at + found.said.size())));
    }
    if (shown && found.raster) pictures_.insert(std::hash<std::string_view>{}(address));
  }

  /// Whether a picture surely lies in sight: by plain numbers, within a root that says its frame.
  bool in_frame(std::vector<Attribute> const& all) const {
    double place[4] = {0, 0, 0, 0};
    for (auto const& a : all) {
      static constexpr std::array kNames = {"x", "y", "width", "height"};
      auto const which = std::ranges::find(kNames, a.name);
      if (which == kNames.end()) continue;
      char* end = nullptr;
      std::string const number(a.value);
      place[which - kNames.begin()] = std::strtod(number.c_str(), &end);
      if (end == number.c_str() || (*end != '\0' && std::strcmp(end, "px") != 0)) return false;
    }
    return frame_known_ && place[2] > 0 && place[3] > 0 && place[0] >= frame_[0] && place[1] >= frame_[1] &&
           place[0] + place[2] <= frame_[0] + frame_[2] && place[1] + place[3] <= frame_[1] + frame_[3];
  }

  SvgSource& source_;
  std::size_t most_;
  XML_Parser parser_;
  std::vector<Open> open_;
  std::string style_;
  std::deque<std::string> corrected_;  // addresses of one element
  std::set<std::size_t> pictures_;     // that are surely in sight, by what is in them
  double frame_[4] = {};
  bool in_style_ = false, styles_ = false, too_large_ = false, frame_known_ = false;
};

/// In UTF-8; nothing where the encoding is not known, or the text is none in it.
std::optional<std::string> converted(std::string_view text, std::string const& from) {
  iconv_t const how = iconv_open("UTF-8", from.c_str());
  if (how == reinterpret_cast<iconv_t>(-1)) return std::nullopt;
  std::string out;
  auto* in = const_cast<char*>(text.data());
  auto left = text.size();
  bool good = true;
  while (left > 0 && good) {
    std::array<char, 65536> piece;
    char* to = piece.data();
    auto room = piece.size();
    good = iconv(how, &in, &left, &to, &room) != static_cast<std::size_t>(-1) || errno == E2BIG;
    out.append(piece.data(), piece.size() - room);
  }
  iconv_close(how);
  return good ? std::optional(out) : std::nullopt;
}

Scan& of(void* user) { return *static_cast<Scan*>(user); }

Outcome outcome_of(XML_Parser parser, bool good, bool too_large) {
  if (good) return done();
  auto const error = XML_GetErrorCode(parser);
  if (too_large || error == XML_ERROR_AMPLIFICATION_LIMIT_BREACH)
    return Error{ErrorKind::hold, "it unpacks to far more than it is, more than may be taken in; ask for a simpler one, or for PDF"};
  if (error == XML_ERROR_NO_ELEMENTS || error == XML_ERROR_UNCLOSED_TOKEN || error == XML_ERROR_PARTIAL_CHAR ||
      error == XML_ERROR_UNCLOSED_CDATA_SECTION)
    return Error{ErrorKind::data, "it is cut short: the drawing does not come to its end; ask the customer to send it again"};
  if (error == XML_ERROR_NO_MEMORY) throw std::bad_alloc();
  return Error{ErrorKind::data,
               "its XML is broken at line " + std::to_string(XML_GetCurrentLineNumber(parser)) + "; have it saved again, or ask for PDF"};
}

/// `encoding`: in place of what it says itself. An encoding that it says and that the parser does not know is put into `unknown`.
Outcome scan(std::string_view text, char const* encoding, std::size_t most, SvgSource& source, std::string& unknown) {
  auto const parser = parser_for(encoding);
  Scan scan(source, most, parser.get());
  XML_SetUserData(parser.get(), &scan);
  XML_SetElementHandler(
      parser.get(), [](void* user, char const* name, char const** attributes) { of(user).start(name, attributes); },
      [](void* user, char const* name) { of(user).end(name); });
  XML_SetCharacterDataHandler(parser.get(), [](void* user, char const* letters, int count) {
    of(user).characters({letters, static_cast<std::size_t>(count)});
  });
  XML_SetProcessingInstructionHandler(parser.get(), [](void* user, char const* target, char const* data) { of(user).instruction(target, data); });
  XML_SetSkippedEntityHandler(parser.get(), [](void* user, char const* name, int) { of(user).entity_unknown(name); });
  XML_SetEntityDeclHandler(parser.get(),
                           [](void* user, char const*, int, char const*, int, char const*, char const* system, char const*, char const*) {
                             if (system) of(user).entity_from_elsewhere(system);
                           });
  XML_SetExternalEntityRefHandler(parser.get(),
                                  [](XML_Parser, char const*, char const*, char const*, char const*) { return static_cast<int>(XML_STATUS_OK); });
  XML_SetUnknownEncodingHandler(
      parser.get(),
      [](void* user, char const* name, XML_Encoding*) {
        *static_cast<std::string*>(user) = name;
        return static_cast<int>(XML_STATUS_ERROR);
      },
      &unknown);
  source = {};
  source.text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  // All at once: then the parser keeps no copy of it.
  if (text.size() > std::numeric_limits<int>::max())
    return Error{ErrorKind::hold, "it is larger than any drawing; ask for a simpler one, or for PDF"};
  bool const good = XML_Parse(parser.get(), text.data(), static_cast<int>(text.size()), 1) == XML_STATUS_OK;
  scan.conclude();
  return outcome_of(parser.get(), good, scan.too_large());
}

}  // namespace

Outcome scan_svg(std::string_view text, std::size_t most, SvgSource& source) {
  std::string unknown;
  auto scanned = scan(text, nullptr, most, source, unknown);
  if (unknown.empty()) return scanned;
  auto const in_utf8 = converted(text, unknown);
  if (!in_utf8)
    return Error{ErrorKind::data,
                 "it says that its letters are encoded as " + unknown + ", and they cannot be read so; have it saved again, or ask for PDF"};
  return scan(*in_utf8, "UTF-8", most, source, unknown);
}

}  // namespace layright
