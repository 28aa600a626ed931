#include "marks/letters.h"

#include <algorithm>
#include <cmath>
#include <ctime>
#include <deque>
#include <iterator>

#include "marks/letter_lines.h"

namespace layright {
namespace {

// Chosen on teaching pages of tests/reading: 560 first, then 360 with scripts that the reader does not know, whose lines can look like
// doubtful words of its own. A second look at the picture, squeezed a little, tells those apart: of 123 lines with letters that were not
// sure, 114 share at least 0.8 of their characters with it and keep their evidence; of other scripts' and of shapes' lines most lose it.
constexpr double kSureDoubt = 0.012;    // doubt per character at which a line counts in full …
constexpr double kMostDoubt = 0.028;    // … and from which on it tells nothing
constexpr double kLeastDoubt = 0.004;   // the engine is never surer than this
constexpr double kClear = 4;            // evidence that decides
constexpr double kClearLine = 2.2;      // that at least one line must bring
constexpr double kClearBoth = 8;        // that one line each way must bring for a page to read both ways
constexpr double kContrary = 0.3;       // share of the evidence that may point the other way
constexpr double kLeastLetters = 3, kLeastTelling = 2;  // of a line that tells: rings and dots have been read as "Cro", of which only r tells
constexpr double kFew = 3, kMostOfFew = 3;  // characters that never decide alone, and the evidence that they bring at most: shapes look like three
constexpr double kShort = 6;            // characters: shorter lines must be confirmed, like those that are not sure
constexpr double kWorthConfirming = 1;  // evidence
constexpr double kLeastLikeness = 0.8;  // share of their characters that two looks at a longer doubtful line have in common
// How much more doubtful than the line's own reading a neighbouring script's must be for the line to count in full, as a share of its doubt,
// and the same where the neighbour reads it the other way round. Chosen on 2,826 teaching pages: of 118 lines that would have told the wrong
// way all but one tell less than 3 then, of 458 right ones that decide 11 no longer do.
constexpr double kCertain = 0.008;      // doubt up to which no neighbour is asked
constexpr double kSurer = 0.5, kSurerThanContrary = 1;
constexpr double kMostCounted = 20;     // characters: longer lines count no more

constexpr double kDetectPixels = 1.2e6; // of the picture in which lines are found
constexpr std::size_t kMostRuns = 400000;
constexpr std::size_t kLinesOfStage = 4, kLinesAfterwards = 4;
// The least doubtful line of one, two, three that left a teaching page with letters undecided had at most 0.039, 0.033, 0.025; three
// quarters of the pages without letters are beyond 0.05 after two.
constexpr double kNoLetters = 0.06;       // doubt of the least doubtful way to lie, beyond which it is no line of letters
constexpr double kHope[] = {1, 0.05, 0.04};  // when the least doubtful of one, two, three and more lines is more doubtful, nothing is readable
constexpr double kLeastPromise = 1.3;
constexpr double kLeastLettersAfterwards = 4, kLeastPromiseAfterwards = 3;
constexpr double kAgrees = 0.02;          // doubt per character

class Stopwatch {
 public:
  double seconds() const { return static_cast<double>(std::clock() - start_) / CLOCKS_PER_SEC; }

 private:
  std::clock_t start_ = std::clock();
};

enum class Channel { luminance, red, green, blue };

/// Luminance by the weights of ITU-R BT.601.
GreyPicture channel_of(PagePicture const& p, Channel channel) {
  GreyPicture out{p.width, p.height, std::vector<std::uint8_t>(p.rgb.size() / 3)};
  std::uint8_t const* rgb = p.rgb.data();
  for (std::uint8_t& pixel : out.pixels) {
    pixel = channel == Channel::luminance ? static_cast<std::uint8_t>((rgb[0] * 77 + rgb[1] * 150 + rgb[2] * 29) >> 8)
                                          : rgb[static_cast<int>(channel) - static_cast<int>(Channel::red)];
    rgb += 3;
  }
  return out;
}

bool has_colour(PagePicture const& p) {
  std::size_t coloured = 0;
  for (std::size_t i = 0; i + 2 < p.rgb.size(); i += 3) {
    auto const [least, most] = std::minmax({p.rgb[i], p.rgb[i + 1], p.rgb[i + 2]});
    if (most - least > 24) ++coloured;
  }
  return static_cast<double>(coloured) >= 1e-4 * static_cast<double>(p.rgb.size() / 3);
}

/// One threshold of one channel.
struct Stage {
  GreyPicture const* full;
  BlobMap map;
  std::vector<LetterLine> lines;
};

bool overlap(LetterLine const& a, LetterLine const& b) {
  double const w = std::min(a.x1, b.x1) - std::max(a.x0, b.x0), h = std::min(a.y1, b.y1) - std::max(a.y0, b.y0);
  if (w <= 0 || h <= 0) return false;
  auto const area = [](LetterLine const& l) { return static_cast<double>(l.x1 - l.x0) * (l.y1 - l.y0); };
  return w * h > 0.5 * std::min(area(a), area(b));
}

bool same_place(LetterLine const& a, LetterLine const& b) { return a.upward == b.upward && a.light == b.light && overlap(a, b); }

/// The strip squeezed a little along its length, and softened by that.
GreyPicture narrower(GreyPicture const& strip) {
  constexpr double kSqueeze = 0.87;
  GreyPicture out;
  out.width = std::max(8, static_cast<int>(strip.width * kSqueeze));
  out.height = strip.height;
  out.pixels.reserve(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
  double const step = static_cast<double>(strip.width) / out.width;
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x) {
      double const at = std::max(0.0, (x + 0.5) * step - 0.5), part = at - std::floor(at);
      int const left = static_cast<int>(at), right = std::min(left + 1, strip.width - 1);
      out.pixels.push_back(static_cast<std::uint8_t>(std::lround(strip.at(left, y) * (1 - part) + strip.at(right, y) * part)));
    }
  return out;
}

/// Letters, times how many times likelier their reading is than the other one, less where even that is doubtful. The sign says which.
double evidence_of(double doubt_right, double doubt_wrong, double characters) {
  double const least = std::min(doubt_right, doubt_wrong), most = std::max(doubt_right, doubt_wrong);
  double const trust = std::clamp((kMostDoubt - least) / (kMostDoubt - kSureDoubt), 0.0, 1.0);
  double const weight = std::min(characters, kMostCounted) * trust * std::log(std::max(most, kLeastDoubt) / std::max(least, kLeastDoubt));
  return doubt_right < doubt_wrong ? weight : -weight;
}

/// Share of the characters that two readings have in common, in their order.
double likeness(std::vector<std::string> const& a, std::vector<std::string> const& b) {
  std::string one, other;
  for (std::string const& word : a) one += word;
  for (std::string const& word : b) other += word;
  std::vector<std::size_t> row(other.size() + 1, 0);  // the longest common subsequence, row by row
  for (char c : one) {
    std::size_t diagonal = 0;
    for (std::size_t j = 0; j < other.size(); ++j) {
      std::size_t const above = row[j + 1];
      row[j + 1] = c == other[j] ? diagonal + 1 : std::max(above, row[j]);
      diagonal = above;
    }
  }
  return static_cast<double>(row.back()) / static_cast<double>(std::max<std::size_t>({one.size(), other.size(), 1}));
}

class Session {
 public:
  Session(LetterEngine& engine, PagePicture const& picture, double seconds) : engine_(engine), picture_(picture), seconds_(seconds) {}

  LettersResult run() {
    double const pixels = static_cast<double>(picture_.rgb.size() / 3);
    by_ = std::max(1, static_cast<int>(std::ceil(std::sqrt(pixels / kDetectPixels))));
    for (Channel channel : {Channel::luminance, Channel::red, Channel::green, Channel::blue}) {
      if (channel == Channel::red && !has_colour(picture_)) break;
      GreyPicture const& full = channels_.emplace_back(channel_of(picture_, channel));
      GreyPicture const small = smaller(full, by_);
      for (int threshold : thresholds(small)) {
        stages_.push_back({&full, find_blobs(small, threshold, kMostRuns), {}});
        stages_.back().lines = find_lines(stages_.back().map, 24);
        try_lines(stages_.back(), kLinesOfStage);
        if (over()) break;
      }
      if (over()) break;
    }
    if (clear()) look_for_others();
    return conclude();
  }

 private:
  bool late() { return result_.out_of_time = watch_.seconds() > seconds_; }
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
    Sums const s = sums();
    bool const right = s.right >= kClear && s.strongest_right >= kClearLine, wrong = s.wrong >= kClear && s.strongest_wrong >= kClearLine;
    if (std::min(s.strongest_right, s.strongest_wrong) >= kClearBoth) return Reading::mixed;
    if (right && s.wrong <= kContrary * s.right) return Reading::right;
    if (wrong && s.right <= kContrary * s.wrong) return Reading::wrong;
    return Reading::unknown;
  }
  bool clear() const { return reading() != Reading::unknown; }
  bool hopeless() const {
    if (result_.lines.empty()) return false;
    double const hope = kHope[std::min(result_.lines.size(), std::size(kHope)) - 1];
    return std::all_of(result_.lines.begin(), result_.lines.end(),
                       [&](LineSaid const& line) { return std::min(line.doubt_right, line.doubt_wrong) > hope; });
  }
  bool over() { return clear() || hopeless() || late(); }

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
      GreyPicture const strip = straighten(line, stage.map, *stage.full, by_);
      if (strip.width == 0) continue;
      ++count;
      places_.push_back(line);
      channels_of_places_.push_back(stage.full);
      result_.lines.push_back(ask(line, strip));
    }
  }

  LineSaid ask(LetterLine const& line, GreyPicture const& strip) {
    LineSaid best;
    std::size_t best_language = 0;
    for (std::size_t language = 0; language < engine_.languages(); ++language) {
      LineSaid const said = ask_twice(language, strip);
      if (language == 0 || std::abs(said.evidence) > std::abs(best.evidence)) best = said, best_language = language;
      if (std::abs(best.evidence) >= kClear) break;
    }
    bool const certain = best.characters >= kShort && std::min(best.doubt_right, best.doubt_wrong) <= kCertain;
    if (!certain && std::abs(best.evidence) >= kWorthConfirming) hear_neighbours(best, strip);
    if (best.characters <= kFew) best.evidence = std::clamp(best.evidence, -kMostOfFew, kMostOfFew);
    best.where = place_of(line);
    best.promise = line.promise;
    if (std::abs(best.evidence) > surest_.evidence) surest_ = {std::abs(best.evidence), best.way, best_language, line.upward};
    return best;
  }

  static bool doubtful(LineSaid const& said) { return said.characters < kShort || std::min(said.doubt_right, said.doubt_wrong) > kSureDoubt; }

  LineSaid ask_twice(std::size_t language, GreyPicture const& strip) {
    LineSaid said = ask_in(language, strip);
    if (doubtful(said) && std::abs(said.evidence) >= kWorthConfirming) confirm(said, ask_in(language, narrower(strip)));
    return said;
  }

  /// Letters of a script that the engine was not asked to know can look like its own the other way round, in every look and in every line.
  /// Who knows that script reads them with less doubt, and the other way round: then the line tells nothing. A neighbour that agrees is heard
  /// no further, since its letters are the same.
  void hear_neighbours(LineSaid& said, GreyPicture const& strip) {
    double const doubt = std::max(std::min(said.doubt_right, said.doubt_wrong), kLeastDoubt);
    double trust = 1;
    for (std::size_t i = 0; i < engine_.neighbours() && trust > 0; ++i) {
      LineSaid const neighbour = ask_twice(engine_.languages() + i, strip);
      double const with = said.evidence > 0 ? neighbour.evidence : -neighbour.evidence, other = std::min(neighbour.doubt_right, neighbour.doubt_wrong);
      if (with >= kWorthConfirming) continue;
      if (with <= -kContrary * std::abs(said.evidence)) trust = 0;
      trust = std::min(trust, std::clamp((other / doubt - 1) / (with < 0 ? kSurerThanContrary : kSurer), 0.0, 1.0));
    }
    said.evidence *= trust;
  }

  Rect<SeenSpace> place_of(LetterLine const& line) const { return picture_.on_page(line.x0 * by_, line.y0 * by_, line.x1 * by_, line.y1 * by_); }

  /// A few letters could be chance, and what the engine is not sure of could be another script's letters: they count only when a picture
  /// that differs a little says the same.
  static void confirm(LineSaid& said, LineSaid const& again) {
    bool const contrary = said.evidence * again.evidence < 0;
    bool const same = said.characters < kShort ? again.words == said.words : likeness(said.words, again.words) >= kLeastLikeness;
    said.confirmed = same && !contrary;
    said.evidence = said.confirmed ? (said.evidence + again.evidence) / 2 : 0;
  }

  LineSaid ask_in(std::size_t language, GreyPicture const& strip) {
    LineTrial trials[4];
    double expected = 0;
    for (Way way : {Way::upright, Way::reversed, Way::turned, Way::reversed_turned}) {
      LineTrial& t = trials[static_cast<int>(way)] = read_way(engine_, language, strip, way);
      ++result_.trials;
      expected = std::max(expected, t.characters);
    }
    double doubt[4];
    for (int i = 0; i < 4; ++i) doubt[i] = doubt_of(trials[i], expected);
    LineSaid said;
    said.doubt_right = std::min(doubt[0], doubt[1]);
    said.doubt_wrong = std::min(doubt[2], doubt[3]);
    said.way = static_cast<Way>(std::min_element(doubt, doubt + 4) - doubt);
    LineTrial const& best = trials[static_cast<int>(said.way)];
    said.letters = telling_letters(best.words);
    said.characters = best.characters;
    for (ReadWord const& word : best.words) said.words.push_back(word.text);
    if (best.characters >= kLeastLetters && said.letters >= kLeastTelling) said.evidence = evidence_of(said.doubt_right, said.doubt_wrong, expected);
    return said;
  }

  /// The answer is clear from some lines: do the others agree? A page may read both ways.
  void look_for_others() {
    std::size_t count = 0;
    for (Stage const& stage : stages_)
      for (LetterLine const& line : stage.lines) {
        if (count == kLinesAfterwards || late()) return;
        bool const seen = std::any_of(places_.begin(), places_.end(), [&](LetterLine const& place) { return overlap(place, line); });
        if (seen || line.letters < kLeastLettersAfterwards || line.promise < kLeastPromiseAfterwards) continue;
        GreyPicture const strip = straighten(line, stage.map, *stage.full, by_);
        if (strip.width == 0) continue;
        ++count;
        places_.push_back(line);
        channels_of_places_.push_back(stage.full);
        LineSaid said = line.upward == surest_.upward ? ask_the_same_way(strip) : LineSaid{};
        if (!said.agrees) said = ask(line, strip);
        said.where = place_of(line);
        result_.lines.push_back(said);
      }
  }

  /// One trial only, in the way in which the surest line was read.
  LineSaid ask_the_same_way(GreyPicture const& strip) {
    LineTrial const trial = read_way(engine_, surest_.language, strip, surest_.way);
    ++result_.trials;
    LineSaid said;
    said.characters = trial.characters;
    said.agrees = trial.characters >= kLeastLetters && trial.doubt <= kAgrees;
    for (ReadWord const& word : trial.words) said.words.push_back(word.text);
    return said;
  }

  LettersResult conclude() {
    result_.reading = reading();
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

  LetterEngine& engine_;
  PagePicture const& picture_;
  double seconds_;
  struct Surest {
    double evidence = 0;
    Way way = Way::upright;
    std::size_t language = 0;
    bool upward = false;
  };

  int by_ = 1;
  Surest surest_;
  Stopwatch watch_;
  std::deque<GreyPicture> channels_;  // of stages_
  std::vector<Stage> stages_;
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

}  // namespace layright
