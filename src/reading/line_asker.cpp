#include "reading/line_asker.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

// Chosen on teaching pages of tests/reading: 560 first, then 360 with scripts that the reader does not know, whose lines can look like
// doubtful words of its own. A second look at the picture, squeezed a little, tells those apart: of 123 lines with letters that were not
// sure, 114 share at least 0.8 of their characters with it and keep their evidence; of other scripts' and of shapes' lines most lose it.
constexpr double kSureDoubt = 0.012;                     // doubt per character at which a line counts in full …
constexpr double kMostDoubt = 0.028;                     // … and from which on it tells nothing
constexpr double kLeastDoubt = 0.004;                    // the engine is never surer than this
constexpr double kLeastLetters = 3, kLeastDecisive = 2;  // of a line that tells: rings and dots have been read as "Cro", of which only r tells
constexpr double kFew = 3, kMostOfFew = 3;  // characters that never decide alone, and the evidence that they bring at most: shapes look like three
constexpr double kShort = 6;                // characters: shorter lines must be confirmed, like those that are not sure
constexpr double kWorthConfirming = 1;      // evidence
constexpr double kLeastLikeness = 0.8;      // share of their characters that two looks at a longer doubtful line have in common
// How much more doubtful than the line's own reading a neighbouring script's must be for the line to count in full, as a share of its doubt,
// and the same where the neighbour reads it the other way round. Chosen on 2,826 teaching pages: of 118 lines that would have told the wrong
// way all but one tell less than 3 then, of 458 right ones that decide 11 no longer do.
constexpr double kCertain = 0.008;  // doubt up to which no neighbour is asked
constexpr double kSurer = 0.5, kSurerThanContrary = 1;
constexpr double kContrary = 0.3;                         // share of the line's evidence with which a neighbour contradicts it
constexpr double kMostCounted = 20;                       // characters: longer lines count no more
constexpr double kMayAgree = 0.02, kAgreesClearly = 1.6;  // doubt, and how many times as doubtful the line must be reversed then
constexpr double kAgrees = 0.008;  // doubt per character: a word in a mirror has been read as another one ("dundri" as "inbaub") up to twice that
// Shapes are a second witness, for letters and digits of the Latin script; for digits above all, of which the engine reads some as others or
// as letters in a mirror (2, 5 and S). Chosen on teaching pages, with a network that was taught by other fonts than the tests'.
constexpr int kFewestShapes = 3, kFewestKinds = 2;            // of those that look different
constexpr double kPairOfShapes = 5, kPairDoubt = 0.03;        // what a pair needs, and what it must have that stands evenly, as the number on a shirt
constexpr double kDecisiveShapes = 2.5;                       // likelihood, a logarithm, from which on shapes bring evidence …
constexpr double kShapesWorth = 0.9;                          // … this much for each 1 of it …
constexpr double kMostByShapes = 6;                           // … up to this
constexpr double kSureShapes = 4.5;                           // lets few characters decide that stand evenly …
constexpr double kSureUneven = 7;                             // … and others
constexpr double kContraryShapes = 1.5;                       // the other way round: then the line tells nothing
constexpr double kShapesForDigits = 2;                        // without which a reading with digits in it tells nothing
constexpr double kManyShapes = 6;                             // with which one character that tells is enough
constexpr double kLeastOfEach = 0.7, kLeastOfEachOfMany = 1;  // what different shapes bring on the average: another script's bring less …
constexpr int kManyKinds = 7;                                 // … but can be many
constexpr int kManyGlyphs = 5;                                // shapes, one for each character, that must say so too …
constexpr double kLeastOfMany = 1.5;                          // … this much, unless the engine is sure: letters turned one by one look like words
constexpr double kMostDoubtOfShapes = 0.08;                   // of the engine, reading the way that the shapes say
constexpr double kBlindShapes = 7, kBlindDoubt = 0.012;       // with so much the engine may be a little surer of the other way
// ShapesSaid::turned: of 52 lines of Latin capitals and digits none had more than 0.6; on each page of Lisu that was decided a line had 1.1.
constexpr double kTurned = 0.9;

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

bool is_digit(int c) { return c >= '0' && c <= '9'; }
bool is_letter(int c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c >= 0xC0; }

/// Whether the engine found as many letters and digits as there are shapes.
bool as_many(LineTrial const& trial, int shapes) {
  int counted = 0;
  for (ReadWord const& word : trial.words)
    counted += static_cast<int>(std::count_if(word.characters.begin(), word.characters.end(), [](int c) { return is_letter(c) || is_digit(c); }));
  return std::min(std::abs(counted - shapes), std::abs(static_cast<int>(trial.characters) - shapes)) <= shapes / 5;
}

bool has_digit(LineTrial const& trial) {
  return std::any_of(trial.words.begin(), trial.words.end(),
                     [](ReadWord const& w) { return std::any_of(w.characters.begin(), w.characters.end(), is_digit); });
}

/// Whether shapes let few characters decide.
bool sure_by_shapes(LineSaid const& said) {
  double const with = said.evidence > 0 ? said.shapes.right() : -said.shapes.right();
  return with >= (said.shapes.even ? kSureShapes : kSureUneven);
}

bool doubtful(LineSaid const& said) { return said.characters < kShort || std::min(said.doubt_right, said.doubt_wrong) > kSureDoubt; }

/// A few letters could be chance, and what the engine is not sure of could be another script's letters: they count only when a picture
/// that differs a little says the same.
void confirm(LineSaid& said, LineSaid const& again) {
  bool const contrary = said.evidence * again.evidence < 0;
  bool const same = said.characters < kShort ? again.words == said.words : likeness(said.words, again.words) >= kLeastLikeness;
  said.confirmed = same && !contrary;
  said.evidence = said.confirmed ? (said.evidence + again.evidence) / 2 : 0;
}

}  // namespace

LineSaid LineAsker::ask(GreyPicture const& strip, bool upward) {
  LineSaid best;
  std::size_t best_language = 0;
  ShapesSaid const shapes = shapes_of(strip);
  for (std::size_t language = 0; language < engine_.languages(); ++language) {
    LineSaid const said = ask_twice(language, strip, &shapes);
    if (language == 0 || std::abs(said.evidence) > std::abs(best.evidence)) best = said, best_language = language;
    if (std::abs(best.evidence) >= kDecidingEvidence) break;
  }
  best.turns_letters = best.shapes.turned >= kTurned && std::abs(best.characters - best.shapes.glyphs) <= best.shapes.glyphs / 5;
  if (best.turns_letters) best.evidence = 0;
  bool const certain = best.characters >= kShort && std::min(best.doubt_right, best.doubt_wrong) <= kCertain;
  if (!certain && std::abs(best.evidence) >= kWorthConfirming) hear_neighbours(best, strip);
  if (best.characters <= kFew && !sure_by_shapes(best)) best.evidence = std::clamp(best.evidence, -kMostOfFew, kMostOfFew);
  if (std::abs(best.evidence) > surest_.evidence) surest_ = {std::abs(best.evidence), best.way, best_language, upward};
  return best;
}

/// Shapes are heard where they are given.
LineSaid LineAsker::ask_twice(std::size_t language, GreyPicture const& strip, ShapesSaid const* shapes) {
  if (shapes && !engine_.latin(language)) shapes = nullptr;
  LineSaid said = ask_in(language, strip, shapes);
  bool const clear_by_shapes = std::abs(said.by_shapes) >= kDecidingEvidence;
  if (doubtful(said) && !clear_by_shapes && std::abs(said.evidence) >= kWorthConfirming) confirm(said, ask_in(language, narrower(strip), nullptr));
  said.evidence += said.by_shapes;
  return said;
}

/// Letters of a script that the engine was not asked to know can look like its own the other way round, in every look and in every line.
/// Who knows that script reads them with less doubt, and the other way round: then the line tells nothing. A neighbour that agrees is heard
/// no further, since its letters are the same.
void LineAsker::hear_neighbours(LineSaid& said, GreyPicture const& strip) {
  double const doubt = std::max(std::min(said.doubt_right, said.doubt_wrong), kLeastDoubt);
  double trust = 1;
  for (std::size_t i = 0; i < engine_.neighbours() && trust > 0; ++i) {
    LineSaid const neighbour = ask_twice(engine_.languages() + i, strip, nullptr);
    double const with = said.evidence > 0 ? neighbour.evidence : -neighbour.evidence, other = std::min(neighbour.doubt_right, neighbour.doubt_wrong);
    bool const same_way = (neighbour.doubt_right < neighbour.doubt_wrong) == (said.evidence > 0);
    if (with >= kWorthConfirming || (with >= 0 && same_way && std::abs(said.by_shapes) >= kDecidingEvidence)) continue;
    if (with <= -kContrary * std::abs(said.evidence)) trust = 0;
    trust = std::min(trust, std::clamp((other / doubt - 1) / (with < 0 ? kSurerThanContrary : kSurer), 0.0, 1.0));
  }
  said.evidence *= trust;
}

LineSaid LineAsker::ask_in(std::size_t language, GreyPicture const& strip, ShapesSaid const* shapes) {
  LineTrial trials[4];
  double expected = 0;
  for (Way way : {Way::upright, Way::reversed, Way::turned, Way::reversed_turned}) {
    LineTrial& t = trials[static_cast<int>(way)] = read_way(engine_, language, strip, way);
    ++trials_;
    expected = std::max(expected, t.characters);
  }
  double doubt[4];
  for (int i = 0; i < 4; ++i) doubt[i] = doubt_of(trials[i], expected);
  LineSaid said;
  said.doubt_right = std::min(doubt[0], doubt[1]);
  said.doubt_wrong = std::min(doubt[2], doubt[3]);
  said.way = static_cast<Way>(std::min_element(doubt, doubt + 4) - doubt);
  auto const words_of = [&](Way a, Way b) {
    std::vector<std::string> words;
    for (ReadWord const& word : trials[static_cast<int>(doubt[static_cast<int>(a)] <= doubt[static_cast<int>(b)] ? a : b)].words)
      words.push_back(word.text);
    return words;
  };
  said.words_right = words_of(Way::upright, Way::turned);
  said.words_wrong = words_of(Way::reversed, Way::reversed_turned);
  LineTrial const& best = trials[static_cast<int>(said.way)];
  said.letters = decisive_letters(best.words);
  said.characters = best.characters;
  for (ReadWord const& word : best.words) said.words.push_back(word.text);
  if (best.characters >= kLeastLetters && said.letters >= kLeastDecisive) said.evidence = evidence_of(said.doubt_right, said.doubt_wrong, expected);
  if (!shapes) return said;
  said.shapes = *shapes;
  double const right = shapes->right(), size = std::abs(right), with = said.evidence > 0 ? right : -right;
  bool const contrary = shapes->glyphs >= kFewestShapes && with < -kContraryShapes;
  bool const sure = std::min(said.doubt_right, said.doubt_wrong) <= kSureDoubt;
  bool const alone = !sure && shapes->glyphs >= kManyGlyphs && as_many(best, shapes->glyphs) && with < kLeastOfMany;
  if (contrary || alone || (has_digit(best) && with < kShapesForDigits)) said.evidence = 0;
  int const way = shapes->way();
  LineTrial const& shown = trials[way];
  double const other = right > 0 ? said.doubt_wrong : said.doubt_right;
  bool const readable =
      as_many(shown, shapes->glyphs) && doubt[way] <= kMostDoubtOfShapes && doubt[way] < other + (size >= kBlindShapes ? kBlindDoubt : 0);
  bool const few = shapes->glyphs < kFewestShapes || shapes->kinds < kFewestKinds;
  bool const pair = shapes->glyphs == 2 && shapes->kinds == 2 && shapes->even && size >= kPairOfShapes && doubt[way] <= kPairDoubt;
  bool const decisive = decisive_letters(shown.words) >= (size >= kManyShapes ? 1 : kLeastDecisive);
  double const least = std::max(kDecisiveShapes, shapes->kinds * (shapes->kinds >= kManyKinds ? kLeastOfEachOfMany : kLeastOfEach));
  if ((!few || pair) && decisive && size >= least && readable && said.evidence * right >= 0)
    said.by_shapes = std::copysign(std::min(kShapesWorth * size, kMostByShapes), right);
  if (said.by_shapes != 0) said.words = right > 0 ? said.words_right : said.words_wrong;
  return said;
}

LineSaid LineAsker::ask_the_same_way(GreyPicture const& strip, bool upward) {
  if (upward != surest_.upward) return {};
  LineTrial const trial = read_way(engine_, surest_.language, strip, surest_.way);
  ++trials_;
  LineSaid said;
  said.characters = trial.characters;
  bool const decisive = trial.characters >= kLeastLetters && decisive_letters(trial.words) >= kLeastDecisive && !has_digit(trial);
  said.agrees = decisive && (trial.doubt <= kAgrees || (trial.doubt <= kMayAgree && !better_reversed(strip, trial)));
  for (ReadWord const& word : trial.words) said.words.push_back(word.text);
  auto& of_way = surest_.way == Way::upright || surest_.way == Way::turned ? said.words_right : said.words_wrong;
  of_way = said.words;
  return said;
}

/// Whether the line, reversed in either turn, is hardly more doubtful than in the way of the surest line.
bool LineAsker::better_reversed(GreyPicture const& strip, LineTrial const& trial) {
  bool const right = surest_.way == Way::upright || surest_.way == Way::turned;
  for (Way const way : {right ? Way::reversed : Way::upright, right ? Way::reversed_turned : Way::turned}) {
    LineTrial const other = read_way(engine_, surest_.language, strip, way);
    ++trials_;
    double const most = std::max(trial.characters, other.characters);
    if (doubt_of(other, most) < kAgreesClearly * doubt_of(trial, most)) return true;
  }
  return false;
}

}  // namespace layright
