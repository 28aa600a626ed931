#include "report/reading_picture.h"

#include <nlohmann/json.hpp>

#include "base/module.h"
#include "report/proof_module/entry.h"
#include "report/report.h"

namespace layright {
namespace {

std::string words_of(Json const& side) {
  std::string line;
  for (auto const& word : side.at("words")) line += (line.empty() ? "" : " ") + word.get<std::string>();
  return shown_name(line);
}

}  // namespace

ReadingPicturePage reading_picture_page(Json const& json, std::string const& file) {
  ReadingPicturePage page;
  page.file = shown_name(file);
  page.number = json.value("number", 1);
  if (auto const size = json.find("seen_size_pt"); size != json.end()) page.seen = {size->at(0).get<double>(), size->at(1).get<double>()};
  page.reading = json.value("reading", "unknown");
  page.told_by = json.value("reading_from", "none");
  page.sentence = shown_name(json.value("reading_sentence", ""));
  page.letters = json.value("reading_letters", "");
  auto const evidence = json.find("reading_evidence");
  if (evidence == json.end()) return page;
  if (auto const text = evidence->find("text"); text != evidence->end()) {
    page.text_right = text->value("right", 0L);
    page.text_wrong = text->value("wrong", 0L);
  }
  if (auto const letters = evidence->find("letters"); letters != evidence->end())
    for (auto const& line : letters->at("lines")) {
      auto const& w = line.at("where_pt");
      page.lines.push_back({{w.at(0).get<double>(), w.at(1).get<double>(), w.at(2).get<double>(), w.at(3).get<double>()}, words_of(line.at("right")),
                            words_of(line.at("wrong")), line.at("right").value("doubt", 1.0), line.at("wrong").value("doubt", 1.0), line.value("evidence", 0.0)});
    }
  return page;
}

Result<std::string> make_reading_picture(ReadingPicture const& picture) {
  auto const found = load_from_module("layright-proof", kReadingPictureEntry);
  if (!found) return found.error();
  std::string text;
  if (reinterpret_cast<ReadingPictureEntry>(*found)(picture, text)) return text;
  return Error{ErrorKind::internal, "the picture of how it reads could not be made: " + text};
}

}  // namespace layright
