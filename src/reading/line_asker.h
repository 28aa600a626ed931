// What one straightened line of letters says: it is read in all ways to lie and in all languages, looked at again where it is doubtful, and
// weighed. Which lines are asked, and what follows from many, is the business of letters.cpp.
#pragma once
#include <string>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"
#include "reading/letter_engine.h"
#include "reading/letter_likeness.h"
#include "reading/letter_ways.h"
#include "reading/line_trial.h"

namespace layright {

/// What one line of letters said.
struct LineSaid {
  Rect<SeenSpace> where;
  std::vector<std::string> words;                     // in the likelier reading
  std::vector<std::string> words_right, words_wrong;  // as it is, and reversed, each in the better turn
  double characters = 0, letters = 0;                 // in the likelier reading: all of them, those that tell
  double promise = 0;                                 // of LetterLine
  double area = 0;                                    // square points of its letters' row
  LineLikeness likeness;                              // by its shapes alone
  ShapesSaid shapes;                                  // of letters and digits, where the language is written in the Latin ones
  bool confirmed = false;                             // short or doubtful, and a second look found it again
  double doubt_right = 1, doubt_wrong = 1;            // doubt per character of the better turn, 0 to 1
  Way way = Way::upright;                             // in which it was read best
  bool turns_letters = false;  // some of its letters stand on their heads, as in scripts that turn Latin capitals: it tells nothing
  bool agrees = false;         // read well in the way that the other lines had settled, and in no other: no evidence of its own
  /// How much the line speaks for right (positive) or wrong (negative).
  double evidence = 0;
  double by_shapes = 0;  // of that, what the shapes brought
};

class LineAsker {
 public:
  explicit LineAsker(LetterEngine& engine) : engine_(engine) {}
  /// In all ways and languages; `upward` as in LetterLine.
  LineSaid ask(GreyPicture const& strip, bool upward);
  /// In the way in which the surest line so far was read, and only where that is not sure reversed as well; nothing agrees where it ran the
  /// other way.
  LineSaid ask_the_same_way(GreyPicture const& strip, bool upward);
  int trials() const { return trials_; }  // lines handed to the engine

 private:
  struct Surest {
    double evidence = 0;
    Way way = Way::upright;
    std::size_t language = 0;
    bool upward = false;
  };
  LineSaid ask_in(std::size_t language, GreyPicture const& strip, ShapesSaid const* shapes);
  LineSaid ask_twice(std::size_t language, GreyPicture const& strip, ShapesSaid const* shapes);
  bool better_reversed(GreyPicture const& strip, LineTrial const& trial);
  void hear_neighbours(LineSaid& said, GreyPicture const& strip);

  LetterEngine& engine_;
  Surest surest_;
  int trials_ = 0;
};

/// Evidence from which on one line decides, if no other speaks against it.
inline constexpr double kDecidingEvidence = 4;

}  // namespace layright
