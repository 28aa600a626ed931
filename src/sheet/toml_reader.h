// Reads a TOML table key by key into plain values. Every mistake is reported with file, line, column and what was expected.
#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/length.h"
#include "sheet/toml_library.h"

namespace layright {

/// A value of the file and how to speak of it: "margin in [sheet.narrow-film]".
struct Entry {
  toml::node const& node;
  std::string name;
};
/// Takes one entry into a place that it knows.
using Setter = std::function<Outcome(Entry const&)>;

struct Key {
  std::string_view name;
  Setter set;
  bool required = false;
};

class TomlReader {
 public:
  /// `path` is absolute: it is for messages, and relative paths in the file count from its folder.
  explicit TomlReader(std::filesystem::path path) : path_(std::move(path)) {}

  /// An error (usage) at the entry: "FILE:LINE:COLUMN: NAME: what".
  Error at(Entry const& entry, std::string const& what) const;
  /// "expected …, but found a boolean".
  Error unexpected(Entry const& entry, std::string const& expected) const;

  /// First refuses keys that are not in the list, then sets those that are there, in the list's order.
  Outcome table(Entry const& entry, std::vector<Key> const& keys) const;
  /// A table of named things, such as all [sheet.NAME], in the file's order.
  Outcome each(Entry const& entry, std::function<Outcome(std::string const& name, Entry const&)> const& read) const;

  /// A string that is not empty and has no control characters.
  Result<std::string> text_of(Entry const& entry, std::string const& expected) const;
  Setter text(std::string& into, std::string expected = "a text in quotes") const;
  Setter path(std::filesystem::path& into) const;
  Setter flag(bool& into) const;
  /// A finite number above zero.
  Setter number(double& into) const;
  Setter whole(int& into, int least, int most) const;
  /// A length of at least zero.
  Setter extent(Length& into) const;
  /// A string that `parse` turns into a value, or else says why not.
  template <class T, class Parse>
  Setter parsed(T& into, Parse parse, std::string expected) const {
    return [this, &into, parse, expected = std::move(expected)](Entry const& entry) -> Outcome {
      auto const text = text_of(entry, expected);
      if (!text) return text.error();
      auto value = parse(*text);
      if (!value) return at(entry, value.error().message);
      into = std::move(*value);
      return done();
    };
  }

 private:
  Error at_place(toml::source_region const& where, std::string const& what) const;
  std::filesystem::path path_;
};

/// A text as TOML writes it, in quotes; control characters become question marks.
std::string toml_text(std::string_view text);

/// "; did you mean "NAME"?", or the list of what there is, or nothing where there is nothing.
std::string hint(std::string_view word, std::vector<std::string> const& known);

}  // namespace layright
