// The picture of how a page reads: the page with its lines numbered, and each line cut out as it is and reversed, with what was read in it.
#include <algorithm>

#include "geometry/length.h"
#include "report/not_made.h"
#include "report/proof_module/cut_out.h"
#include "report/proof_module/entry.h"
#include "report/reading_picture.h"

namespace layright {
namespace {

// Points.
constexpr double kMargin = 28, kPage = 300, kGap = 26, kCut = 230, kCutHigh = 54, kText = 8.5, kLine = 11.5, kHead = 86;
constexpr double kDpi = 144;
constexpr Ink kMark{0.75, 0.10, 0.10}, kSettled{0.05, 0.35, 0.60};

/// How large a piece of the page is drawn in a window.
double scale_in(Rect<SeenSpace> const& piece, double w, double h) {
  return std::min(w / std::max(piece.width(), 1.0), h / std::max(piece.height(), 1.0));
}

CutOut cut_of(ReadingPictureLine const& line) { return cut_out(line.where, kCut, kCutHigh); }

double height_of(ReadingPictureLine const& line) { return 16 + cut_of(line).height + 3 * kLine; }

std::string first_of(ProofCanvas& pen, std::string const& text, double width) {
  auto const lines = pen.broken(text, width - 10, kText);
  return lines.empty() ? std::string() : lines.size() > 1 ? lines[0] + " …" : lines[0];
}

/// It was tried in one way only, in which it was read well.
bool agrees(ReadingPictureLine const& line) {
  return line.evidence == 0 && line.doubt_right >= 1 && line.doubt_wrong >= 1 && line.words_right.empty() != line.words_wrong.empty();
}
bool settled(ReadingPictureLine const& line) { return line.evidence != 0 || agrees(line); }

class Sheet {
 public:
  Sheet(ProofCanvas& pen, ReadingPicturePage const& page) : pen_(pen), page_(page) {
    if (page.picture.width > 0) pixels_ = cairo_pixels(page.picture, PaperWhite::kept);
  }
  ~Sheet() {
    if (pixels_ != nullptr) cairo_surface_destroy(pixels_);
  }
  Sheet(Sheet const&) = delete;
  Sheet& operator=(Sheet const&) = delete;

  void draw() {
    pen_.text(kMargin, kMargin + 6, first_of(pen_, page_.file + ", page " + std::to_string(page_.number), 560), 13, kInk, true);
    std::string words = "reads " + page_.reading + (page_.decided_by == "none" || page_.decided_by.empty() ? "" : " (" + page_.decided_by + ")");
    if (page_.text_right + page_.text_wrong > 0)
      words += "; live text: " + std::to_string(page_.text_right) + " letters right, " + std::to_string(page_.text_wrong) + " wrong";
    if (!page_.letters.empty()) words += "; other letters: " + page_.letters;
    pen_.text(kMargin, kMargin + 22, words, 10, kInk, true);
    double y = kMargin + 36;
    auto const reported = pen_.broken(page_.sentence, kPage + 2 * kCut + kGap, kText);
    for (std::size_t i = 0; i < reported.size() && i < 2; ++i, y += kLine) pen_.text(kMargin, y, reported[i], kText, kQuiet);
    draw_page();
    draw_lines();
  }

 private:
  void piece(Rect<SeenSpace> const& what, double scale, double x, double y, bool reversed) {
    if (pixels_ == nullptr) return;
    draw_cut_out(pen_, pixels_, page_.picture, what, scale, x, y, reversed);
  }

  void draw_page() {
    Rect<SeenSpace> const all{0, 0, page_.seen.width, page_.seen.height};
    double const scale = scale_in(all, kPage, 520), x = kMargin, y = kHead;
    piece(all, scale, x, y, false);
    pen_.outline(x, y, all.width() * scale, all.height() * scale, kPale, 0.6);
    int number = 0;
    for (auto const& line : page_.lines) {
      Rect<SeenSpace> const w = line.where.grown(2 / scale);
      double const left = x + w.x0 * scale, top = y + (all.y1 - w.y1) * scale;
      pen_.outline(left, top, w.width() * scale, w.height() * scale, kWhite, 2.6);
      pen_.outline(left, top, w.width() * scale, w.height() * scale, settled(line) ? kSettled : kMark, 1.2);
      pen_.text(left, top - 2, std::to_string(++number), 8, kInk, true);
    }
  }

  void draw_lines() {
    double const x = kMargin + kPage + kGap;
    double y = kHead;
    if (page_.lines.empty()) {
      pen_.text(x, y + 10,
                page_.letters == "none" ? "Nothing looks like letters."
                : page_.letters.empty() ? "Letters were not looked at: live text, a record or a person tells."
                                        : "No line could be cut out.",
                kText, kQuiet);
      return;
    }
    int number = 0;
    for (auto const& line : page_.lines) {
      CutOut const cut = cut_of(line);
      std::string const says = line.evidence > 0   ? "speaks for right"
                               : line.evidence < 0 ? "speaks for wrong"
                               : agrees(line)      ? "reads as the surest line does"
                                                   : "tells nothing by itself";
      pen_.text(x, y + 9, std::to_string(++number) + ". " + says, 9, settled(line) ? kSettled : kMark, true);
      y += 16;
      for (bool const reversed : {false, true}) {
        double const left = x + (reversed ? kCut + 8 : 0);
        piece(cut.piece, cut.scale, left, y, reversed);
        pen_.outline(left, y, cut.piece.width() * cut.scale, cut.height, kPale, 0.5);
        double const doubt = reversed ? line.doubt_wrong : line.doubt_right;
        std::string const words = reversed ? line.words_wrong : line.words_right;
        std::string const reported = words.empty() ? "nothing read" : words + (doubt < 1 ? "  (doubt " + format_number(doubt, 3) + ")" : "");
        pen_.text(left, y + cut.height + 10, first_of(pen_, std::string(reversed ? "reversed: " : "as it is: ") + reported, kCut), kText, kInk);
      }
      y += cut.height + 2 * kLine + 4;
    }
  }

  ProofCanvas& pen_;
  ReadingPicturePage const& page_;
  cairo_surface_t* pixels_ = nullptr;
};

double width_of_sheet() { return kMargin + kPage + kGap + 2 * kCut + 8 + kMargin; }
double height_of_sheet(ReadingPicturePage const& page) {
  double lines = 30;
  for (auto const& line : page.lines) lines += height_of(line);
  return kHead + std::max(lines, std::min(520.0, kPage * page.seen.height / std::max(page.seen.width, 1.0))) + kMargin;
}

std::string draw(ReadingPicture const& picture) {
  if (picture.pages.empty()) throw NotMade("there is no page to show");
  ProofCanvas pen(picture.form, kDpi, width_of_sheet(), height_of_sheet(picture.pages[0]));
  for (std::size_t i = 0; i < picture.pages.size() && (i == 0 || picture.form == ProofForm::pdf); ++i) {
    if (i > 0) pen.next_page(width_of_sheet(), height_of_sheet(picture.pages[i]));
    Sheet(pen, picture.pages[i]).draw();
  }
  return pen.finish();
}

}  // namespace
}  // namespace layright

extern "C" __attribute__((visibility("default"))) bool layright_make_reading_picture(layright::ReadingPicture const& picture, std::string& out) {
  try {
    out = layright::draw(picture);
    return true;
  } catch (...) {
    out = layright::why_not_made();
    return false;
  }
}
