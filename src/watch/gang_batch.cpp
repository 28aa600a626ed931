#include "watch/gang_batch.h"

#include <algorithm>
#include <map>
#include <numeric>

#include "gang/gang.h"
#include "job/gang_layout.h"

namespace layright {
namespace {

constexpr int kEffort = 100;             // of arrangements that only decide who goes: what is laid is arranged with all effort
constexpr std::size_t kMostTried = 200;  // pieces that are tried one by one beside those that must go

class Chooser {
 public:
  Chooser(std::vector<WaitingPiece> const& waiting, Target const& target) : waiting_(waiting), turns_(target.ganged.turns) {
    auto const live = live_area_of_gang(target);
    rules_ = {live.width(), live.height(), target.ganged.gap.in_points(), target.ganged.cuts == Cuts::straight ? Cuts::straight : Cuts::free,
              kEffort};
  }

  /// In sheets.
  double share(std::size_t i) const {
    double area = 0;
    for (auto const& box : waiting_[i].boxes) area += (box.width + rules_.gap) * (box.height + rules_.gap) * waiting_[i].count;
    return area / ((rules_.width + rules_.gap) * (rules_.height + rules_.gap));
  }
  double share(std::vector<std::size_t> const& some) const {
    return std::accumulate(some.begin(), some.end(), 0.0, [&](double sum, std::size_t i) { return sum + share(i); });
  }

  std::vector<std::size_t> all() const {
    std::vector<std::size_t> out(waiting_.size());
    std::iota(out.begin(), out.end(), std::size_t{0});
    return out;
  }

  /// These, and what their sheets have room for.
  std::vector<std::size_t> with_company(std::vector<std::size_t> due) const {
    int const sheets = arranged(due).sheets;
    if (arranged(all()).sheets <= sheets) return all();
    std::size_t tried = 0;
    for (auto const i : all()) {
      if (std::ranges::find(due, i) != due.end() || tried >= kMostTried) continue;
      auto more = due;
      more.push_back(i);
      if (share(more) > sheets) continue;
      ++tried;
      if (arranged(more).sheets <= sheets) due = std::move(more);
    }
    std::ranges::sort(due);
    return due;
  }

  /// Those whose sheets are filled so far. What lies on several sheets keeps these together.
  std::vector<std::size_t> on_filled_sheets(double fill_pct) const {
    if (share(all()) * 100 < fill_pct) return {};
    auto const layout = arranged(all());
    std::vector<int> group(static_cast<std::size_t>(layout.sheets));
    std::iota(group.begin(), group.end(), 0);
    auto const group_of = [&](int sheet) { return group[static_cast<std::size_t>(sheet)]; };
    for (auto const& mine : layout.sheets_of)
      for (int const sheet : mine) {
        int const from = group_of(sheet), to = group_of(mine.front());
        std::ranges::replace(group, from, to);
      }
    std::vector<double> filled(group.size()), sheets(group.size());
    for (auto const each : group) ++sheets[static_cast<std::size_t>(each)];
    auto const group_of_piece = [&](std::size_t i) { return static_cast<std::size_t>(group_of(layout.sheets_of[i].front())); };
    for (auto const i : all()) filled[group_of_piece(i)] += share(i);
    std::vector<std::size_t> due;
    for (auto const i : all()) {
      auto const mine = group_of_piece(i);
      if (100 * filled[mine] >= fill_pct * sheets[mine]) due.push_back(i);
    }
    return due;
  }

 private:
  struct Arranged {
    int sheets = 0;
    std::vector<std::vector<int>> sheets_of;  // each waiting piece's
  };
  Arranged arranged(std::vector<std::size_t> const& some) const {
    std::vector<GangPiece> pieces;
    std::vector<std::size_t> owner;
    for (auto const i : some)
      for (auto const& box : waiting_[i].boxes)
        for (int n = 0; n < waiting_[i].count; ++n) {
          pieces.push_back({box.width, box.height, turns_});
          owner.push_back(i);
        }
    Arranged out;
    out.sheets_of.resize(waiting_.size());
    auto const layout = arrange_gang(pieces, rules_);
    // What does not fit any more, since the target has changed, is told when it is laid: here each has a sheet.
    out.sheets = layout ? layout->sheets : static_cast<int>(pieces.size());
    for (std::size_t p = 0; p < pieces.size(); ++p) out.sheets_of[owner[p]].push_back(layout ? layout->slots[p].sheet : static_cast<int>(p));
    return out;
  }

  std::vector<WaitingPiece> const& waiting_;
  PieceTurns turns_;
  GangRules rules_;
};

}  // namespace

GangChoice choose_batch(std::vector<WaitingPiece> const& waiting, Target const& target, long long now) {
  GangChoice choice;
  if (waiting.empty()) return choice;
  Chooser const chooser(waiting, target);
  long long const longest = target.gang.waits ? target.gang.longest.count() : 0;  // nobody waits any more where the target does not gang
  std::vector<std::size_t> due;
  for (std::size_t i = 0; i < waiting.size(); ++i) {
    auto const until = waiting[i].since + longest;
    if (waiting[i].now || until <= now) due.push_back(i);
    else choice.next_due = std::min(choice.next_due.value_or(until), until);
  }
  choice.due = due.empty() ? chooser.on_filled_sheets(target.gang.fill_pct) : chooser.with_company(std::move(due));
  return choice;
}

double gang_fill_pct(std::vector<WaitingPiece> const& waiting, Target const& target) {
  Chooser const chooser(waiting, target);
  return 100 * chooser.share(chooser.all());
}

Result<std::vector<WaitingSheet>> waiting_sheets(Ledger const& ledger, Intake const& intake, Configuration const& configuration) {
  auto const waiting = ledger.waiting(intake.name);
  if (!waiting) return waiting.error();
  std::map<std::string, std::vector<WaitingPiece>> by_target;
  for (auto const& entry : *waiting)
    if (auto piece = parse_waiting_piece(entry.gang); piece && configuration.targets.contains(entry.target))
      by_target[entry.target].push_back(std::move(*piece));
  std::vector<WaitingSheet> out;
  for (auto const& [name, pieces] : by_target) {
    auto const& target = configuration.targets.at(name);
    auto const oldest = std::ranges::min(pieces, {}, &WaitingPiece::since).since;
    out.push_back({intake.name, name, static_cast<int>(pieces.size()), gang_fill_pct(pieces, target), target.gang.fill_pct, oldest});
  }
  return out;
}

}  // namespace layright
