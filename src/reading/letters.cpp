#include "reading/letters.h"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <deque>
#include <iterator>

#include "reading/letter_likeness.h"
#include "reading/line_places.h"
#include "reading/picture_channels.h"

namespace layright {
namespace {

// Chosen on teaching pages of tests/reading, as those of line_asker.cpp.
constexpr double kClear = kDecidingEvidence;
constexpr double kClearLine = 2.2;  // that at least one line must bring
constexpr double kClearBoth = 8;    // that one line each way must bring for a page to read both ways
// Of a line that speaks against the others: its characters, and how many times as doubtful it is their way, where some of them tell and where hardly one does.
constexpr double kFewestObject = 3, kWorse = 1.35, kMuchWorse = 2;
constexpr double kContrary = 0.3;  // share of the evidence that may point the other way

constexpr double kDetectPixels = 1.2e6;  // of the picture in which lines are found
constexpr std::size_t kMostRuns = 400000;
constexpr std::size_t kLinesOfStage = 4, kLinesAfterwards = 12, kStagesAfterwards = 3, kLinesToFind = 24;
constexpr std::ptrdiff_t kMostLooks = 2;
constexpr double kSecondsAfterwards = 0.7, kFarAway = 8;  // heights: beyond, a line is a piece of its own
// The least doubtful line of one, two, three that left a teaching page with letters undecided had at most 0.039, 0.033, 0.025; three
// quarters of the pages without letters are beyond 0.05 after two.
constexpr double kNoLetters = 0.06;  // doubt of the least doubtful way to lie, beyond which it is no line of letters
// Of what was not understood: doubt up to which it is taken for letters anywhere, and where it is not tiny, or large. Of teaching pages' rows of
// specks the engine made up to 0.043, of 0.2 % of the picture; of Arabic and Chinese words 0.04 to 0.07, of a fifth.
constexpr double kLegible = 0.035, kStrange = 0.08, kSmallShare = 0.005, kLargeShare = 0.05, kLeastShareOfRow = 0.002;
constexpr int kLoneHeight = 16;
constexpr std::size_t kMostLone = 6;
constexpr double kHope[] = {1, 0.05, 0.04};  // when the least doubtful of one, two, three and more lines is more doubtful, nothing is readable
constexpr double kWorthCounting = 1;         // evidence of a line that was understood
constexpr double kCertainLine = 0.008;       // doubt
constexpr double kLeastPromise = 1.3, kLeastLettersAfterwards = 3, kLeastPromiseAfterwards = 2;

/// One threshold of one channel.
struct Stage {
  GreyPicture const* full;
  BlobMap map;
  std::vector<LetterLine> lines;
  int by;  // how many times larger `full` is than what the blobs were found in
};

class Session {
 public:
  Session(LetterEngine& engine, PagePicture const& picture, double seconds) : asker_(engine), picture_(picture), seconds_(seconds) {}

  LettersResult run() {
    double const pixels = static_cast<double>(picture_.rgb.size() / 3);
    by_ = std::max(1, static_cast<int>(std::ceil(std::sqrt(pixels / kDetectPixels))));
    while (Stage const* stage = next_stage()) {
      try_lines(*stage, kLinesOfStage);
      if (over()) break;
    }
    if (!clear() && !late() && !channels_.empty()) look_through_screen();
    if (clear()) {
      for (std::size_t more = 0; more < kStagesAfterwards && !late() && next_stage(); ++more) {
      }
      look_for_others();
    }
    return conclude();
  }

 private:
  double seconds_gone() const { return static_cast<double>(std::clock() - begun_) / CLOCKS_PER_SEC; }
  bool late() { return result_.out_of_time = seconds_gone() > seconds_; }
  /// Evidence for right and for wrong so far.
  struct Sums {
    double right = 0, wrong = 0, strongest_right = 0, strongest_wrong = 0;
  };
  /// Of looks at one place only the strongest each way counts: they are no two witnesses.
  bool outdone(std::size_t line) const {
    double const evidence = result_.lines[line].evidence;
    for (std::size_t i = 0; i < result_.lines.size(); ++i) {
      double const other = result_.lines[i].evidence;
      bool const stronger = std::abs(other) > std::abs(evidence) || (other == evidence && i < line);
      if (i != line && other * evidence > 0 && stronger && overlap(places_[i], places_[line])) return true;
    }
    return false;
  }
  Sums sums() const {
    Sums s;
    for (std::size_t i = 0; i < result_.lines.size(); ++i) {
      if (outdone(i)) continue;
      double const evidence = result_.lines[i].evidence, e = std::abs(evidence);
      (evidence > 0 ? s.right : s.wrong) += e;
      double& strongest = evidence > 0 ? s.strongest_right : s.strongest_wrong;
      strongest = std::max(strongest, e);
    }
    return s;
  }
  Reading reading() const {
    Reading const said = by_evidence();
    return (said == Reading::right || said == Reading::wrong) && objected(said == Reading::right) ? Reading::unknown : said;
  }
  /// A line that is legible the other way and clearly less so this way speaks against it, however little it tells: another piece of the sheet
  /// may lie the other way round. Not where another look at its place speaks for it. A script that turns some of its letters is for a person.
  bool objected(bool right) const {
    for (std::size_t i = 0; i < result_.lines.size(); ++i) {
      LineSaid const& line = result_.lines[i];
      double const with = right ? line.doubt_right : line.doubt_wrong, against = right ? line.doubt_wrong : line.doubt_right;
      double const worse = line.letters >= 2 ? kWorse : kMuchWorse;
      bool const legible = !line.agrees && line.characters >= kFewestObject && against <= kLegible && with >= worse * against;
      bool const scrap = smooth_.width > 0 && channels_of_places_[i] != &smooth_ && !looks_like_letters(line.likeness);  // of the screen
      if (line.turns_letters || (legible && !scrap && !supported(i, right))) return true;
    }
    return false;
  }
  bool supported(std::size_t line, bool right) const {
    for (std::size_t i = 0; i < result_.lines.size(); ++i) {
      LineSaid const& other = result_.lines[i];
      double const with = right ? other.evidence : -other.evidence;
      if ((other.agrees || with >= kWorthCounting) && lies_in(places_[line], places_[i]) && lies_in(places_[i], places_[line])) return true;
    }
    return false;
  }
  Reading by_evidence() const {
    Sums const s = sums();
    bool const right = s.right >= kClear && s.strongest_right >= kClearLine, wrong = s.wrong >= kClear && s.strongest_wrong >= kClearLine;
    if (std::min(s.strongest_right, s.strongest_wrong) >= kClearBoth) return Reading::mixed;
    if (std::min(s.strongest_right, s.strongest_wrong) >= kClear) return Reading::unknown;  // one line that would decide alone speaks against it
    if (right && s.wrong <= kContrary * s.right) return Reading::right;
    if (wrong && s.right <= kContrary * s.wrong) return Reading::wrong;
    return Reading::unknown;
  }
  bool clear() const { return by_evidence() != Reading::unknown; }
  bool hopeless() const {
    if (result_.lines.empty()) return false;
    double const hope = kHope[std::min(result_.lines.size(), std::size(kHope)) - 1];
    return std::all_of(result_.lines.begin(), result_.lines.end(),
                       [&](LineSaid const& line) { return std::min(line.doubt_right, line.doubt_wrong) > hope; });
  }
  bool over() { return clear() || (smooth_.width == 0 && hopeless()) || late(); }

  /// Whether looking at the line again is for nothing: it was read, or it was tried twice, or in this channel nothing like letters came out.
  bool done_with(LetterLine const& line, GreyPicture const* channel) const {
    int count = 0;
    for (std::size_t i = 0; i < places_.size(); ++i) {
      if (!same_place(places_[i], line)) continue;
      LineSaid const& said = result_.lines[i];
      bool const no_letters = std::min(said.doubt_right, said.doubt_wrong) > kNoLetters && channels_of_places_[i] == channel;
      if (no_letters || std::abs(said.evidence) >= kClear || ++count >= 2) return true;
    }
    return false;
  }

  void try_lines(Stage const& stage, std::size_t most) {
    std::size_t count = 0;
    for (LetterLine const& line : stage.lines) {
      if (count == most || over()) return;
      if (line.promise < kLeastPromise || done_with(line, stage.full)) continue;
      GreyPicture const strip = straighten(line, stage.map, *stage.full, stage.by);
      if (strip.width == 0) continue;
      ++count;
      add(line, stage, asker_.ask(strip, line.upward));
    }
  }

  Rect<SeenSpace> place_of(LetterLine const& line) const { return picture_.on_page(line.x0 * by_, line.y0 * by_, line.x1 * by_, line.y1 * by_); }

  /// The next threshold, channel after channel; null when there are no more.
  Stage const* next_stage() {
    while (levels_.empty()) {
      if (channels_.size() == std::size(kChannels) || (channels_.size() == 1 && !has_colour(picture_))) return nullptr;
      channels_.push_back(channel_of(picture_, kChannels[channels_.size()]));
      small_ = smaller(channels_.back(), by_);
      for (int level : thresholds(small_)) levels_.push_back(level);
    }
    int const level = levels_.front();
    levels_.pop_front();
    return add_stage(channels_.back(), small_, level, by_);
  }
  Stage const* add_stage(GreyPicture const& full, GreyPicture const& seen, int level, int by) {
    stages_.push_back({&full, find_blobs(seen, level, kMostRuns), {}, by});
    stages_.back().lines = find_lines(stages_.back().map, kLinesToFind);
    return &stages_.back();
  }
  /// Letters of dots or stripes, or on a ground of them, fall to pieces at every threshold: the screen is smoothed away, and they are looked at again.
  void look_through_screen() {
    GreyPicture const seen = smaller(channels_.front(), by_);
    int const pitch = screen_pitch(seen);
    if (pitch == 0) return;
    smooth_ = joined(seen, pitch);
    for (int level : thresholds(smooth_)) {
      try_lines(*add_stage(smooth_, smooth_, level, 1), kLinesOfStage);
      if (clear() || late()) return;
    }
  }

  /// The answer is clear from some lines: do the others agree? A page may read both ways, and each piece of a sheet has its own lines: those
  /// that lie farthest from what was tried come first.
  void look_for_others() {
    double const begun = seconds_gone();
    std::vector<Other> others = others_to_try();
    for (std::size_t count = 0; count < kLinesAfterwards && !others.empty() && seconds_gone() - begun < kSecondsAfterwards && !late(); ++count) {
      auto const next = std::max_element(others.begin(), others.end(), [&](Other const& a, Other const& b) { return worth(a) < worth(b); });
      Other const other = *next;
      others.erase(next);
      GreyPicture const strip = straighten(*other.line, other.stage->map, *other.stage->full, other.stage->by);
      if (strip.width == 0) continue;
      LineSaid said = asker_.ask_the_same_way(strip, other.line->upward);
      if (!said.agrees) said = asker_.ask(strip, other.line->upward);
      add(*other.line, *other.stage, std::move(said));
      bool const settled = result_.lines.back().agrees || std::abs(result_.lines.back().evidence) >= kClearBoth;
      std::erase_if(others, [&](Other const& o) { return lies_in(*o.line, places_.back()) && (settled || looks_at(*o.line) >= kMostLooks); });
      if (!surely_read(*other.line))
        for (LetterLine const& part : other.line->parts) add_other(others, part, *other.stage, other.rank);
    }
  }

  std::ptrdiff_t looks_at(LetterLine const& line) const {
    return std::count_if(places_.begin(), places_.end(), [&](LetterLine const& place) { return lies_in(line, place); });
  }

  struct Other {
    LetterLine const* line;
    Stage const* stage;
    double rank;  // of its stage: the first thresholds part letters from ground best
  };
  std::vector<Other> others_to_try() const {
    std::vector<Other> others;
    double rank = 0;
    for (Stage const& stage : stages_) {
      for (LetterLine const& line : stage.lines) {
        if (looks_at(line) == 0) add_other(others, line, stage, rank);
        else if (std::any_of(places_.begin(), places_.end(), [&](LetterLine const& place) { return same_place(place, line); }) && !surely_read(line))
          for (LetterLine const& part : line.parts) add_other(others, part, stage, rank);
      }
      ++rank;
    }
    return others;
  }
  static void add_other(std::vector<Other>& others, LetterLine const& line, Stage const& stage, double rank) {
    if (line.letters >= kLeastLettersAfterwards && line.promise >= kLeastPromiseAfterwards) others.push_back({&line, &stage, rank});
  }
  /// Whether all of it was read with so little doubt that no part of it can lie the other way round.
  bool surely_read(LetterLine const& line) const {
    for (std::size_t i = 0; i < places_.size(); ++i) {
      LineSaid const& said = result_.lines[i];
      if (lies_in(line, places_[i]) && (said.agrees || std::min(said.doubt_right, said.doubt_wrong) <= kCertainLine)) return true;
    }
    return false;
  }
  /// How far it lies from all that was tried, in its own letters' heights, how likely it is letters, and how early its threshold came.
  double worth(Other const& other) const {
    LetterLine const& l = *other.line;
    double nearest = kFarAway;
    for (LetterLine const& p : places_) {
      double const dx = std::max({0, p.x0 - l.x1, l.x0 - p.x1}), dy = std::max({0, p.y0 - l.y1, l.y0 - p.y1});
      nearest = std::min(nearest, std::max(dx, dy) / std::max(l.size, 1.0));
    }
    return nearest + l.promise / 4 - other.rank;
  }

  void add(LetterLine const& line, Stage const& stage, LineSaid said) {
    said.where = place_of(line);
    said.promise = line.promise;
    said.area = area_of(line);
    said.likeness = likeness_of(line, stage.map);
    places_.push_back(line);
    channels_of_places_.push_back(stage.full);
    result_.lines.push_back(std::move(said));
  }

  double area_of(LetterLine const& line) const {
    double const k = by_ * 72 / picture_.dpi, length = line.upward ? line.y1 - line.y0 : line.x1 - line.x0;
    return length * line.size * k * k;
  }

  /// What looks like letters and was not understood. Torn pictures have rows of specks that the engine makes something of, but those are small;
  /// a row that takes much of the picture counts though the engine hardly knows it: it may be another script's.
  bool like_letters(LineSaid const& line) const {
    double const share = line.area / std::max(picture_.area.area(), 1.0), doubt = std::min(line.doubt_right, line.doubt_wrong);
    if (tones_)
      return (line.characters >= 4 && doubt <= kLegible) || (looks_like_letters(line.likeness) && line.likeness.blobs >= 5 && doubt <= kNoLetters);
    bool const perhaps = !line.likeness.bar && ((doubt <= kNoLetters && share >= kSmallShare) || (doubt <= kStrange && share >= kLargeShare));
    bool const legible = line.characters >= 3 && (doubt <= kLegible || perhaps);
    return legible || (looks_like_letters(line.likeness) && share >= kLeastShareOfRow);
  }
  void weigh_unread() {
    tones_ = !channels_.empty() && has_tones(channels_.front());
    for (LineSaid const& line : result_.lines) {
      bool const read = line.agrees || std::abs(line.evidence) >= kWorthCounting;
      if (read) result_.read_area += line.area;
      else if (like_letters(line)) result_.unread_area += line.area;
    }
    result_.seen = result_.read_area > 0 || result_.unread_area > 0 || (!tones_ && (untried_row() || lone_letter()));
  }
  bool untried_row() const {
    for (Stage const& stage : stages_)
      for (LetterLine const& line : stage.lines)
        if (line.letters >= kLeastLettersAfterwards && area_of(line) >= kLeastShareOfRow * picture_.area.area() &&
            looks_like_letters(likeness_of(line, stage.map)))
          return true;
    return false;
  }
  /// One or two large letters make no line, and tell nothing; yet they are letters where the engine knows one that a mirror changes, or where
  /// there is little else and it is drawn with strokes: a word of another script hangs together.
  bool lone_letter() {
    for (Stage const& stage : stages_) {
      std::vector<int> large;
      for (std::size_t i = 0; i < stage.map.blobs.size(); ++i) {
        Blob const& b = stage.map.blobs[i];
        bool const ground = b.x0 == 0 || b.y0 == 0 || b.x1 == stage.map.width || b.y1 == stage.map.height;
        if (!ground && b.height() >= kLoneHeight && b.area > 0) large.push_back(static_cast<int>(i));
      }
      std::stable_sort(large.begin(), large.end(), [&](int a, int b) {
        return stage.map.blobs[static_cast<std::size_t>(a)].area > stage.map.blobs[static_cast<std::size_t>(b)].area;
      });
      if (large.size() > kMostLone) return false;  // a drawing, not initials
      for (int b : large) {
        Blob const& blob = stage.map.blobs[static_cast<std::size_t>(b)];
        LetterLine line;
        line.blobs = {b};
        line.light = blob.light;
        line.x0 = blob.x0, line.y0 = blob.y0, line.x1 = blob.x1, line.y1 = blob.y1;
        line.letters = 1;
        line.size = blob.height();
        GreyPicture const strip = straighten(line, stage.map, *stage.full, stage.by);
        if (strip.width == 0 || late()) continue;
        LineSaid said = asker_.ask(strip, false);
        bool const letter = said.letters >= 1 && said.characters <= 2 && std::min(said.doubt_right, said.doubt_wrong) <= kLegible;
        if (!letter && !of_strokes(b, stage.map)) continue;
        said.evidence = 0;
        add(line, stage, std::move(said));
        return true;
      }
    }
    return false;
  }

  LettersResult conclude() {
    result_.reading = reading();
    result_.trials = asker_.trials();
    weigh_unread();
    Sums const s = sums();
    double const sum = s.right - s.wrong;
    for (LineSaid const& line : result_.lines) {
      if (line.evidence == 0 && !line.agrees) continue;
      bool const with = line.agrees || (line.evidence > 0) == (sum > 0);
      if (with != (result_.reading == Reading::mixed)) result_.where.push_back(line.where);
      for (std::string const& word : line.words)
        if (result_.words.size() < kMostWords) result_.words.push_back(word);
    }
    return std::move(result_);
  }

  LineAsker asker_;
  PagePicture const& picture_;
  double seconds_;
  int by_ = 1;
  bool tones_ = false;  // a photograph
  std::clock_t const begun_ = std::clock();
  std::deque<GreyPicture> channels_;  // of stages_
  GreyPicture small_;                 // of the last channel
  GreyPicture smooth_;                // without its screen
  std::deque<int> levels_;            // its thresholds that are still to be tried
  std::deque<Stage> stages_;
  std::vector<LetterLine> places_;  // of result_.lines
  std::vector<GreyPicture const*> channels_of_places_;
  LettersResult result_;
};

}  // namespace

Result<std::unique_ptr<LetterEngine>> prepare_letters(std::vector<std::string> const& languages) { return LetterEngine::load(languages); }

LettersResult read_letters(LetterEngine& engine, PagePicture const& picture, double seconds) {
  if (picture.width < 8 || picture.height < 8) return {};
  return Session(engine, picture, seconds).run();
}

bool could_hold_letters(PagePicture const& picture) {
  int const by = std::max(1, static_cast<int>(std::ceil(std::sqrt(static_cast<double>(picture.rgb.size() / 3) / kDetectPixels))));
  for (Channel channel : kChannels) {
    if (channel == Channel::red && !has_colour(picture)) return false;
    GreyPicture const small = smaller(channel_of(picture, channel), by);
    for (int threshold : thresholds(small)) {
      auto const lines = find_lines(find_blobs(small, threshold, kMostRuns), kLinesToFind);
      if (std::any_of(lines.begin(), lines.end(), [](LetterLine const& line) { return line.promise >= kLeastPromise; })) return true;
    }
  }
  return false;
}

}  // namespace layright
