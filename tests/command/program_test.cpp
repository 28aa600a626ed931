// The program itself, run as a person runs it: output, errors, exit status, odd names, closed pipes.
#include <catch2/catch.hpp>
#include <iterator>
#include <nlohmann/json.hpp>
#include <sstream>

#include "support/pdf_maker.h"
#include "support/program.h"

namespace layright::test {
namespace {

using nlohmann::json;

/// The art of most of these tests: a black triangle of 200 x 100 pt that starts at (100, 100).
constexpr char kTriangle[] = "100 100 m 300 100 l 100 200 l f";
constexpr char kSheet[] = "[0 0 612 1224]";  // 8.5 x 17 in: common practice, no published source

Ran layright(Folder const& folder, std::vector<std::string> words, std::string const& input = {}) {
  words.insert(words.begin(), LAYRIGHT_PROGRAM);
  return run(words, folder.path(), input);
}

void save(Folder const& folder, std::string const& name, std::string const& media = kSheet, std::string const& art = kTriangle) {
  write_file(folder / name, one_page_pdf(media, art));
}

json checked(Folder const& folder, std::vector<std::string> words) {
  words.insert(words.begin(), {"check", "--format", "json"});
  return json::parse(layright(folder, words).out);
}

}  // namespace

TEST_CASE("a page that suits the sheet is ready", "[program]") {
  Folder folder;
  save(folder, "good.pdf");
  auto const ran = layright(folder, {"check", "good.pdf"});
  CHECK(ran.status == 0);
  CHECK(ran.err == "");
  CHECK(ran.out.ends_with("verdict: ready\n"));
}

TEST_CASE("a letter page is mended by lay, and laying twice is laying once", "[program]") {
  Folder folder;
  save(folder, "letter.pdf", "[0 0 612 792]");
  CHECK(layright(folder, {"check", "letter.pdf"}).status == 1);
  auto const laid = layright(folder, {"lay", "letter.pdf", "-o", "laid.pdf"});
  INFO(laid.out << laid.err);
  REQUIRE(laid.status == 0);
  CHECK(layright(folder, {"check", "laid.pdf"}).status == 0);
  auto const report = checked(folder, {"laid.pdf"});
  auto const page = report["files"][0]["pages"][0];
  CHECK(page["boxes"]["media"] == json({0, 0, 612, 1224}));
  CHECK(page["placement"]["matrix"] == json({1, 0, 0, 1, 0, 0}));
  REQUIRE(layright(folder, {"lay", "laid.pdf", "-o", "again.pdf"}).status == 0);
  CHECK(read_file(folder / "laid.pdf") == read_file(folder / "again.pdf"));
}

TEST_CASE("the command that check tells does mend what was asked about", "[program]") {
  Folder folder;
  save(folder, "-wide one.pdf", "[0 0 1400 1400]", "10 10 m 1310 10 l 10 610 l f");
  auto const ran = layright(folder, {"check", "./-wide one.pdf", "--scale", "shrink", "--reading", "wrong", "--incoming", "right", "--offset",
                                     "0in,0in", "--accept", "ink.cut,ink.guide", "--only", "ink.size,reading.reverse", "--unit", "mm"});
  REQUIRE(ran.status == 1);
  std::string const start = "mend it with: layright ";
  auto const at = ran.out.find(start);
  REQUIRE(at != std::string::npos);
  auto const command = ran.out.substr(at + start.size(), ran.out.find('\n', at) - at - start.size());
  CHECK(command == "lay './-wide one.pdf' -o './-wide one-laid.pdf' --reading wrong --scale shrink --offset 0in,0in --incoming right "
                   "--accept ink.cut,ink.guide");
  CHECK(run({"sh", "-c", std::string(LAYRIGHT_PROGRAM) + " " + command}, folder.path()).status == 0);
}

TEST_CASE("a page without a size is told as such in the line about it", "[program]") {
  Folder folder;
  save(folder, "no-size.pdf", "[0 0 612]");
  auto const ran = layright(folder, {"check", "no-size.pdf"});
  CHECK(ran.status == 2);
  CHECK(ran.out.find("page 1: hold; it cannot be looked at\n") != std::string::npos);
}

TEST_CASE("nothing is ever written over an input, and outputs are replaced only when asked", "[program]") {
  Folder folder;
  save(folder, "art.pdf", "[0 0 612 792]");
  auto const original = read_file(folder / "art.pdf");
  CHECK(layright(folder, {"lay", "art.pdf", "-o", "art.pdf", "--force"}).status == 73);
  std::filesystem::create_symlink("art.pdf", folder / "link.pdf");
  CHECK(layright(folder, {"lay", "art.pdf", "-o", "link.pdf", "--force"}).status == 73);
  std::filesystem::create_hard_link(folder / "art.pdf", folder / "hard.pdf");
  CHECK(layright(folder, {"lay", "art.pdf", "-o", "hard.pdf", "--force"}).status == 73);
  CHECK(read_file(folder / "art.pdf") == original);
  write_file(folder / "there.pdf", "precious");
  CHECK(layright(folder, {"lay", "art.pdf", "-o", "there.pdf"}).status == 73);
  CHECK(read_file(folder / "there.pdf") == "precious");
  CHECK(layright(folder, {"lay", "art.pdf", "-o", "there.pdf", "--force"}).status == 0);
  std::filesystem::create_directory(folder / "folder.pdf");
  CHECK(layright(folder, {"lay", "art.pdf", "-o", "none/out.pdf"}).status == 73);
}

TEST_CASE("exit status by kind of trouble", "[program]") {
  Folder folder;
  save(folder, "good.pdf");
  save(folder, "letter.pdf", "[0 0 612 792]");
  save(folder, "large.pdf", "[0 0 2000 2000]", "0 0 1900 1900 re 50 50 m f");
  save(folder, "blank.pdf", kSheet, "");
  write_file(folder / "empty.pdf", "");
  write_file(folder / "words.pdf", "not a PDF at all");
  auto const [line, status] = GENERATE(table<std::string, int>({
      {"check good.pdf", 0},
      {"check letter.pdf", 1},
      {"check large.pdf", 2},
      {"check blank.pdf", 2},
      {"check empty.pdf", 65},
      {"check words.pdf", 65},
      {"check missing.pdf", 66},
      {"check good.pdf missing.pdf letter.pdf", 66},
      {"check good.pdf letter.pdf large.pdf", 2},
      {"check good.pdf --pages 2", 2},
      {"check", 64},
      {"check --no-such-option good.pdf", 64},
      {"check good.pdf --sheet 8.5x17", 64},
      {"check good.pdf --margin 0.25", 64},
      {"check good.pdf --only page.sise", 64},
      {"check good.pdf --pages 0", 64},
      {"check good.pdf --format xml", 64},
      {"lay good.pdf", 64},
      {"lay good.pdf -o x.pdf --scale fit --width 3in", 64},
      {"lay large.pdf -o x.pdf", 2},
      {"lay letter.pdf -o x.pdf --reading wrong", 2},
      {"frobnicate", 64},
      {"", 64},
      {"--version", 0},
      {"check --help", 0},
      {"checks", 0},
      {"sheets", 0},
  }));
  std::istringstream split(line);
  std::vector<std::string> const words{std::istream_iterator<std::string>(split), {}};
  auto const ran = layright(folder, words);
  INFO(ran.out << ran.err);
  CHECK(ran.status == status);
  if (status == 64) CHECK(ran.err.starts_with("layright: "));
  CHECK_FALSE(std::filesystem::exists(folder / "x.pdf"));
}

TEST_CASE("a mistake in words is answered with the nearest right one", "[program]") {
  Folder folder;
  save(folder, "good.pdf");
  auto const answer = [&](std::vector<std::string> words) {
    auto const ran = layright(folder, words);
    CHECK(ran.status == 64);
    return ran.err;
  };
  using Catch::Matchers::Contains;
  CHECK_THAT(answer({"check", "good.pdf", "--only", "page.sise"}), Contains("did you mean 'page.size'?"));
  CHECK_THAT(answer({"check", "--explain", "ink.gide"}), Contains("did you mean 'ink.guide'?"));
  CHECK_THAT(answer({"chek", "good.pdf"}), Contains("there is no command 'chek'; did you mean 'check'?; layright --help tells more"));
  CHECK_THAT(answer({"check", "good.pdf", "--readin", "wrong"}), Contains("'--readin'; did you mean '--reading'?; layright check --help"));
  CHECK_THAT(answer({"checks", "good.pdf"}), Contains("there is no use for 'good.pdf'; layright checks --help"));
}

TEST_CASE("with JSON every file has its entry, whatever becomes of it", "[program]") {
  Folder folder;
  save(folder, "good.pdf");
  write_file(folder / "words.pdf", "not a PDF at all");
  auto const report = checked(folder, {"words.pdf", "good.pdf", "missing.pdf"});
  REQUIRE(report["files"].size() == 3);
  CHECK(report["files"][0]["path"] == "words.pdf");
  CHECK(report["files"][0]["verdict"] == "hold");
  CHECK(report["files"][0]["pages"].empty());
  CHECK_FALSE(report["files"][0]["findings"].empty());
  CHECK(report["files"][1]["verdict"] == "ready");
  CHECK(report["files"][2]["verdict"] == "hold");
  CHECK_FALSE(report["files"][2]["findings"].empty());
  CHECK(report["verdict"] == "hold");
}

TEST_CASE("odd file names", "[program]") {
  Folder folder;
  std::string const name = GENERATE(as<std::string>{}, "with space.pdf", "new\nline.pdf", "-dash.pdf", "caf\xe9.pdf", "\xd0\xb0\xd1\x80\xd1\x82.pdf",
                                    "quote'\".pdf", "%s%n.pdf", "*.pdf");
  save(folder, name);
  auto const text = layright(folder, {"check", "--", name});
  CHECK(text.status == 0);
  CHECK(text.out.find('\n' + std::string("line")) == std::string::npos);
  auto const report = json::parse(layright(folder, {"check", "--format", "json", "--", name}).out);
  CHECK(report["files"][0]["verdict"] == "ready");
  CHECK(layright(folder, {"lay", "-o", "out.pdf", "--", name}).status == 0);
  CHECK(std::filesystem::exists(folder / "out.pdf"));
}

TEST_CASE("standard input as a file", "[program]") {
  Folder folder;
  CHECK(layright(folder, {"check", "-"}, one_page_pdf(kSheet, kTriangle)).status == 0);
  CHECK(layright(folder, {"lay", "-", "-o", "out.pdf"}, one_page_pdf(kSheet, kTriangle)).status == 0);
  CHECK(std::filesystem::exists(folder / "out.pdf"));
  CHECK(layright(folder, {"check", "-"}, "").status == 65);
}

TEST_CASE("a reader that goes away is no failure; a full disk is one", "[program]") {
  Folder folder;
  save(folder, "good.pdf");
  std::string const program = LAYRIGHT_PROGRAM;
  CHECK(run({"bash", "-c", program + " checks | head -1 >/dev/null; exit ${PIPESTATUS[0]}"}, folder.path()).status == 0);
  CHECK(run({"bash", "-c", program + " checks >/dev/full"}, folder.path()).status == 74);
}

TEST_CASE("folders, pipes and devices are no files", "[program]") {
  Folder folder;
  std::filesystem::create_directories(folder / "in/deeper");
  save(folder, "in/a.pdf");
  save(folder, "in/deeper/b.pdf");
  save(folder, "in/.hidden.pdf");
  auto const report = checked(folder, {"in"});
  REQUIRE(report["files"].size() == 2);
  std::filesystem::create_directories(folder / "empty/.hidden");
  auto const empty = layright(folder, {"check", "empty"});
  CHECK(empty.status == 66);
  CHECK(empty.out == "");
  CHECK_THAT(empty.err, Catch::Matchers::Contains("empty: there is no file in this folder"));
  CHECK(run({"mkfifo", "pipe.pdf"}, folder.path()).status == 0);
  CHECK(layright(folder, {"check", "pipe.pdf"}).status == 66);
  CHECK(layright(folder, {"check", "/dev/zero"}).status == 66);
}

TEST_CASE("a password opens what it fits; what opens without one needs none", "[program]") {
  Folder folder;
  save(folder, "plain.pdf");
  write_file(folder / "word", "lantern\n");
  write_file(folder / "other", "fox\n");
  auto const lock = [&](std::string const& password, std::string const& name) {
    REQUIRE(run({"qpdf", "--encrypt", password, "owner", "256", "--", "plain.pdf", name}, folder.path()).status == 0);
  };
  lock("lantern", "locked.pdf");
  lock("", "open.pdf");
  CHECK(layright(folder, {"check", "locked.pdf"}).status == 2);
  CHECK(layright(folder, {"check", "locked.pdf", "--password-file", "other"}).status == 2);
  CHECK(layright(folder, {"check", "plain.pdf", "locked.pdf", "open.pdf", "--password-file", "word"}).status == 0);
}

TEST_CASE("several files go to a folder, and equal names are told before anything is written", "[program]") {
  Folder folder;
  std::filesystem::create_directories(folder / "a");
  std::filesystem::create_directories(folder / "b");
  std::filesystem::create_directories(folder / "out");
  save(folder, "a/one.pdf");
  save(folder, "b/two.pdf");
  CHECK(layright(folder, {"lay", "a/one.pdf", "b/two.pdf", "-o", "out/"}).status == 0);
  CHECK(std::filesystem::exists(folder / "out/one.pdf"));
  CHECK(std::filesystem::exists(folder / "out/two.pdf"));
  save(folder, "b/one.pdf");
  std::filesystem::remove(folder / "out/one.pdf");
  CHECK(layright(folder, {"lay", "a/one.pdf", "b/one.pdf", "-o", "out/"}).status == 64);
  CHECK_FALSE(std::filesystem::exists(folder / "out/one.pdf"));
  CHECK(layright(folder, {"lay", "a/one.pdf", "b/two.pdf", "-o", "one-file.pdf"}).status == 64);
}

TEST_CASE("--only leaves out what nobody asked for, --accept frees what a person decided", "[program]") {
  Folder folder;
  save(folder, "letter.pdf", "[0 0 612 792]");
  auto page = checked(folder, {"letter.pdf", "--only", "page.size"})["files"][0]["pages"][0];
  CHECK(page.contains("boxes"));
  CHECK_FALSE(page.contains("ink_pt"));
  CHECK_FALSE(page.contains("placement"));
  CHECK(page["findings"].size() == 1);
  page = checked(folder, {"letter.pdf", "--only", "ink.margin"})["files"][0]["pages"][0];
  CHECK(page["ink_pt"] == json({100, 100, 300, 200}));
  CHECK(page["verdict"] == "ready");
  save(folder, "blank.pdf", kSheet, "");
  CHECK(layright(folder, {"check", "blank.pdf"}).status == 2);
  CHECK(layright(folder, {"check", "blank.pdf", "--accept", "ink.blank"}).status == 0);
}

TEST_CASE("the configuration gives targets, and its mistakes are told", "[program]") {
  Folder folder;
  save(folder, "wide.pdf", "[0 0 900 1368]");
  CHECK(layright(folder, {"init"}).status == 0);
  CHECK(layright(folder, {"init"}).status == 73);
  auto const listed = layright(folder, {"sheets"});
  CHECK(listed.status == 0);
  write_file(folder / "layright.toml", "[target.tote]\nsheet = \"wide-film\"\n");
  CHECK(layright(folder, {"check", "wide.pdf"}).status == 0);
  CHECK(layright(folder, {"check", "wide.pdf", "--target", "totte"}).err.find("tote") != std::string::npos);
  write_file(folder / "layright.toml", "[target.tote]\nsheeet = \"wide-film\"\n");
  auto const wrong = layright(folder, {"check", "wide.pdf"});
  CHECK(wrong.status == 64);
  CHECK(wrong.err.find("layright.toml:2") != std::string::npos);
}

TEST_CASE("a whole job as PostScript shows what the laid PDF shows, at the sheet's size (judge: Ghostscript)", "[program]") {
  Folder folder;
  save(folder, "letter.pdf", "[0 0 612 792]");
  REQUIRE(layright(folder, {"lay", "letter.pdf", "-o", "laid.pdf"}).status == 0);
  auto const made = layright(folder, {"lay", "letter.pdf", "-o", "laid.ps", "--as", "postscript"});
  INFO(made.out << made.err);
  REQUIRE(made.status == 0);
  auto const ink = [&](std::string const& name) {
    return run({"gs", "-q", "-dBATCH", "-dNOPAUSE", "-r720", "-sDEVICE=bbox", name}, folder.path()).err;
  };
  auto const of_pdf = ink("laid.pdf"), of_postscript = ink("laid.ps");
  CHECK(of_pdf.substr(0, of_pdf.find("%%HiRes")) == of_postscript.substr(0, of_postscript.find("%%HiRes")));
  auto const size = run({"gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=nullpage", "-c",
                         "<< /EndPage { pop pop currentpagedevice /PageSize get == false } >> setpagedevice", "-f", "laid.ps"},
                        folder.path());
  CHECK(size.out.find("[612") != std::string::npos);
  CHECK(size.out.find("1224") != std::string::npos);
}

TEST_CASE("lay writes the job sheet as well", "[program]") {
  Folder folder;
  save(folder, "letter.pdf", "[0 0 612 792]");
  auto const laid = layright(folder, {"lay", "letter.pdf", "-o", "laid.pdf", "--job-sheet", "sheet.pdf"});
  INFO(laid.out << laid.err);
  REQUIRE(laid.status == 0);
  auto const text = run({"pdftotext", "sheet.pdf", "-"}, folder.path()).out;
  CHECK(text.find("laid.pdf") != std::string::npos);
  CHECK(text.find("8.5 x 17 in") != std::string::npos);
  CHECK(layright(folder, {"lay", "letter.pdf", "letter.pdf", "-o", "./", "--job-sheet", "sheet.pdf"}).status == 64);
}

}  // namespace layright::test
