#include <algorithm>

#include "base/in_quotes.h"
#include "sheet/read_tables.h"
#include "sheet/target.h"

namespace layright {

namespace {

constexpr std::size_t kLongestInk = 127;  // bytes of a name: ISO 32000-1, Annex C.2

constexpr std::size_t kLongestKeyword = 255;  // RFC 8011, 5.1.4

bool is_keyword(std::string_view text, std::string_view more = {}) {
  auto const fits = [&](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '.' || c == '_' ||
           more.find(c) != std::string_view::npos;
  };
  return !text.empty() && text.size() <= kLongestKeyword && std::all_of(text.begin(), text.end(), fits);
}

/// An IPP keyword; capitals are let through because presses have words of their own.
Result<std::string> parse_keyword(std::string const& text) {
  if (is_keyword(text)) return text;
  return usage_error(in_quotes(text) + " is no keyword: use letters, digits, dashes and points without blanks, such as by-pass-tray");
}

Result<std::string> parse_address(std::string const& text) {
  auto const scheme = text.find("://");
  auto const kind = text.substr(0, scheme);
  bool const good =
      (kind == "ipp" || kind == "ipps") && text.size() > scheme + 3 && text[scheme + 3] != '/' && text.find_first_of(" \"<>\\") == std::string::npos;
  if (good) return text;
  return usage_error(in_quotes(text) + " is no address of a printer: it starts with ipp:// or ipps://, such as ipp://localhost:631/ipp/print");
}

/// As CUPS names queues: QUEUE or QUEUE/INSTANCE, printable ASCII without blank, slash and # (lpadmin(8)).
Result<std::string> parse_queue(std::string const& text) {
  auto const name = [](std::string_view part) {
    return !part.empty() && part.size() <= 127 &&
           std::all_of(part.begin(), part.end(), [](char c) { return c > ' ' && c < 0x7f && c != '/' && c != '#' && c != '?'; });
  };
  auto const slash = text.find('/');
  if (name(text.substr(0, slash)) && (slash == std::string::npos || name(text.substr(slash + 1)))) return text;
  return usage_error(in_quotes(text) + " is no queue's name: write it as CUPS does, such as film or film/instance (layright presses lists them)");
}

Result<std::string> parse_quality(std::string const& text) {
  if (text == "draft" || text == "normal" || text == "high") return text;
  return usage_error(in_quotes(text) + " is no print quality: use draft, normal or high");
}

/// "1200dpi", "600x1200dpi", "240dpcm" (the syntax of RFC 8011's printer-resolution as queues write it), or "finest": what the press has.
Result<std::string> parse_resolution(std::string const& text) {
  if (text == "finest") return text;
  std::string_view rest = text;
  auto const number = [&rest] {
    auto const digits = std::min(rest.find_first_not_of("0123456789"), rest.size());
    bool const good = digits > 0 && digits <= 5 && rest[0] != '0';
    rest.remove_prefix(digits);
    return good;
  };
  bool good = number();
  if (good && rest.starts_with('x')) {
    rest.remove_prefix(1);
    good = number();
  }
  if (good && (rest == "dpi" || rest == "dpcm")) return text;
  return usage_error(in_quotes(text) + " is no resolution: write it like 1200dpi or 600x1200dpi, or finest");
}

/// { SizeStop = "Off" }: option names and choices as the press's driver has them.
Setter options_setter(TomlReader const& reader, PressOptions& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    auto const* const table = entry.node.as_table();
    if (table == nullptr) return reader.unexpected(entry, "a table of the press's own options, such as { SizeStop = \"Off\" }");
    for (auto const& [key, node] : *table) {
      std::string const name(key.str());
      Entry const option{node, in_quotes(name) + " in " + entry.name};
      if (!is_keyword(name, "*")) return reader.at(option, "no option of a press has such a name: use letters, digits and dashes");
      if (auto const* const count = node.as_integer()) {
        into[name] = std::to_string(count->get());
        continue;
      }
      auto const text = reader.text_of(option, "the option's choice in quotes, such as \"Off\"");
      if (!text) return text.error();
      into[name] = *text;
    }
    return done();
  };
}

/// "print", or { print = { SizeStop = "Off" } } with the press's own options for it.
Setter guard_setter(TomlReader const& reader, char const* word, bool& asked, PressOptions& own) {
  return [&reader, word, &asked, &own](Entry const& entry) -> Outcome {
    std::string const expected = in_quotes(word) + ", or " + word + " = { … } below it with the press's own options";
    if (entry.node.as_table() != nullptr) {
      if (auto const read = reader.table(entry, {{word, options_setter(reader, own), true}}); !read) return read;
    } else {
      auto const text = reader.text_of(entry, expected);
      if (!text) return text.error();
      if (*text != word) return reader.at(entry, "expected " + expected + ", but found " + in_quotes(*text));
    }
    asked = true;
    return done();
  };
}

/// "150%": a share of one full layer.
Setter white_limit_setter(TomlReader const& reader, double& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    White limit;
    if (auto const read = reader.parsed(limit, parse_white, "a share of one full layer in quotes, such as \"100%\"")(entry); !read) return read;
    if (!limit.percent) return reader.at(entry, "write it as a share of one full layer, such as \"100%\"");
    into = *limit.percent;
    return done();
  };
}

/// A name that a plate can bear: All and None say something else (ISO 32000-1, 8.6.6.4), and the inks of the process are no white.
Result<std::string> parse_white_ink(std::string const& text) {
  for (auto const* const taken : {"All", "None", "Cyan", "Magenta", "Yellow", "Black"})
    if (text == taken) return usage_error(in_quotes(text) + " is no name for a white separation: it means something else in a PDF");
  if (text.empty() || text.size() > kLongestInk) return usage_error("a separation's name has 1 to 127 letters, such as \"White\"");
  return text;
}

/// { Black = { price = 80, pages = 7000 } }
Setter toner_setter(TomlReader const& reader, std::map<std::string, TonerPrice>& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    if (entry.node.as_table() == nullptr) return reader.unexpected(entry, "a table of inks, such as { Black = { price = 80, pages = 7000 } }");
    return reader.each(entry, [&](std::string const& ink, Entry const& one) {
      TonerPrice& toner = into[ink];
      return reader.table(one, {{"price", reader.number(toner.price), true},
                                {"pages", reader.number(toner.pages), true},
                                {"coverage-pct", reader.number(toner.coverage_pct)}});
    });
  };
}

}  // namespace

Outcome read_press(TomlReader const& reader, Entry const& entry, Press& press) {
  auto const keyword = [&](std::string& into, char const* example) {
    return reader.parsed(into, parse_keyword, std::string("an IPP keyword in quotes, such as \"") + example + "\"");
  };
  std::filesystem::path ppd, password_file;
  auto const read = reader.table(
      entry, {{"ppd", reader.path(ppd)},
              {"ipp", reader.parsed(press.ipp, parse_address, "a printer's address in quotes, such as \"ipp://localhost:631/ipp/print\"")},
              {"queue", reader.parsed(press.queue, parse_queue, "a queue's name in quotes, such as \"film\"")},
              {"user", reader.text(press.user, "a user's name in quotes")},
              {"password-file", reader.path(password_file)},
              {"media-source", keyword(press.media_source, "by-pass-tray")},
              {"media-type", keyword(press.media_type, "transparency")},
              {"output-bin", keyword(press.output_bin, "face-up")},
              {"print-quality", reader.parsed(press.print_quality, parse_quality, "\"draft\", \"normal\" or \"high\"")},
              {"printer-resolution", reader.parsed(press.printer_resolution, parse_resolution, "a resolution in quotes, such as \"1200dpi\"")},
              {"print-color-mode", keyword(press.print_color_mode, "color")},
              {"film-side-up", reader.text(press.film_side_up, "words for the operator in quotes")},
              {"prints-white", reader.flag(press.prints_white)},
              {"white-ink", reader.parsed(press.white_ink, parse_white_ink, "the name of a separation in quotes, such as \"White\"")},
              {"correct", reader.flag(press.correct)},
              {"toner", toner_setter(reader, press.toner)},
              {"currency", reader.text(press.currency, "your word for the money in quotes, such as \"EUR\"")},
              {"options", options_setter(reader, press.options)},
              {"white-on", options_setter(reader, press.white_on)},
              {"white-off", options_setter(reader, press.white_off)},
              {"mirror-on", options_setter(reader, press.mirror_on)},
              {"mirror-off", options_setter(reader, press.mirror_off)},
              {"white-limit", white_limit_setter(reader, press.white_limit_pct)},
              {"unknown-size", guard_setter(reader, "print", press.print_unknown_size, press.no_size_check)},
              {"other-tray", guard_setter(reader, "never", press.never_other_tray, press.no_tray_switch)},
              // What the two were called before.
              {"no-size-check", options_setter(reader, press.no_size_check)},
              {"no-tray-switch", options_setter(reader, press.no_tray_switch)}});
  if (!read) return read;
  press.print_unknown_size |= !press.no_size_check.empty();
  press.never_other_tray |= !press.no_tray_switch.empty();
  press.ppd = ppd.string();
  press.password_file = password_file.string();
  if (!press.queue.empty() && !press.ipp.empty()) return reader.at(entry, "it names both an address (ipp) and a queue: keep one of the two");
  return done();
}

}  // namespace layright
