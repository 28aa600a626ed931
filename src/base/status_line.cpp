#include "base/status_line.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/utf8.h"

namespace layright {
namespace {

constexpr double kLong = 1;        // seconds: shorter work needs no line
constexpr double kFirstGuess = 2;  // seconds, before which nobody knows how long the rest takes
constexpr std::size_t kUsualColumns = 80;

/// "14", and "6.2" below ten.
std::string rate_words(double rate) {
  auto const tenths = std::llround(rate * 10);
  if (tenths >= 100 || tenths % 10 == 0) return std::to_string(std::llround(rate));
  return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10);
}

std::size_t columns() {
  winsize size{};
  return ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0 ? size.ws_col : kUsualColumns;
}

}  // namespace

StatusLine::StatusLine() : shown_(isatty(STDERR_FILENO) == 1) {}

double StatusLine::seconds() const { return std::chrono::duration<double>(Clock::now() - start_).count(); }

bool StatusLine::due() const { return shown_ && seconds() >= kLong && (!stands_ || Clock::now() - last_ >= kEvery); }

void StatusLine::put(std::string const& text) {
  if (!shown_) return;
  std::string const line = "\r\033[K" + std::string(utf8_prefix(text, columns() - 1));
  std::fwrite(line.data(), 1, line.size(), stderr);
  std::fflush(stderr);
  stands_ = true;
  last_ = Clock::now();
}

void StatusLine::wipe() {
  if (!stands_) return;
  std::fputs("\r\033[K", stderr);
  std::fflush(stderr);
  stands_ = false;
}

std::string span_words(double seconds) {
  if (seconds < 100) return std::to_string(std::llround(std::max(seconds, 1.0))) + " s";
  if (seconds < 100 * 60) return std::to_string(std::llround(seconds / 60)) + " min";
  return std::to_string(std::llround(seconds / 3600)) + " h";
}

std::string words_of(FilesDone const& done, double seconds) {
  std::string text;
  if (done.of_files > 1)
    text = std::to_string(done.files) + " of " + std::to_string(done.of_files) + " files, " + std::to_string(done.pages) + " pages";
  else if (done.of_pages > 0) text = std::to_string(done.pages) + " of " + std::to_string(done.of_pages) + " pages";
  else return "opening the file, " + span_words(seconds);
  if (done.pages > 0 && seconds > 0) text += ", " + rate_words(static_cast<double>(done.pages) / seconds) + " pages/s";
  if (done.share >= 1) return text + ", finishing";
  if (done.share <= 0 || seconds < kFirstGuess) return text;
  return text + ", " + span_words(seconds * (1 - done.share) / done.share) + " left";
}

}  // namespace layright
