// Ink and glyph counts of the corpus' first pages against what independent readers agree on (see the corpus' own README).
// The corpus is reached through the environment variable LAYRIGHT_CORPUS only; without it this part says so and does nothing.
#include <poll.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "document/document.h"
#include "marks/reader.h"

using namespace layright;
using nlohmann::json;

namespace {

constexpr int kMilliseconds = 15000;  // as every reader had when the truth was made

std::vector<std::byte> bytes_in(std::string const& path) {
  std::ifstream in(path, std::ios::binary);
  std::vector<char> const chars{std::istreambuf_iterator<char>(in), {}};
  std::vector<std::byte> bytes(chars.size());
  std::transform(chars.begin(), chars.end(), bytes.begin(), [](char c) { return static_cast<std::byte>(c); });
  return bytes;
}

/// What a child tells of one file, as it goes through the pipe.
struct Looked {
  bool opened = false, inked = false, whole = false, out_of_time = false;
  double ink[4] = {0, 0, 0, 0}, seen[2] = {0, 0};
  long right = 0, reversed = 0, invisible = 0;
  int by_picture = 0;
};

Looked look_at(std::string const& path) {
  Looked reported;
  auto const bytes = bytes_in(path);
  auto document = Document::open(bytes, path, "");
  auto* opened = std::get_if<std::unique_ptr<Document>>(&document);
  if (opened == nullptr || (*opened)->page_count() < 1) return reported;
  Page const page = (*opened)->page(1);
  if (!page.usable || !page.clockwise) return reported;
  auto reader = MarksReader::open(bytes, "");
  if (!reader) return reported;
  Marks const marks = (*reader)->read(page, {});
  reported.opened = true;
  reported.whole = marks.whole;
  reported.out_of_time = marks.out_of_time;
  reported.inked = marks.ink.has_value();
  if (marks.ink) {
    double const ink[4] = {marks.ink->x0, marks.ink->y0, marks.ink->x1, marks.ink->y1};
    std::copy(ink, ink + 4, reported.ink);
  }
  reported.seen[0] = page.seen.width;
  reported.seen[1] = page.seen.height;
  reported.right = marks.glyphs.right;
  reported.reversed = marks.glyphs.reversed;
  reported.invisible = marks.glyphs.invisible;
  reported.by_picture = marks.sides_by_picture;
  return reported;
}

/// Looks at a file in a child of its own; nothing when the child died or ran out of time.
std::optional<Looked> look_aside(std::string const& path) {
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0) return std::nullopt;
  pid_t const child = fork();
  if (child == 0) {
    close(ends[0]);
    Looked const reported = look_at(path);
    bool const all = write(ends[1], &reported, sizeof reported) == static_cast<ssize_t>(sizeof reported);
    _exit(all ? 0 : 1);
  }
  close(ends[1]);
  Looked reported;
  pollfd waiting{ends[0], POLLIN, 0};
  bool const came = poll(&waiting, 1, kMilliseconds) == 1 && read(ends[0], &reported, sizeof reported) == static_cast<ssize_t>(sizeof reported);
  close(ends[0]);
  if (!came) kill(child, SIGKILL);
  int status = 0;
  waitpid(child, &status, 0);
  if (!came) return std::nullopt;
  return reported;
}

struct Tally {
  int judged = 0, agree = 0, sides_by_picture = 0, pages_by_picture = 0, died = 0;
  std::vector<std::string> differ;
};

void judge_ink(json const& record, std::optional<Looked> const& reported, Tally& tally) {
  if (record["ink_state"] == "none" || record["qpdf_exit"] != 0) return;
  ++tally.judged;
  std::string const file = record["file"];
  auto differs = [&](std::string const& how) { tally.differ.push_back(file + ": " + how); };
  if (!reported) return differs("died or ran out of time");
  tally.sides_by_picture += reported->by_picture;
  tally.pages_by_picture += reported->by_picture > 0;
  if (!reported->opened) {
    if (record["ink_pt"].is_null()) ++tally.agree;
    else differs("was not opened");
    return;
  }
  if (record["ink_pt"].is_null() || !reported->inked) {
    if (record["ink_pt"].is_null() && !reported->inked) ++tally.agree;
    else differs(reported->inked ? "ink where readers see none" : "no ink where readers see some");
    return;
  }
  double worst = 0;
  std::string ours, theirs;
  for (std::size_t i = 0; i < 4; ++i) {
    double const wanted = record["ink_pt"][i];
    worst = std::max(worst, std::fabs(reported->ink[i] - wanted));
    ours += std::to_string(std::lround(reported->ink[i] * 10) / 10.0).substr(0, 7) + " ";
    theirs += std::to_string(wanted).substr(0, 7) + " ";
  }
  if (worst <= 2) ++tally.agree;
  else differs(std::to_string(worst) + " pt: ours " + ours + "/ readers " + theirs);
}

}  // namespace

TEST_CASE("corpus: ink agrees with independent readers on at least 99.3 % of the pages that they agree on", "[corpus]") {
  char const* corpus = std::getenv("LAYRIGHT_CORPUS");
  if (corpus == nullptr) {
    WARN("LAYRIGHT_CORPUS is not set: the corpus was not looked at");
    return;
  }
  std::string const folder = corpus;
  json const truth = json::parse(std::ifstream(folder + "/truth.json"));
  Tally tally;
  int counted = 0, counts_equal = 0, false_alarms = 0;
  std::vector<std::string> counts_differ;
  for (auto const& record : truth) {
    std::string const file = record["file"];
    auto const reported = look_aside(folder + "/files/" + file);
    if (!reported) {
      tally.died += !record["readers"].empty();  // where every reader runs out of time, a limit on time is all that helps
      std::cout << "died or ran out of time: " << file << "\n";
    }
    judge_ink(record, reported, tally);
    if (!reported || !reported->opened || record["glyphs_right"].is_null() || record["qpdf_exit"] != 0) continue;
    ++counted;
    bool const equal = reported->right == record["glyphs_right"].get<long>() && reported->reversed == record["glyphs_reversed"].get<long>() &&
                       reported->invisible == record["glyphs_invisible"].get<long>();
    counts_equal += equal;
    false_alarms += reported->reversed > 0 && record["glyphs_reversed"] == 0;
    if (!equal)
      counts_differ.push_back(file + ": ours " + std::to_string(reported->right) + "/" + std::to_string(reported->reversed) + "/" +
                              std::to_string(reported->invisible) + " readers " + record["glyphs_right"].dump() + "/" +
                              record["glyphs_reversed"].dump() + "/" + record["glyphs_invisible"].dump());
  }
  for (auto const& line : tally.differ) std::cout << "ink differs: " << line << "\n";
  for (auto const& line : counts_differ) std::cout << "glyphs differ: " << line << "\n";
  std::cout << "ink agrees within 2 pt on " << tally.agree << " of " << tally.judged << "; " << tally.sides_by_picture << " sides of "
            << tally.pages_by_picture << " pages by picture; " << tally.died << " of " << truth.size()
            << " died or ran out of time\nglyph counts equal on " << counts_equal << " of " << counted << ", " << false_alarms
            << " false alarms of reversed text\n";
  CHECK(tally.judged >= 600);
  CHECK(tally.agree * 1000 >= tally.judged * 993);
  CHECK(tally.died == 0);
  CHECK(false_alarms == 0);
}
