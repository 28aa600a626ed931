#include "command/laid_pieces.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <deque>
#include <set>

#include "command/command.h"
#include "command/file_run.h"
#include "job/lay_job.h"
#include "job/page_drawing.h"
#include "job/page_shape.h"

namespace layright {
namespace {

/// Keeps what a file's job tells.
class KindReport : public Report {
 public:
  KindReport(FileHead& head, std::vector<PageSummary>& pages, FileTail& tail) : head_(head), pages_(pages), tail_(tail) {}
  void begin_file(FileHead const& head) override { head_ = head; }
  void page(PageSummary const& page) override { pages_.push_back(page); }
  void end_file(FileHead const&, FileTail const& tail) override { tail_ = tail; }
  void end_run(Verdict) override {}

 private:
  FileHead& head_;
  std::vector<PageSummary>& pages_;
  FileTail& tail_;
};

bool alike(OrderedPiece const& a, OrderedPiece const& b) {
  return a.file == b.file && a.pages == b.pages && a.width == b.width && a.height == b.height;
}

}  // namespace

LaidPieces::LaidPieces(GangOrder const& order, InspectOptions const& options, GangOptions const& ganged, LaidPiecesOptions const& how)
    : order_(order), options_(options), ganged_(ganged), how_(how) {
  for (auto const& piece : order.pieces) {
    auto const turns = piece.turns.value_or(ganged.turns);
    auto const known = std::ranges::find_if(kinds_, [&](auto const& k) { return k.turns == turns && alike(k.piece, piece); });
    kind_of_.push_back(static_cast<std::size_t>(known - kinds_.begin()));
    if (known == kinds_.end()) kinds_.push_back({piece, turns, {}, {}, {}, {}});
  }
}

std::shared_ptr<LayJob> LaidPieces::job_of(Kind const& kind) const {
  auto options = std::make_shared<InspectOptions>(options_);
  auto& placement = options->target.placement;
  placement.width = kind.piece.width;
  placement.height = kind.piece.height;
  placement.asked.size = kind.piece.width || kind.piece.height;
  if (kind.turns == PieceTurns::none) placement.turn = Turn::none;
  if (auto const pages = PageChoice::parse(kind.piece.pages); pages && !kind.piece.pages.empty()) options->pages = *pages;
  LayOptions lay;
  lay.output = how_.beside;
  lay.replace = true;  // it gets no name
  lay.keep_back = true;
  lay.plates = false;  // they are made of whole sheets
  return std::make_shared<LayJob>(kind.piece.file, options, lay);
}

void LaidPieces::take(Kind& kind, LayJob& job) const {
  KindReport report(kind.head, kind.pages, kind.tail);
  job.story().release(report);
  kind.status = job.written()          ? ExitStatus::ready
                : job.trouble()        ? status_of(*job.trouble())
                : job.output_trouble() ? status_of(*job.output_trouble())
                                       : ExitStatus::hold;
  kind.tail.piece_ready = job.written();
  kind.tail.output.clear();
  kind.tail.wanted_output.clear();
  if (!job.written()) return;
  auto const output = job.take_output();
  kind.laid = KeptFile::of(output.descriptor());
  if (!kind.laid) kind.status = ExitStatus::io;
  else if (ganged_.cuts == Cuts::shape) draw_shapes(kind, output.descriptor());
}

/// A page that cannot be drawn counts by its box.
void LaidPieces::draw_shapes(Kind& kind, int descriptor) const {
  auto const input = InputFile::of(descriptor, kind.piece.file);
  for (std::size_t p = 0; p < kind.pages.size(); ++p) {
    std::shared_ptr<DrawingJob> job;
    if (input) job = std::make_shared<DrawingJob>(*input, static_cast<int>(p) + 1, shape_picture_side(options_.target), options_, true);
    bool started = false;
    if (job) run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(started, true) ? nullptr : job; }, 1);
    kind.shapes.push_back(ink_shape_of(job ? job->picture : std::nullopt, *kind.pages[p].placement, options_.target));
  }
}

ExitStatus LaidPieces::run() {
  for (auto const& kind : kinds_)
    if (auto const pages = PageChoice::parse(kind.piece.pages); !kind.piece.pages.empty() && !pages) return fail(pages.error());
  // Those that are over go at once, whatever is still at work: each holds descriptors.
  std::vector<std::pair<std::size_t, std::shared_ptr<LayJob>>> running;
  auto const sweep = [&] {
    std::erase_if(running, [&](auto const& one) {
      if (!one.second->story().over()) return false;
      take(kinds_[one.first], *one.second);
      return true;
    });
  };
  std::size_t next = 0;
  run_jobs(
      [&]() -> std::shared_ptr<Job> {
        sweep();
        if (next == kinds_.size()) return nullptr;
        running.emplace_back(next, job_of(kinds_[next]));
        ++next;
        return running.back().second;
      },
      how_.parallel);
  sweep();
  auto worst = ExitStatus::ready;
  for (auto const& kind : kinds_) worst = worse(worst, kind.status);
  return worst;
}

std::vector<WantedPage> LaidPieces::wanted_pages() const {
  std::vector<int> first{1};  // of each kind's pages among all that were laid
  for (auto const& kind : kinds_) first.push_back(first.back() + static_cast<int>(kind.pages.size()));
  std::vector<WantedPage> wanted;
  for (std::size_t i = 0; i < order_.pieces.size(); ++i) {
    auto const& piece = order_.pieces[i];
    auto const& kind = kinds_[kind_of_[i]];
    for (std::size_t p = 0; p < kind.pages.size(); ++p) {
      auto const& page = kind.pages[p];
      std::string label = !piece.label.empty() ? piece.label : (order_.order.empty() ? "" : order_.order + "-") + std::to_string(i + 1);
      if (kind.pages.size() > 1) label += "." + std::to_string(page.number);
      wanted.push_back({piece.file.native(), kind.head.sha256, page.number, first[kind_of_[i]] + static_cast<int>(p), *page.placement, piece.count,
                        std::move(label), kind.turns, p < kind.shapes.size() ? kind.shapes[p] : nullptr});
    }
  }
  return wanted;
}

std::vector<KeptLaidFile> LaidPieces::take_files() {
  std::vector<KeptLaidFile> files;
  for (auto& kind : kinds_) files.push_back({shown_name(kind.head.path), std::move(kind.laid)});
  return files;
}

void LaidPieces::tell(Report& report) const {
  Verdict worst = Verdict::ready;
  for (auto const& kind : kinds_) {
    report.begin_file(kind.head);
    for (auto const& page : kind.pages) report.page(page);
    report.end_file(kind.head, kind.tail);
    worst = worse(worst, kind.tail.verdict);
  }
  report.end_run(worst);
}

std::string LaidPieces::json(Target const& target) const {
  char* text = nullptr;
  std::size_t size = 0;
  std::FILE* const out = open_memstream(&text, &size);
  tell(*json_report(out, target));
  std::fclose(out);
  std::string json(text, size);
  std::free(text);
  return json;
}

std::string LaidPieces::would_be_accepted() const {
  std::set<std::string> checks;
  for (auto const& kind : kinds_) {
    if (kind.status == ExitStatus::ready) continue;
    if (kind.tail.accept.empty()) return {};
    checks.insert(kind.tail.accept.begin(), kind.tail.accept.end());
  }
  std::string text;
  for (auto const& check : checks) text += (text.empty() ? "" : ",") + check;
  return text;
}

}  // namespace layright
