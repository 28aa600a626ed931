// Reads the pages of make_pages.py by their letters and says how often that decides, by kind, and how far right and wrong lie apart.
//   measure FOLDER [--lines] [WORD-OF-KIND-OR-FILE]
//   measure --both FILE…     first pages of any files, as they are and reversed; nothing is known of them but that the two answers
//                            must be each other's reversal
//   measure --glyphs FILE…   letters of live text on each page, tab by tab: file, page, how many tell, look alike reversed, belong to
//                            fonts that are not trusted
// Ends with 1 when an answer is wrong (in the second form: when the answers contradict each other), with 2 when fewer than 97 % of the easy
// pages or fewer than 85 % of the legible pages are decided.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <ctime>
#include <fstream>
#include <iterator>
#include <map>
#include <span>
#include <sstream>
#include <string>
#include <vector>

#include "document/document.h"
#include "marks/reader.h"
#include "reading/letters.h"

extern "C" {
#include <mupdf/fitz.h>
}

namespace {
using namespace layright;

struct PageCase {
  std::string file, kind, reading, turn, rotate, language, font, text;
};
struct Tally {
  int count = 0, decided = 0, wrong = 0, mixed = 0;
  std::vector<double> seconds;
};

char const* word_of(Reading r) { return r == Reading::right ? "right" : r == Reading::wrong ? "wrong" : r == Reading::mixed ? "mixed" : "unknown"; }

std::vector<PageCase> cases_in(std::string const& folder) {
  std::ifstream table(folder + "/pages.tsv");
  std::vector<PageCase> out;
  for (std::string row; std::getline(table, row);) {
    std::istringstream cells(row);
    PageCase c;
    for (std::string* cell : {&c.file, &c.kind, &c.reading, &c.turn, &c.rotate, &c.language, &c.font, &c.text}) std::getline(cells, *cell, '\t');
    out.push_back(c);
  }
  return out;
}

std::optional<PagePicture> picture_of(fz_context* c, std::string const& path, double margin) {
  fz_document* document = nullptr;
  fz_page* page = nullptr;
  fz_rect seen = fz_empty_rect;
  fz_var(document);
  fz_var(page);
  fz_try(c) {
    document = fz_open_document(c, path.c_str());
    page = fz_load_page(c, document, 0);
    seen = fz_bound_page(c, page);
  }
  fz_catch(c) std::fprintf(stderr, "%s cannot be opened\n", path.c_str());
  if (!page) return std::nullopt;
  Rect<SeenSpace> const ink = Rect<SeenSpace>{0, 0, seen.x1 - seen.x0, seen.y1 - seen.y0}.grown(-margin);
  auto picture = draw_page(c, page, ink, dpi_for_letters(ink));
  fz_drop_page(c, page);
  fz_drop_document(c, document);
  return picture;
}

double part_of(std::vector<double> v, double part) {
  if (v.empty()) return 0;
  std::sort(v.begin(), v.end());
  return v[static_cast<std::size_t>(part * static_cast<double>(v.size() - 1))];
}

PagePicture reversed(PagePicture picture) {
  for (int y = 0; y < picture.height; ++y)
    for (int left = 0, right = picture.width - 1; left < right; ++left, --right)
      for (int k = 0; k < 3; ++k) {
        std::size_t const row = static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width);
        std::swap(picture.rgb[3 * (row + static_cast<std::size_t>(left)) + static_cast<std::size_t>(k)],
                  picture.rgb[3 * (row + static_cast<std::size_t>(right)) + static_cast<std::size_t>(k)]);
      }
  return picture;
}

/// Both answers of each file; the number of contradictions.
int both_ways(fz_context* c, std::vector<std::string> const& files) {
  auto engine = prepare_letters({"eng"});
  if (!engine) return 1;
  int contradictions = 0;
  for (std::string const& file : files) {
    auto const picture = picture_of(c, file, 0);
    if (!picture) continue;
    std::clock_t const start = std::clock();
    LettersResult const a = read_letters(**engine, *picture);
    double const seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    LettersResult const b = read_letters(**engine, reversed(*picture));
    bool const bad = layright::reversed(a.reading) != b.reading && a.reading != Reading::unknown && b.reading != Reading::unknown;
    contradictions += bad;
    std::printf("%s\t%s\t%s\t%s\t%.0f ms\t", file.c_str(), word_of(a.reading), word_of(b.reading),
                bad                                          ? "CONTRADICTION"
                : a.reading == layright::reversed(b.reading) ? "same"
                                                             : "one unknown",
                1000 * seconds);
    for (std::string const& word : a.words) std::printf("%s ", word.c_str());
    std::printf("\n");
    std::fflush(stdout);
  }
  return contradictions;
}

/// The first page of a file and its marks.
struct OpenedPage {
  explicit OpenedPage(std::string const& path) {
    std::ifstream in(path, std::ios::binary);
    bytes.assign(std::istreambuf_iterator<char>(in), {});
    auto const all = std::as_bytes(std::span(bytes.data(), bytes.size()));
    auto opened = Document::open(all, path, "");
    auto found = MarksReader::open(all, "");
    if (!std::holds_alternative<std::unique_ptr<Document>>(opened) || !found) return;
    document = std::get<std::unique_ptr<Document>>(std::move(opened));
    reader = std::move(*found);
    marks = reader->read(document->page(1), {});
  }
  std::string bytes;
  std::unique_ptr<Document> document;
  std::unique_ptr<MarksReader> reader;
  Marks marks;
};

int count_glyphs(std::vector<std::string> const& files) {
  for (std::string const& file : files) {
    std::ifstream in(file, std::ios::binary);
    std::string const text{std::istreambuf_iterator<char>(in), {}};
    auto const bytes = std::as_bytes(std::span(text.data(), text.size()));
    auto opened = Document::open(bytes, file, "");
    auto const reader = MarksReader::open(bytes, "");
    if (!std::holds_alternative<std::unique_ptr<Document>>(opened) || !reader) return 1;
    Document const& document = *std::get<std::unique_ptr<Document>>(opened);
    MarksWanted wanted;
    wanted.ink = wanted.frames = wanted.cut = false;
    wanted.text = true;
    for (int page = 1; page <= document.page_count(); ++page) {
      TextReadingResult const found = (*reader)->read(document.page(page), wanted).text;
      std::printf("%s\t%d\t%ld\t%ld\t%ld\n", file.c_str(), page, found.right + found.wrong, found.symmetric, found.doubted);
    }
  }
  return 0;
}

/// Plain faces, which scripts are not, as outlines, and as pixels at 150 to 300 to the inch.
bool is_easy(std::string const& kind, std::string const& font) {
  constexpr char const* kScripts[] = {"Dancing Script", "Lobster Two", "Kaushan Script", "Z003", "Rufscript", "Leckerli One"};  // of make_pages.py
  if (std::find(std::begin(kScripts), std::end(kScripts), font) != std::end(kScripts)) return false;
  constexpr char const* kEasy[] = {"live",    "outlined",   "outlined by Ghostscript", "pixels 150", "pixels 300", "dark ground", "colour on colour",
                                   "accents", "small print"};
  return std::find(std::begin(kEasy), std::end(kEasy), kind) != std::end(kEasy);
}

void print_line(PageCase const& c, LineSaid const& line) {
  std::printf(
      "  line\t%s\t%s\t%.1f\t%.3f\t%.3f\t%.0f\t%+.3f\t%zu blobs %.2f aligned %.2f heights %.0f sq pt\tshapes %+.1f of %d%s %+.1f turned %.1f\t%s",
      c.file.c_str(), c.reading.c_str(), line.promise, line.doubt_right, line.doubt_wrong, line.letters, line.evidence, line.likeness.blobs,
      line.likeness.aligned, line.likeness.heights, line.area, line.shapes.right(), line.shapes.glyphs, line.shapes.even ? " even" : "",
      line.by_shapes, line.shapes.turned, line.confirmed ? "again: " : "");
  for (std::string const& word : line.words) std::printf("%s ", word.c_str());
  std::printf("\n");
}
}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return 64;
  std::string const folder = argv[1];
  if (folder == "--glyphs") return count_glyphs({argv + 2, argv + argc});
  bool const lines = argc > 2 && std::strcmp(argv[2], "--lines") == 0;
  std::string const only = argc > (lines ? 3 : 2) ? argv[lines ? 3 : 2] : "";
  fz_context* const c = fz_new_context(nullptr, nullptr, FZ_STORE_DEFAULT);
  fz_register_document_handlers(c);
  if (folder == "--both") return both_ways(c, {argv + 2, argv + argc}) > 0;
  std::map<std::string, std::unique_ptr<LetterEngine>> engines;
  std::map<std::string, Tally> tallies;
  Tally all, legible, easy;
  for (PageCase const& one : cases_in(folder)) {
    if (one.kind.find(only) == std::string::npos && one.file.find(only) == std::string::npos) continue;
    auto& engine = engines[one.language];
    if (!engine) {
      auto loaded = prepare_letters({one.language});
      if (!loaded) {
        std::printf("%s\n", loaded.error().message.c_str());
        return 1;
      }
      engine = std::move(*loaded);
    }
    OpenedPage const opened(folder + "/" + one.file);
    if (!opened.reader || !opened.marks.ink) return 1;
    std::clock_t const start = std::clock();
    auto const picture = opened.reader->picture_of_letters(opened.document->page(1), opened.marks, LiveText::drawn, false);
    if (!picture) return 1;
    double const drawn = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    LettersResult const result = read_letters(*engine, *picture);
    double const seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    std::string const answer = word_of(result.reading);
    bool const decided = answer != "unknown", wrong = decided && answer != one.reading;
    bool const reports = one.reading != "unknown" && !one.kind.starts_with("not for its reader");
    for (Tally* t : {&tallies[one.kind], &all, reports ? &legible : nullptr, is_easy(one.kind, one.font) ? &easy : nullptr}) {
      if (!t) continue;
      ++t->count;
      t->decided += decided && !wrong;
      t->wrong += wrong;
      t->seconds.push_back(seconds);
    }
    double evidence = 0;
    for (LineSaid const& line : result.lines) evidence += line.evidence;
    std::printf("%s\t%s\t%s\t%s\t%s\t%+.3f\t%d lines\t%d trials\t%.0f ms + %.0f ms\t%s\t%s%s\n", one.file.c_str(), one.kind.c_str(),
                one.reading.c_str(), answer.c_str(),
                wrong                   ? "WRONG"
                : one.reading != answer ? "undecided"
                                        : "ok",
                evidence, static_cast<int>(result.lines.size()), result.trials, 1000 * drawn, 1000 * (seconds - drawn), one.font.c_str(),
                one.text.c_str(),
                result.out_of_time ? "\tout of time"
                : result.seen      ? ""
                                   : "\tno letters");
    if (lines)
      for (LineSaid const& line : result.lines) print_line(one, line);
    std::fflush(stdout);
  }
  std::printf("\n%-28s %6s %8s %6s %9s %9s\n", "kind", "pages", "decided", "wrong", "median s", "worst s");
  tallies["(all)"] = all;
  tallies["(all with letters)"] = legible;
  tallies["(easy)"] = easy;
  for (auto const& [kind, t] : tallies)
    std::printf("%-28s %6d %7.1f%% %6d %9.2f %9.2f\n", kind.c_str(), t.count, 100.0 * t.decided / std::max(1, t.count), t.wrong,
                part_of(t.seconds, 0.5), part_of(t.seconds, 1));
  fz_drop_context(c);
  return all.wrong > 0 ? 1 : easy.decided < 0.97 * easy.count || legible.decided < 0.85 * legible.count ? 2 : 0;
}
