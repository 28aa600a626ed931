#include "reading/shared_letters.h"

namespace layright {

void SharedLetters::loaded_by_child() {
  if (++by_children_ != 2) return;
  if (auto loaded = LetterEngine::load(languages_)) engine_ = std::move(*loaded);
}

}  // namespace layright
