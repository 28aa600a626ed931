// What the person at the press does, in the order of the work.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "setup/setting.h"
#include "sheet/target.h"

namespace layright {

/// The file that is to be printed, where there is one.
struct JobFile {
  std::string name;  // as the person gave it, UTF-8 or not
  std::string sha256;
  long long bytes = 0;
  int pages = 0;
  Reading reading = Reading::unknown;  // how it reads now
  std::string toner{};                 // what its toner costs, in words; empty: not known
};

struct Step {
  std::string heading;  // one or two words
  std::string text;     // one or two sentences
};

struct OperatorList {
  std::vector<Step> steps;
  std::vector<std::string> watch;     // findings that need a person, and notes
  std::vector<std::string> cautions;  // always the same four
};

OperatorList operator_list(Target const& target, PressSetup const& setup, std::optional<JobFile> const& file, Unit unit);
std::string operator_text(OperatorList const& list);

/// How the file must read, who reverses, and how the printed sheet must read, in one or two sentences.
std::string reversal_words(Target const& target);
/// How much white is laid, or empty where the target wants none.
std::string white_words(White const& white);
/// Film rated for laser fusing, hot parts, fumes, and whose word counts.
std::vector<std::string> const& cautions();

}  // namespace layright
