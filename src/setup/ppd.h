// The press's own PPD, opened by libcups. That part of libcups is deprecated upstream, so nothing outside ppd*.cpp sees it.
#pragma once
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "setup/setting.h"
#include "sheet/target.h"

namespace layright {

struct PpdChoice {
  std::string name, label;
  bool is_default = false;
};
struct PpdOption {
  std::string name, label;
  std::vector<PpdChoice> choices;
  /// Null where the PPD names none.
  PpdChoice const* default_choice() const;
};

/// The range of sizes that a PPD takes beside its named ones, as it says it: points, across the feed and along it.
struct PpdCustomRange {
  double min_across = 0, min_along = 0, max_across = 0, max_along = 0;
};

/// PostScript (and job language) that the PPD gives for what was set up last, by where in a job it belongs.
struct PpdCode {
  std::string exit_server, prolog, document, page;
};

/// The envelope of job language around a job, as libcups writes it (ppdEmitJCL, ppdEmitJCLEnd): both empty where the PPD gives none, and
/// then `lost` names the options whose code has no place to go.
struct PpdEnvelope {
  std::string before, after;
  std::vector<std::string> lost;
};

class Ppd {
 public:
  /// Errors: no_input when there is no such file, data when libcups does not take it for a PPD (with its line and reason).
  static Result<std::unique_ptr<Ppd>> open(std::filesystem::path const& path);
  /// The same of a PPD that a queue gave, called `name` in messages.
  static Result<std::unique_ptr<Ppd>> read(std::string const& text, std::string const& name);
  ~Ppd();

  /// The make and model that it is for, as people know it (NickName, else ModelName).
  std::string model() const;
  bool prints_colour() const;
  /// Whether it names filters of the driver's own, and whether one of them would count the sheets: the empty one ("-") does not.
  bool has_filters() const;
  bool driver_counts() const;
  /// Every option and choice that it offers, in its own order.
  std::vector<PpdOption> options() const;
  /// Nothing when it takes named sizes only.
  std::optional<PpdCustomRange> custom_range() const;

  /// The target in the words of this PPD. `ink` is where ink will lie, where known. Error (hold) when the press cannot take the sheet or two
  /// choices exclude each other: it quotes the line of the PPD which forces that.
  Result<PressSetup> setup(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit);
  /// For what setup() gave last.
  PpdCode code() const;
  /// Likewise; `title` is the job's name as the press's panel may show it.
  PpdEnvelope envelope(std::string const& title) const;

  struct Members;  // for ppd*.cpp

 private:
  explicit Ppd(std::unique_ptr<Members>);
  std::unique_ptr<Members> m_;
};

}  // namespace layright
