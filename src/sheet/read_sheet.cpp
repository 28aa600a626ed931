#include "sheet/read_tables.h"
#include "sheet/sizes.h"

namespace layright {

namespace {

constexpr char const* kMarginForms = "a length with its unit in quotes, such as \"0.25in\", or { left = \"0.25in\", bottom = …, right = …, top = … }";

/// The list has the order of the table's keys.
Outcome read_margin_list(TomlReader const& reader, Entry const& entry, toml::array const& list, Margins& into) {
  if (list.size() != 4) return reader.at(entry, "expected four lengths (left, bottom, right, top), but found " + std::to_string(list.size()));
  std::size_t at = 0;
  for (Length* const edge : {&into.left, &into.bottom, &into.right, &into.top})
    if (auto const read = reader.extent(*edge)({list[at++], entry.name}); !read) return read;
  return done();
}

}  // namespace

Setter margins_setter(TomlReader const& reader, Margins& into) {
  return [&reader, &into](Entry const& entry) -> Outcome {
    if (entry.node.is_table())
      return reader.table(entry, {{"left", reader.extent(into.left)},
                                  {"bottom", reader.extent(into.bottom)},
                                  {"right", reader.extent(into.right)},
                                  {"top", reader.extent(into.top)}});
    if (auto const* const list = entry.node.as_array()) return read_margin_list(reader, entry, *list, into);
    if (!entry.node.is_string()) return reader.unexpected(entry, kMarginForms);
    Length all;
    if (auto const read = reader.extent(all)(entry); !read) return read;
    into = Margins::all(all);
    return done();
  };
}

Outcome read_sheet(TomlReader const& reader, Entry const& entry, Unit unit, bool known, Sheet& sheet) {
  SheetSize size{sheet.width, sheet.length};
  auto const read = reader.table(entry, {{"size", reader.parsed(size, parse_size, "a size in quotes, such as \"8.5x17in\" or \"A4\""), !known},
                                         {"feed", reader.parsed(sheet.feed, parse_feed, "\"short-edge\" or \"long-edge\"")},
                                         {"margin", margins_setter(reader, sheet.margins)},
                                         {"price", [&](Entry const& from) { return reader.number(sheet.price.emplace())(from); }}});
  if (!read) return read;
  sheet.width = size.width;
  sheet.length = size.length;
  auto const fits = check_margins(sheet, unit);
  if (fits) return done();
  auto const* const margin = entry.node.as_table()->get("margin");
  return margin ? reader.at({*margin, "margin in " + entry.name}, fits.error().message) : reader.at(entry, fits.error().message);
}

}  // namespace layright
