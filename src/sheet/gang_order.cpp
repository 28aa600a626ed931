#include "sheet/gang_order.h"

#include "base/in_quotes.h"
#include "sheet/read_tables.h"
#include "sheet/toml_text.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

/// On or off, in quotes, or as TOML says it itself.
Setter on_off_setter(TomlReader const& reader, std::optional<bool>& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    if (entry.node.is_boolean()) return reader.flag(into.emplace())(entry);
    return reader.parsed(into.emplace(), parse_on_off, "\"on\" or \"off\"")(entry);
  };
}

Setter goods_length(TomlReader const& reader, std::optional<Length>& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    if (auto const read = reader.extent(into.emplace())(entry); !read) return read;
    return into->in_points() > 0 ? done() : Outcome(reader.at(entry, "the size of the art on the goods must be above zero"));
  };
}

/// One page, or several as --pages has them.
Setter pages_setter(TomlReader const& reader, std::string& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    if (!entry.node.is_integer()) return reader.text(into, "pages in quotes, such as \"1-3,7\"")(entry);
    int page = 0;
    if (auto const read = reader.whole(page, 1, 1'000'000)(entry); !read) return read;
    into = std::to_string(page);
    return done();
  };
}

/// Once known here, `lay` takes it too.
Setter scale_setter(TomlReader const& reader, std::string& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    auto const text = reader.text_of(entry, "keep, fit, shrink or a percentage such as 80%, in quotes");
    if (!text) return text.error();
    PlacementOptions none;
    if (auto const read = parse_scale(*text, none); !read) return reader.at(entry, read.error().message);
    into = *text;
    return done();
  };
}

Setter checks_setter(TomlReader const& reader, std::vector<std::string>& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    constexpr char kExpected[] = "a list of checks in quotes, such as [\"ink.guide\"]";
    auto const* const list = entry.node.as_array();
    if (list == nullptr) return reader.unexpected(entry, kExpected);
    for (auto const& node : *list) {
      auto const check = reader.text_of({node, entry.name}, kExpected);
      if (!check) return check.error();
      into.push_back(*check);
    }
    return done();
  };
}

Outcome read_piece(TomlReader const& reader, Entry const& entry, OrderedPiece& piece) {
  auto const turns = [&](Entry const& from) {
    return reader.parsed(piece.turns.emplace(), parse_piece_turns, "\"none\", \"quarter\" or \"any\"")(from);
  };
  auto const incoming = [&](Entry const& from) { return reader.parsed(piece.incoming.emplace(), parse_incoming, "\"right\" or \"wrong\"")(from); };
  auto const read = reader.table(entry, {{"file", reader.path(piece.file), true},
                                         {"pages", pages_setter(reader, piece.pages)},
                                         {"count", reader.whole(piece.count, 1, kMostCopies)},
                                         {"width", goods_length(reader, piece.width)},
                                         {"height", goods_length(reader, piece.height)},
                                         {"label", reader.text(piece.label)},
                                         {"turns", turns},
                                         {"incoming", incoming},
                                         {"scale", scale_setter(reader, piece.scale)},
                                         {"accept", checks_setter(reader, piece.accept)}});
  if (read && !piece.scale.empty() && (piece.width || piece.height))
    return reader.at({*entry.node.as_table()->get("scale"), "scale in " + entry.name}, "width and height already say how large the art is to be");
  return read;
}

Setter pieces_setter(TomlReader const& reader, std::vector<OrderedPiece>& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    auto const* const list = entry.node.as_array();
    if (list == nullptr || list->empty()) return reader.unexpected(entry, "one [[piece]] or more");
    for (auto const& node : *list) {
      if (!node.is_table()) return reader.unexpected({node, entry.name}, "a table, begun by [[piece]]");
      if (auto const read = read_piece(reader, {node, "[[piece]] " + std::to_string(into.size() + 1)}, into.emplace_back()); !read) return read;
    }
    return done();
  };
}

bool is_number(std::string_view text) { return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos; }

bool is_there(std::string const& name) {
  std::error_code ignored;
  return fs::exists(name, ignored);
}

}  // namespace

std::vector<Key> gang_keys(TomlReader const& reader, GangChoices& c) {
  return {
      {"cuts", [&](Entry const& from) { return reader.parsed(c.cuts.emplace(), parse_cuts, "\"straight\", \"free\" or \"shape\"")(from); }},
      {"turns", [&](Entry const& from) { return reader.parsed(c.turns.emplace(), parse_piece_turns, "\"none\", \"quarter\" or \"any\"")(from); }},
      {"gap",
       [&](Entry const& from) { return reader.parsed(c.gap.emplace(), parse_gap, "a length with its unit in quotes, such as \"0.25in\"")(from); }},
      {"marks", on_off_setter(reader, c.marks)},
      {"labels", on_off_setter(reader, c.labels)}};
}

GangOptions with_choices(GangOptions options, GangChoices const& c) {
  options.cuts = c.cuts.value_or(options.cuts);
  options.turns = c.turns.value_or(options.turns);
  options.gap = c.gap.value_or(options.gap);
  options.marks = c.marks.value_or(options.marks);
  options.labels = c.labels.value_or(options.labels);
  return options;
}

Result<GangOrder> load_gang_order(fs::path const& path) {
  auto const text = load_toml_text(path, "order");
  if (!text) return text.error();
  return parse_gang_order(*text, path);
}

Result<GangOrder> parse_gang_order(std::string_view text, fs::path const& path) {
  auto const whole = absolute_path(path);
  auto const parsed = parse_toml_text(text, whole, "order");
  if (!parsed) return parsed.error();
  GangOrder order;
  TomlReader const reader(whole);
  std::vector<Key> keys{{"order", reader.text(order.order)},
                        {"target", reader.text(order.target, "the name of a target in quotes")},
                        {"manifest", reader.path(order.manifest)},
                        {"white",
                         [&](Entry const& from) {
                           return reader.parsed(order.white.emplace(), parse_white,
                                                "\"off\", \"on\" or a share of one full layer in quotes, such as \"80%\"")(from);
                         }},
                        {"piece", pieces_setter(reader, order.pieces), true}};
  auto const more = gang_keys(reader, order.choices);
  keys.insert(keys.end(), more.begin(), more.end());
  if (auto const read = reader.table({*parsed, ""}, keys); !read) return read.error();
  return order;
}

Result<OrderedPiece> parse_ordered_piece(std::string const& word) {
  OrderedPiece piece;
  std::string rest = word;
  auto const fault = [&](std::string const& why) { return usage_error(in_quotes(word) + ": " + why); };
  if (!is_there(rest))
    if (auto const at = rest.rfind('@'); at != std::string::npos && at + 1 < rest.size() && std::isdigit(static_cast<unsigned char>(rest[at + 1]))) {
      auto const width = parse_length(rest.substr(at + 1));
      if (!width) return fault(width.error().message);
      if (width->in_points() <= 0) return fault("the width on the goods must be above zero");
      piece.width = *width;
      rest.resize(at);
    }
  if (!is_there(rest))
    if (auto const at = rest.rfind(':');
        at != std::string::npos && !rest.substr(at + 1).empty() && rest.find_first_not_of("-0123456789", at + 1) == std::string::npos) {
      auto const count = rest.substr(at + 1);
      if (!is_number(count) || count.size() > 5 || std::stoi(count) < 1 || std::stoi(count) > kMostCopies)
        return fault(in_quotes(count) + " is no count: write a whole number from 1 to " + std::to_string(kMostCopies));
      piece.count = std::stoi(count);
      rest.resize(at);
    }
  if (rest.empty()) return fault("it names no file");
  piece.file = rest;
  return piece;
}

}  // namespace layright
