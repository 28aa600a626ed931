// layright.toml(5), from the commented file that `layright init` writes: a key that is not there is in no manual, and a test finds it.
#include <algorithm>
#include <cctype>
#include <set>
#include <sstream>

#include "command/manual.h"
#include "sheet/configuration.h"

namespace layright {
namespace {

bool is_key_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '.'; }

/// Where the note at the end of a line begins: at a # outside quotes.
std::size_t note_at(std::string_view line) {
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i)
    if (line[i] == '"') quoted = !quoted;
    else if (line[i] == '#' && !quoted) return i;
  return line.size();
}

std::string_view trimmed(std::string_view text) {
  auto const first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

class KeyPage {
 public:
  void line(std::string_view text) {
    if (text.empty()) return begin_paragraph();
    if (text.starts_with("# ----")) return section(text);
    bool const off = text.starts_with("# ") && !text.starts_with("#  ");  // a key that the file has, but switched off
    auto const body = off ? text.substr(2) : text;
    if (body.starts_with("[")) return table(body);
    if (text.starts_with("#  ")) return say(trimmed(text.substr(text.find('#', 1) == std::string_view::npos ? 1 : text.find('#', 1) + 1)));
    auto const name = body.substr(0, static_cast<std::size_t>(std::ranges::find_if_not(body, is_key_letter) - body.begin()));
    if (!name.empty() && body.substr(name.size()).starts_with(" = ")) return key(name, body.substr(name.size() + 3));
    if (off) return prose(body);
    begin_paragraph();
  }
  std::string take() { return std::move(page_); }

 private:
  /// "# ---- Sheets: the pieces of film or paper -------"
  void section(std::string_view text) {
    auto words = trimmed(text.substr(6));
    words = trimmed(words.substr(0, words.find_last_not_of('-') + 1));
    auto const colon = words.find(':');
    std::string title(words.substr(0, colon));
    std::ranges::transform(title, title.begin(), [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    page_ += ".SH " + roff(title) + "\n";
    skips_ = false;
    begin_text();
    if (colon == std::string_view::npos) return;
    std::string rest(trimmed(words.substr(colon + 1)));
    rest[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(rest[0])));
    prose(rest + ".");
    begin_paragraph();
  }

  /// "[sheet.narrow-film]": each kind once, with a name that stands for all.
  void table(std::string_view text) {
    auto const end = text.find(']');
    std::string name(text.substr(text.find_first_not_of('['), end - text.find_first_not_of('[')));
    auto const from = name.find('.'), to = name.find('.', from + 1);
    if (from != std::string::npos) name.replace(from + 1, (to == std::string::npos ? name.size() : to) - from - 1, "NAME");
    skips_ = !seen_.insert(name).second;
    if (skips_) return;
    bool const list = text.starts_with("[[");
    page_ += ".SS " + roff((list ? "[[" : "[") + name + (list ? "]]" : "]")) + "\n";
    begin_text();
    if (auto const note = note_at(text); note < text.size()) prose(trimmed(text.substr(note + 1)));
  }

  void key(std::string_view name, std::string_view rest) {
    if (skips_) return;
    auto const note = note_at(rest);
    page_ += ".TP\n\\fB" + roff(name) + "\\fR = " + roff(trimmed(rest.substr(0, note))) + "\n";
    if (note < rest.size()) say(trimmed(rest.substr(note + 1)));
    in_key_ = true;
  }

  void say(std::string_view words) {
    if (!skips_ && !words.empty()) page_ += roff(words) + "\n";
  }
  void prose(std::string_view words) {
    if (skips_) return;
    if (in_key_ || !in_prose_) page_ += ".PP\n";
    in_key_ = false;
    in_prose_ = true;
    say(words);
  }
  void begin_paragraph() { in_prose_ = false; }
  /// Behind a heading no paragraph has to be begun.
  void begin_text() {
    in_prose_ = true;
    in_key_ = false;
  }

  std::string page_;
  std::set<std::string> seen_;
  bool skips_ = false, in_key_ = false, in_prose_ = false;
};

}  // namespace

std::string configuration_page() {
  KeyPage page;
  std::istringstream text(starting_configuration());
  std::string line;
  while (std::getline(text, line) && !line.empty()) {
  }  // what the file says of itself
  while (std::getline(text, line)) page.line(line);
  return page_head("layright.toml", 5, "what a shop prints on, with what, and what must come out") +
         ".SH DESCRIPTION\nFound in the working folder or above it, else in layright/ in the user's configuration folder; \\-\\-config names "
         "another.\n"
         "layright init writes one with all keys in it. A key that is not known is an error that names the line and the nearest key.\n"
         "Every length has its unit: in, mm, cm or pt. Relative paths count from the folder of the file.\n" +
         page.take() + ".SH SEE ALSO\nlayright(1), layright\\-init(1), layright\\-findings(7), layright\\-watch\\-folder(7)\n";
}

}  // namespace layright
