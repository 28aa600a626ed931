// Boxes against what independent readers say of real files: LAYRIGHT_CORPUS names a folder with files/ and truth.json. Each file is
// opened in a child process, since the PDF library crashes on some.
#include <catch2/catch.hpp>

#include <sys/wait.h>
#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <iostream>
#include <nlohmann/json.hpp>

#include "document/document.h"
#include "support/pdf_maker.h"

using namespace layright;
using nlohmann::json;

namespace {

bool same(json const& truth, Rect<PageSpace> const& box) {
  double const ours[4] = {box.x0, box.y0, box.x1, box.y1};
  for (std::size_t i = 0; i < 4; ++i)
    if (std::abs(truth.at(i).get<double>() - ours[i]) > 0.05) return false;  // the tolerance within which the readers agreed
  return true;
}

/// 0 exact, 1 other, 2 held, 3 not opened.
int judge(std::string const& path, json const& truth) {
  auto const bytes = test::read_file(path);
  auto const opened = Document::open(test::bytes_of(bytes), "corpus", "");
  auto const* document = std::get_if<std::unique_ptr<Document>>(&opened);
  if (!document) return 3;
  auto const page = (*document)->page(1);
  (*document)->lost_something();
  if (!page.usable) return 2;
  bool const exact = same(truth.at("media"), page.boxes.media) && same(truth.at("crop"), page.boxes.crop) && page.clockwise &&
                     degrees(*page.clockwise) == truth.at("rotate").get<int>() &&
                     std::abs(page.user_unit - truth.at("user_unit").get<double>()) < 1e-6;
  return exact ? 0 : 1;
}

int judge_in_child(std::string const& path, json const& truth) {
  auto const child = fork();
  if (child == 0) {
    alarm(20);
    _exit(judge(path, truth));
  }
  int status = 0;
  waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : 4;
}

}  // namespace

TEST_CASE("boxes of real files are what two independent readers say") {
  auto const* corpus = std::getenv("LAYRIGHT_CORPUS");
  if (!corpus) {
    WARN("LAYRIGHT_CORPUS is not set: boxes of real files were not judged");
    return;
  }
  auto const truth = json::parse(test::read_file(std::string(corpus) + "/truth.json"));
  int counts[5] = {0, 0, 0, 0, 0}, judged = 0;
  for (auto const& record : truth) {
    if (!record.at("agree_boxes").get<bool>() || record.at("needs_password").get<bool>()) continue;
    auto const name = record.at("file").get<std::string>();
    int const how = judge_in_child(std::string(corpus) + "/files/" + name, record.at("page1"));
    ++judged;
    ++counts[how];
    if (how != 0) std::cout << "boxes, " << (how == 1 ? "other" : how == 2 ? "held" : how == 3 ? "not opened" : "died") << ": " << name << "\n";
  }
  std::cout << "boxes: " << counts[0] << " of " << judged << " exact, " << counts[1] << " other, " << counts[2] << " held, " << counts[3]
            << " not opened, " << counts[4] << " died\n";
  CHECK(counts[0] >= std::ceil(0.995 * judged));
}
