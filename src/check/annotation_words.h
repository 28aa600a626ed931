// What is said of annotations whose words would be lost: the same by `check` and by `lay`.
#pragma once
#include <string>

namespace layright {

/// A sentence without a full stop about `count` annotations (at least one).
std::string lost_words_message(int count);

}  // namespace layright
