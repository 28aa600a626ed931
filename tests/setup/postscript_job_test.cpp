// The whole job as PostScript: comments in the order of the Document Structuring Conventions 3.0 (from memory: header, defaults,
// prolog, setup, pages, trailer), the page's size asked for once.
#include "setup/postscript_job.h"

#include <catch2/catch.hpp>

namespace layright {
namespace {

constexpr char kPages[] =
    "%!PS-Adobe-3.0\n%%Invocation: secret words\n%%BoundingBox: 0 0 612 1224\n%%Pages: 1\n%%EndComments\n%%BeginProlog\n"
    "/SetPageSize true def\n%%EndProlog\n%%Page: 1 1\nshowpage\n%%Trailer\n%%EOF\n";

std::string joined(PostscriptJob const& job) {
  std::string text;
  for (auto const piece : job.pieces) text += piece;
  return text;
}

PostscriptSetup narrow_film() {
  Target target;
  return postscript_setup(target, "a job");
}

}  // namespace

TEST_CASE("setup and pages become one file in the order of the conventions", "[postscript-job]") {
  auto const setup = narrow_film();
  auto const job = postscript_job(kPages, setup);
  REQUIRE(job);
  auto const text = joined(*job);
  INFO(text);
  CHECK(text.starts_with("%!PS-Adobe-3.0\n"));
  std::size_t at = 0;
  for (char const* comment : {"%%Title:", "%%BoundingBox: 0 0 612 1224", "%%Pages: 1", "%%EndComments", "%%BeginProlog", "%%EndProlog",
                              "%%BeginSetup", "/PageSize [612 1224]", "%%EndSetup\n%%Page: 1 1", "%%Trailer", "%%EOF"}) {
    auto const found = text.find(comment, at);
    INFO(comment);
    REQUIRE(found != std::string::npos);
    at = found;
  }
  CHECK(text.find("%!PS-Adobe-3.0", 1) == std::string::npos);
  CHECK(text.find("secret words") == std::string::npos);
  CHECK(text.find("/SetPageSize true") == std::string::npos);
  CHECK(text.find("%%EndComments") == text.rfind("%%EndComments"));
  CHECK(text.find("%%EndProlog") == text.rfind("%%EndProlog"));
}

TEST_CASE("pages of another form are refused", "[postscript-job]") {
  auto const pages = GENERATE(as<std::string>{}, "", "%PDF-1.7\n", "%!PS-Adobe-3.0\n%%EndComments\nno prolog\n",
                              "%!PS-Adobe-3.0\n%%EndComments\n%%BeginProlog\n%%EndProlog\n");
  auto const job = postscript_job(pages, narrow_film());
  REQUIRE_FALSE(job);
  CHECK(job.error().kind == ErrorKind::internal);
}

}  // namespace layright
