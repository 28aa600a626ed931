// The engine that reads letters, for several files of one run.
#pragma once
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "reading/letter_engine.h"

namespace layright {

/// Loaded once by whoever gives children their work, and inherited by them: loading takes longer than reading most pages. Not before children
/// have loaded the same data: data that break the library then end a child, and not its parent. What a customer sent never comes near it here.
class SharedLetters {
 public:
  explicit SharedLetters(std::vector<std::string> languages) : languages_(std::move(languages)) {}
  /// A child has loaded the engine for one file. At the second such file it is loaded here; where that fails, children go on by themselves.
  void loaded_by_child();
  /// Null: not loaded here.
  LetterEngine* engine() const { return engine_.get(); }

 private:
  std::vector<std::string> languages_;
  int by_children_ = 0;
  std::unique_ptr<LetterEngine> engine_;
};

}  // namespace layright
