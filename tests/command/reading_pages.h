// Pages of a line of text, and what the program says of how they read.
#pragma once
#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "support/pdf_maker.h"
#include "support/places.h"
#include "support/program.h"

namespace layright::test {

using nlohmann::json;

inline constexpr char kSheet[] = "[0 0 612 1224]";  // 8.5 x 17 in: common practice, no published source

inline Ran layright(Folder const& folder, std::vector<std::string> words) {
  words.insert(words.begin(), layright::test::kProgram);
  return run(words, folder.path());
}

/// The first page of what `check` or `lay` tells, with the exit status as "status".
inline json reported(Folder const& folder, std::string const& command, std::vector<std::string> words) {
  words.insert(words.begin(), {command, "--format", "json"});
  auto const ran = layright(folder, words);
  INFO(ran.out << ran.err);
  json page = json::parse(ran.out)["files"][0]["pages"][0];
  page["status"] = ran.status;
  return page;
}

inline std::string reads(Folder const& folder, std::string const& name, std::vector<std::string> more = {}) {
  more.insert(more.begin(), {name, "--reading", "right"});
  json const page = reported(folder, "check", more);
  return page["reading"].get<std::string>() + " by " + page["reading_from"].get<std::string>();
}

inline bool finds(json const& page, std::string const& id) {
  return std::ranges::any_of(page["findings"], [&](json const& f) { return f["check"] == id; });
}

inline PageMaker& page_with_font(PdfMaker& pdf) { return pdf.page().media(kSheet).use("Font", "F", pdf.font("Times-Roman")); }

inline std::string words_at(int x, int y, std::string const& text = "Lanternwick fog", int size = 30) {
  return "BT /F " + std::to_string(size) + " Tf " + std::to_string(x) + " " + std::to_string(y) + " Td (" + text + ") Tj ET ";
}

inline void save(Folder const& folder, std::string const& name, std::string const& operators) {
  PdfMaker pdf;
  page_with_font(pdf).content(operators);
  pdf.save(folder / name);
}

inline std::string const kReversing = "-1 0 0 1 612 0 cm ";

}  // namespace layright::test
