#include "job/laid_pieces.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <set>

#include "job/lay_job.h"
#include "job/page_drawing.h"
#include "job/page_shape.h"

namespace layright {
namespace {

/// Keeps what a file's job tells.
class KindReport : public Report {
 public:
  explicit KindReport(LaidKind& kind) : kind_(kind) {}
  void begin_file(FileHead const& head) override { kind_.head = head; }
  void page(PageSummary const& page) override { kind_.pages.push_back(page); }
  void end_file(FileHead const&, FileTail const& tail) override { kind_.tail = tail; }
  void end_run(Verdict) override {}

 private:
  LaidKind& kind_;
};

/// But for how many there are of it, and what they are called.
bool alike(OrderedPiece a, OrderedPiece const& b) {
  a.count = b.count;
  a.label = b.label;
  a.turns = b.turns;  // what comes of it is compared
  return a == b;
}

std::shared_ptr<InspectOptions const> options_for(OrderedPiece const& piece, PieceTurns turns, InspectOptions const& all) {
  auto options = std::make_shared<InspectOptions>(all);
  auto& placement = options->target.placement;
  placement.width = piece.width;
  placement.height = piece.height;
  placement.asked.size = piece.width || piece.height || !piece.scale.empty();
  if (!piece.scale.empty()) (void)parse_scale(piece.scale, placement);  // check() has read it
  if (turns == PieceTurns::none) placement.turn = Turn::none;
  if (auto const pages = PageChoice::parse(piece.pages); pages && !piece.pages.empty()) options->pages = *pages;
  if (piece.incoming) options->incoming = piece.incoming;
  options->selection.accept.insert(piece.accept.begin(), piece.accept.end());
  return options;
}

}  // namespace

/// Lays one file, then draws its pages where outlines are wanted. It holds descriptors only while it runs.
class LaidPieces::Laying : public JobChain {
 public:
  Laying(OrderedPiece const& piece, PieceTurns turns, InspectOptions const& options, bool by_shape, std::filesystem::path const& beside)
      : options_(options_for(piece, turns, options)), by_shape_(by_shape), beside_(beside) {
    kind.piece = piece;
    kind.turns = turns;
  }
  LaidKind kind;

 protected:
  void more() override {
    switch (step_) {
      case Step::lay: return lay();
      case Step::take: return take();
      case Step::draw: return take_shape();
      case Step::over: return;
    }
  }

 private:
  enum class Step { lay, take, draw, over };

  void lay() {
    LayOptions lay;
    lay.output = beside_;
    lay.replace = true;  // it gets no name
    lay.keep_back = true;
    lay.plates = false;  // they are made of whole sheets
    laying_ = std::make_shared<LayJob>(kind.piece.file, options_, lay);
    add(laying_);
    step_ = Step::take;
  }

  void take() {
    step_ = Step::over;
    KindReport report(kind);
    laying_->story().release(report);
    kind.ready = laying_->written();
    kind.deaths = laying_->deaths();
    kind.trouble = laying_->trouble() ? laying_->trouble() : laying_->output_trouble();
    kind.tail.piece_ready = kind.ready;
    kind.tail.output.clear();
    kind.tail.wanted_output.clear();
    if (kind.ready) keep(laying_->take_output());
    laying_.reset();
  }

  void keep(OutputFile const& output) {
    kind.trouble.reset();
    kind.laid = KeptFile::of(output.descriptor());
    if (!kind.laid) {
      kind.ready = false;
      kind.trouble = ErrorKind::io;
    } else if (by_shape_) {
      if (auto input = InputFile::of(output.descriptor(), kind.piece.file)) input_ = std::move(*input);
      draw_next();
    }
  }

  /// A page that cannot be drawn counts by its box.
  void draw_next() {
    while (kind.shapes.size() < kind.pages.size() && !input_) keep_shape(std::nullopt);
    if (kind.shapes.size() == kind.pages.size()) return input_.reset();
    drawing_ = std::make_shared<DrawingJob>(input_, static_cast<int>(kind.shapes.size()) + 1, shape_picture_side(options_->target), *options_, true);
    add(drawing_);
    step_ = Step::draw;
  }

  void take_shape() {
    step_ = Step::over;
    keep_shape(drawing_->picture);
    drawing_.reset();
    draw_next();
  }

  void keep_shape(std::optional<PagePicture> const& picture) {
    kind.shapes.push_back(ink_shape_of(picture, *kind.pages[kind.shapes.size()].placement, options_->target));
  }

  std::shared_ptr<InspectOptions const> options_;
  bool by_shape_;
  std::filesystem::path beside_;
  std::shared_ptr<LayJob> laying_;
  std::shared_ptr<InputFile> input_;
  std::shared_ptr<DrawingJob> drawing_;
  Step step_ = Step::lay;
};

LaidPieces::LaidPieces(GangOrder order, InspectOptions options, GangOptions const& ganged, std::filesystem::path beside)
    : order_(std::move(order)), options_(std::move(options)), ganged_(ganged), beside_(std::move(beside)) {
  for (auto const& piece : order_.pieces) {
    auto const turns = piece.turns.value_or(ganged.turns);
    auto const known = std::ranges::find_if(layings_, [&](auto const& l) { return l->kind.turns == turns && alike(l->kind.piece, piece); });
    kind_of_.push_back(static_cast<std::size_t>(known - layings_.begin()));
    if (known == layings_.end()) layings_.push_back(std::make_shared<Laying>(piece, turns, options_, ganged_.cuts == Cuts::shape, beside_));
  }
}

LaidPieces::~LaidPieces() = default;

Outcome LaidPieces::check() const {
  for (auto const& piece : order_.pieces) {
    if (auto const pages = PageChoice::parse(piece.pages); !piece.pages.empty() && !pages) return pages.error();
    PlacementOptions scale;
    if (auto const read = parse_scale(piece.scale, scale); !piece.scale.empty() && !read) return read;
  }
  return done();
}

std::shared_ptr<Job> LaidPieces::next() { return next_ < layings_.size() ? layings_[next_++] : nullptr; }

std::vector<LaidKind const*> LaidPieces::kinds() const {
  std::vector<LaidKind const*> all;
  for (auto const& laying : layings_) all.push_back(&laying->kind);
  return all;
}

LaidKind const& LaidPieces::kind_of(std::size_t piece) const { return layings_[kind_of_[piece]]->kind; }

bool LaidPieces::all_ready() const {
  return std::ranges::all_of(layings_, [](auto const& laying) { return laying->kind.ready; });
}

std::vector<WantedPage> LaidPieces::wanted_pages() const {
  std::vector<int> first{1};  // of each kind's pages among all that were laid
  for (auto const* kind : kinds()) first.push_back(first.back() + static_cast<int>(kind->pages.size()));
  std::vector<WantedPage> wanted;
  for (std::size_t i = 0; i < order_.pieces.size(); ++i) {
    auto const& piece = order_.pieces[i];
    auto const& kind = kind_of(i);
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
  for (auto const& laying : layings_) files.push_back({shown_name(laying->kind.head.path), std::move(laying->kind.laid)});
  return files;
}

void LaidPieces::tell(Report& report) const {
  Verdict worst = Verdict::ready;
  for (auto const* kind : kinds()) {
    report.begin_file(kind->head);
    for (auto const& page : kind->pages) report.page(page);
    report.end_file(kind->head, kind->tail);
    worst = worse(worst, kind->tail.verdict);
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
  for (auto const* kind : kinds()) {
    if (kind->ready) continue;
    if (kind->tail.accept.empty()) return {};
    checks.insert(kind->tail.accept.begin(), kind->tail.accept.end());
  }
  std::string text;
  for (auto const& check : checks) text += (text.empty() ? "" : ",") + check;
  return text;
}

}  // namespace layright
