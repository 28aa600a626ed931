#include "job/known_file.h"

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <nlohmann/json.hpp>

#include "job/check_work.h"
#include "report/toner_cost.h"

namespace layright {
namespace {

template <class Space>
std::optional<Rect<Space>> rect_from(Json const& list) {
  if (!list.is_array() || list.size() != 4) return std::nullopt;
  for (auto const& number : list)
    if (!number.is_number()) return std::nullopt;
  return Rect<Space>{list[0].get<double>(), list[1].get<double>(), list[2].get<double>(), list[3].get<double>()};
}

class Collector : public Report {
 public:
  Collector(KnownFile& known, bool laid) : known_(known), laid_(laid) {}
  void begin_file(FileHead const&) override {}
  void page(ToldPage const& told) override {
    Json const page = Json::parse(told.json);
    Json const findings = page.value("findings", Json::array());
    bool const placed = page.contains("placement") && page["placement"].is_object();
    auto ink = placed ? rect_from<SheetSpace>(page["placement"].value("ink_on_sheet_pt", Json())) : std::nullopt;
    auto const seen = rect_from<SeenSpace>(page.value("ink_pt", Json()));
    if (page.value("verdict", "") == "ready" && seen) ink = Rect<SheetSpace>{seen->x0, seen->y0, seen->x1, seen->y1};
    known_.ink = united(known_.ink, ink);
    if (seen) ink_area_ += seen->area();
    for (auto const& image : page.value("images", Json::array()))
      if (auto const where = rect_from<SeenSpace>(image.value("where_pt", Json())); where && seen)
        if (auto const inked = intersection(*where, *seen)) image_area_ += inked->area();
    auto const reading = page.value("reading", "unknown");
    auto now = reading == "right" ? Reading::right : reading == "wrong" ? Reading::wrong : reading == "mixed" ? Reading::mixed : Reading::unknown;
    if (laid_ && placed && page["placement"].value("reversed", false)) now = reversed(now);
    known_.file.reading = pages_ == 0 || known_.file.reading == now ? now : Reading::mixed;
    add_toner(page);
    ++pages_;
    tell(findings_from(findings), "page " + std::to_string(told.number) + (told.member.empty() ? "" : " (" + told.member + ")") + ": ");
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
  void add_toner(Json const& page) {
    auto const toner = page.find("toner");
    if (toner == page.end()) return;
    cost_ += toner->value("cost", 0.0);
    for (auto const& ink : toner->value("inks", Json::array()))
      if (auto const name = ink.value("name", ""); !ink.contains("cost") && std::find(without_.begin(), without_.end(), name) == without_.end()) without_.push_back(name);
    known_.file.toner = toner_words(cost_, toner->value("currency", ""), without_);
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
