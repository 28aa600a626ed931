#include "command/lay_outputs.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>

using namespace layright;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace {

/// A folder "orders" with 1001 and 1002 in it, that is gone afterwards.
class Orders {
 public:
  Orders() : root_(fs::temp_directory_path() / ("layright-outputs-" + std::to_string(getpid()))) {
    fs::create_directories(root_ / "orders/1001");
    fs::create_directories(root_ / "orders/1002");
  }
  ~Orders() { fs::remove_all(root_); }
  std::string operator/(std::string const& name) const { return (root_ / name).string(); }
  /// What each file becomes, below the root.
  std::vector<std::string> outputs(std::vector<std::string> const& words, std::vector<std::string> const& names, std::string const& output) const {
    std::vector<fs::path> files;
    for (auto const& name : names) files.emplace_back(*this / name);
    auto const made = lay_outputs(words, files, output.empty() ? output : *this / output, ".pdf");
    REQUIRE(made);
    std::vector<std::string> reported;
    for (auto const& file : files) reported.push_back(made->of.at(file).lexically_relative(root_).string());
    return reported;
  }

 private:
  fs::path root_;
};

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("outputs keep the folders of their inputs") {
  Orders const at;
  Names const two{"orders/1001/logo.pdf", "orders/1002/logo.pdf"};
  Names const laid{"laid/1001/logo.pdf", "laid/1002/logo.pdf"};
  CHECK(at.outputs({at / "orders"}, two, "laid/") == laid);
  CHECK(at.outputs({at / "orders/"}, two, "laid") == laid);
  CHECK(at.outputs({at / two[0], at / two[1]}, two, "laid/") == laid);
  CHECK(at.outputs({at / "orders"}, {"orders/1001/logo.pdf"}, "laid/") == Names{"laid/1001/logo.pdf"});
  CHECK(at.outputs({at / two[0]}, {two[0]}, "laid/") == Names{"laid/logo.pdf"});
  CHECK(at.outputs({at / two[0]}, {two[0]}, "orders") == Names{"orders/logo.pdf"});
  CHECK(at.outputs({at / "orders/1001", at / "orders/1002"}, two, "laid/") == laid);
}

TEST_CASE("of files with one name the PDF keeps it") {
  Orders const at;
  CHECK(at.outputs({at / "orders"}, {"orders/logo.eps", "orders/logo.pdf"}, "laid/") == Names{"laid/logo-eps.pdf", "laid/logo.pdf"});
  CHECK(at.outputs({at / "orders"}, {"orders/logo.eps", "orders/logo.png"}, "laid/") == Names{"laid/logo.pdf", "laid/logo-png.pdf"});
  CHECK(at.outputs({at / "orders"}, {"orders/logo-eps.pdf", "orders/logo.eps", "orders/logo.pdf"}, "laid/") ==
        Names{"laid/logo-eps.pdf", "laid/logo-eps-2.pdf", "laid/logo.pdf"});
  CHECK(at.outputs({at / "a.pdf", at / "a.svg"}, {"a.pdf", "a.svg"}, "") == Names{"a-laid.pdf", "a-svg-laid.pdf"});
}

TEST_CASE("without -o a file goes beside its input") {
  Orders const at;
  CHECK(at.outputs({at / "orders/1001/logo.png"}, {"orders/1001/logo.png"}, "") == Names{"orders/1001/logo-laid.pdf"});
  CHECK(lay_outputs({"logo.pdf"}, {"logo.pdf"}, "", ".ps")->of.at("logo.pdf") == "logo-laid.ps");
  CHECK(lay_outputs({"-"}, {"-"}, "", ".pdf")->of.at("-") == "standard-input-laid.pdf");
}

TEST_CASE("what does not say where to is refused, and what would deceive") {
  Orders const at;
  auto const why = [](std::vector<std::string> const& words, std::string const& output, std::string const& suffix = ".pdf") {
    auto const made = lay_outputs(words, {words.begin(), words.end()}, output, suffix);
    REQUIRE_FALSE(made);
    CHECK(made.error().kind == ErrorKind::usage);
    return made.error().message;
  };
  CHECK_THAT(why({at / "orders"}, ""), Contains("-o laid/"));
  CHECK_THAT(why({"a.pdf", "b.pdf"}, "x.pdf"), Contains("-o x/"));
  CHECK_THAT(why({"a.pdf"}, "-"), Contains("name of a file"));
  CHECK_THAT(why({"a.pdf"}, "x.png"), Contains("let it end in .pdf"));
  CHECK_THAT(why({"a.pdf"}, "x.PS"), Contains("let it end in .pdf"));
  CHECK_THAT(why({"a.pdf"}, "x.pdf", ".ps"), Contains("let it end in .ps"));
  CHECK(lay_outputs({"a.pdf"}, {"a.pdf"}, "x.PDF", ".pdf"));
  CHECK(lay_outputs({"a.pdf"}, {"a.pdf"}, "order.1001", ".pdf"));
}
