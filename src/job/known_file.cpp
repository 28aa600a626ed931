#include "job/known_file.h"

#include <algorithm>
#include <cstdlib>
#include <ctime>

#include "job/check_work.h"
#include "report/toner_cost.h"

namespace layright {
namespace {

class Collector : public Report {
 public:
  Collector(KnownFile& known, bool laid) : known_(known), laid_(laid) {}
  void begin_file(FileHead const&) override {}
  void page(PageSummary const& told) override {
    auto ink = told.placement ? told.placement->ink : std::nullopt;
    auto const& seen = told.ink;
    if (told.verdict == Verdict::ready && seen) ink = Rect<SheetSpace>{seen->x0, seen->y0, seen->x1, seen->y1};
    known_.ink = united(known_.ink, ink);
    if (seen) ink_area_ += seen->area();
    if (told.images && seen)
      for (auto const& image : *told.images)
        if (auto const inked = intersection(image.where, *seen)) image_area_ += inked->area();
    auto now = told.reading ? told.reading->reading : Reading::unknown;
    if (laid_ && told.placement && told.placement->reversed) now = reversed(now);
    known_.file.reading = pages_ == 0 || known_.file.reading == now ? now : Reading::mixed;
    if (told.toner) add_toner(*told.toner);
    ++pages_;
    tell(told.findings, "page " + std::to_string(told.number) + (told.member.empty() ? "" : " (" + told.member + ")") + ": ");
  }
  void end_file(FileHead const& head, FileTail const& tail) override {
    known_.file.sha256 = head.sha256;
    known_.file.pages = head.page_count;
    known_.format = head.format;
    known_.verdict = tail.verdict;
    tell(tail.findings, "");
    if (image_area_ > 0 && image_area_ >= ink_area_ / 2) known_.render = Render::pictures;
  }
  void end_run(Verdict) override {}

 private:
  /// Of all pages together.
  void add_toner(TonerCost const& toner) {
    cost_ += toner.cost;
    for (auto const& name : without_price(toner))
      if (std::find(without_.begin(), without_.end(), name) == without_.end()) without_.push_back(name);
    known_.file.toner = toner_words(cost_, toner.currency, without_);
  }
  void tell(std::vector<Finding> const& findings, std::string const& where) {
    for (auto const& f : findings)
      if (f.level != Level::note && !f.accepted) known_.told.push_back(where + f.message);
  }
  KnownFile& known_;
  bool laid_;
  double ink_area_ = 0, image_area_ = 0, cost_ = 0;
  std::vector<std::string> without_;
  int pages_ = 0;
};

}  // namespace

std::unique_ptr<Report> report_into(KnownFile& known, bool laid) { return std::make_unique<Collector>(known, laid); }

Target settled(Target target, std::optional<KnownFile> const& file) {
  if (target.render == Render::automatic) target.render = file ? file->render : Render::graphics;
  return target;
}

std::string today() {
  char const* epoch = std::getenv("SOURCE_DATE_EPOCH");
  std::time_t const now = epoch ? static_cast<std::time_t>(std::strtoll(epoch, nullptr, 10)) : std::time(nullptr);
  std::tm parts{};
  gmtime_r(&now, &parts);
  char text[16];
  std::strftime(text, sizeof text, "%Y-%m-%d", &parts);
  return text;
}

}  // namespace layright
