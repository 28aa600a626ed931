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
  void page(PageSummary const& reported) override {
    if (reported.is_plate) return;  // it tells nothing of the art
    auto ink = reported.placement ? reported.placement->ink : std::nullopt;
    auto const& seen = reported.ink;
    if (reported.verdict == Verdict::ready && seen) ink = Rect<SheetSpace>{seen->x0, seen->y0, seen->x1, seen->y1};
    known_.ink = united(known_.ink, ink);
    if (seen) ink_area_ += seen->area();
    if (reported.images && seen)
      for (auto const& image : *reported.images)
        if (auto const inked = intersection(image.where, *seen)) image_area_ += inked->area();
    auto now = reported.reading ? reported.reading->reading : Reading::unknown;
    if (laid_ && reported.placement && reported.placement->reversed) now = reversed(now);
    known_.file.reading = pages_ == 0 || known_.file.reading == now ? now : Reading::mixed;
    if (reported.toner) add_toner(*reported.toner);
    else not_priced_ = true;
    if (not_priced_) known_.toner_cost.reset();
    ++pages_;
    report(reported.findings, "page " + std::to_string(reported.number) + (reported.member.empty() ? "" : " (" + reported.member + ")") + ": ");
  }
  void end_file(FileHead const& head, FileTail const& tail) override {
    known_.file.sha256 = head.sha256;
    known_.file.pages = head.page_count;
    known_.format = head.format;
    known_.verdict = tail.verdict;
    report(tail.findings, "");
    if (image_area_ > 0 && image_area_ >= ink_area_ / 2) known_.render = Render::pictures;
  }
  void end_run(Verdict) override {}

 private:
  /// Of all pages together.
  void add_toner(TonerCost const& toner) {
    cost_ += toner.cost;
    for (auto const& name : without_price(toner))
      if (std::find(without_.begin(), without_.end(), name) == without_.end()) without_.push_back(name);
    known_.toner_cost = cost_;
    known_.currency = toner.currency;
    known_.file.toner = toner_words(cost_, toner.currency, without_);
  }
  void report(std::vector<Finding> const& findings, std::string const& where) {
    for (auto const& f : findings)
      if (f.level != Level::note && !f.accepted) known_.reported.push_back(where + f.message);
  }
  KnownFile& known_;
  bool laid_;
  double ink_area_ = 0, image_area_ = 0, cost_ = 0;
  std::vector<std::string> without_;
  int pages_ = 0;
  bool not_priced_ = false;  // a page
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
