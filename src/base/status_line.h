// The line at the bottom of a terminal that says how far long work has come.
#pragma once
#include <chrono>
#include <cstddef>
#include <string>

namespace layright {

/// One line on standard error that overwrites itself; to be wiped before any other line is written. Nothing where standard error is no terminal.
class StatusLine {
 public:
  static constexpr std::chrono::milliseconds kEvery{200};

  StatusLine();
  ~StatusLine() { wipe(); }
  StatusLine(StatusLine const&) = delete;
  StatusLine& operator=(StatusLine const&) = delete;

  /// Whether there is anybody to look at it.
  bool shown() const { return shown_; }
  /// Since the work began.
  double seconds() const;
  /// Work is longer than a second, and the line is older than kEvery.
  bool due() const;
  void put(std::string const& text);
  void wipe();

 private:
  using Clock = std::chrono::steady_clock;
  bool shown_, stands_ = false;
  Clock::time_point start_ = Clock::now(), last_{};
};

/// How far work on files is.
struct FilesDone {
  std::size_t files = 0, of_files = 0;
  long long pages = 0, of_pages = 0;  // of_pages: of a single file; 0 where nobody knows yet
  double share = 0;                   // of all of it, 0 to 1
};
/// "3 of 12 files, 148 pages, 6.2 pages/s, 50 s left"
std::string words_of(FilesDone const& done, double seconds);
/// "50 s", "12 min", "3 h"
std::string span_words(double seconds);

}  // namespace layright
