// What the library only warns of while it goes on as if all were well.
#pragma once

namespace layright {

struct LibraryTrouble {
  bool lost = false;       // it gave a picture up, and shows what it has
  bool cut_short = false;  // it made up the end of a picture that is cut short
  bool cut = false;        // the end of a picture is missing, as its data tell
  bool ended = false;      // packed data ended without their end
  bool letter = false;     // it could not read a letter
};

}  // namespace layright
