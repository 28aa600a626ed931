// What follows from how a page reads, asked of the program as a person asks: every case of who reverses, what contradicts whom, what is said
// where nothing tells. Expectations are worked out by hand from DESIGN section 3, rule 5.
#include <algorithm>
#include <catch2/catch.hpp>

#include "command/reading_pages.h"
#include "support/places.h"
#include "support/tiny_font.h"

namespace layright::test {
namespace {

/// A line of letters as a drawing program leaves them: paths.
std::string outlined() {
  std::string operators = "0 g 0.06 0 0 0.06 60 900 cm ";
  for (char letter : std::string("ELF FELL FEZ")) operators += (letter == ' ' ? "" : path_of(letter_corners(letter))) + "1 0 0 1 620 0 cm ";
  return operators;
}

}  // namespace

TEST_CASE("every case of who reverses: check and lay say the same and end alike", "[program][reading]") {
  Folder folder;
  save(folder, "right.pdf", words_at(100, 900));
  save(folder, "wrong.pdf", kReversing + words_at(100, 900));
  save(folder, "mixed.pdf", words_at(100, 900) + kReversing + words_at(100, 500));
  save(folder, "unknown.pdf", "100 100 m 300 100 l 200 300 l f");
  std::string configuration = "[sheet.film]\nsize = \"8.5x17in\"\n";
  for (std::string party : {"file", "printer", "rip"})
    for (std::string wanted : {"right", "wrong", "as-is"})
      configuration += "[target." + wanted + "-" + party + "]\nsheet = \"film\"\nreading = \"" + wanted + "\"\nreverse-at = \"" + party + "\"\n";
  write_file(folder / "layright.toml", configuration);

  for (std::string incoming : {"right", "wrong", "mixed", "unknown"})
    for (std::string party : {"file", "printer", "rip"})
      for (std::string wanted : {"right", "wrong", "as-is"}) {
        CAPTURE(incoming, party, wanted);
        bool const asked = wanted != "as-is", known = incoming == "right" || incoming == "wrong";
        std::string const flipped = wanted == "right" ? "wrong" : "right", must = party == "file" ? wanted : flipped;
        bool const turns = asked && known && incoming != must, holds = asked && !known;
        std::string const source = incoming + ".pdf", target = wanted + "-" + party;
        std::filesystem::remove(folder / "laid.pdf");

        json const check = reported(folder, "check", {source, "--target", target});
        CHECK(check["status"] == (holds ? 2 : turns ? 1 : 0));
        CHECK(check["reading"] == incoming);
        CHECK(finds(check, "reading.reverse") == turns);
        CHECK(finds(check, "reading.mixed") == (holds && incoming == "mixed"));
        CHECK(finds(check, "reading.none") == (holds && incoming == "unknown"));

        json const lay = reported(folder, "lay", {source, "-o", "laid.pdf", "--target", target});
        CHECK(lay["status"] == (holds ? 2 : 0));
        CHECK(std::filesystem::exists(folder / "laid.pdf") == !holds);
        CHECK(lay.value("reading_sentence", "") == check.value("reading_sentence", ""));
        CHECK(check.contains("reading_sentence") == asked);
        CHECK(lay["placement"] == check["placement"]);
        if (holds) {
          CHECK(lay["placement"].is_null());
          continue;
        }
        CHECK(lay["placement"]["reversed"] == turns);

        json const laid = reported(folder, "check", {"laid.pdf", "--target", target});
        CHECK(laid["status"] == 0);
        CHECK_FALSE(laid["placement"]["reversed"].get<bool>());
        if (!asked) continue;
        CHECK(laid["reading"] == must);
        CHECK(laid["reading_from"] == "record");
        // Without its record the page itself says the same.
        std::string bytes = read_file(folder / "laid.pdf");
        auto const at = bytes.find("/PieceInfo");
        REQUIRE(at != std::string::npos);
        bytes.replace(at, 10, "/OtherInfo");
        write_file(folder / "bare.pdf", bytes);
        json const bare = reported(folder, "check", {"bare.pdf", "--target", target});
        CHECK(bare["reading"] == must);
        CHECK(bare["reading_from"] == "text");
        CHECK(bare["status"] == 0);
      }
}

TEST_CASE("a person's word against record and live text is held, and can be accepted", "[program][reading]") {
  Folder folder;
  save(folder, "art.pdf", words_at(100, 900));
  std::vector<std::string> const wrong{"--reading", "wrong"};
  REQUIRE(layright(folder, {"lay", "art.pdf", "-o", "laid.pdf", "--reading", "wrong"}).status == 0);

  struct Case {
    std::string file, word;
    bool conflict;
  };
  for (auto const& c :
       std::vector<Case>{{"art.pdf", "right", false}, {"art.pdf", "wrong", true}, {"laid.pdf", "wrong", false}, {"laid.pdf", "right", true}}) {
    CAPTURE(c.file, c.word);
    json const check = reported(folder, "check", {c.file, "--reading", "wrong", "--incoming", c.word});
    CHECK(finds(check, "reading.conflict") == c.conflict);
    CHECK(check["reading"] == c.word);
    CHECK(check["reading_from"] == "operator");
    if (c.conflict) CHECK(check["status"] == 2);
    std::filesystem::remove(folder / "out.pdf");
    json const lay = reported(folder, "lay", {c.file, "-o", "out.pdf", "--reading", "wrong", "--incoming", c.word});
    CHECK(lay["status"] == (c.conflict ? 2 : 0));
    CHECK(std::filesystem::exists(folder / "out.pdf") == !c.conflict);
    if (!c.conflict) continue;
    CHECK(reported(folder, "check", {c.file, "--reading", "wrong", "--incoming", c.word, "--accept", "reading.conflict"})["status"] != 2);
    CHECK(layright(folder, {"lay", c.file, "-o", "out.pdf", "--reading", "wrong", "--incoming", c.word, "--accept", "reading.conflict"}).status == 0);
  }
}

TEST_CASE("live text decides only for what it covers", "[program][reading]") {
  Folder folder;
  std::string const art = "q " + outlined() + "Q ", mirrored = "q " + kReversing + outlined() + "Q ",
                    footer = "0 g " + words_at(200, 60, "Gastrel findery 2457", 10), footer_back = "q " + kReversing + footer + "Q ",
                    letter = words_at(300, 300, "R", 14);
  struct Case {
    std::string name, operators, reading;
  };
  std::vector<Case> const cases{
      {"a right footer over mirrored outlines", mirrored + footer, "mixed by letters"},
      {"a mirrored footer under right art", art + footer_back, "mixed by letters"},
      {"a lone letter over mirrored outlines", mirrored + letter, "mixed by letters"},
      {"a right footer under right art", art + footer, "right by text"},
      {"both mirrored", mirrored + footer_back, "wrong by text"},
      {"a mirrored footer that is white on white", art + "1 g q " + kReversing + words_at(200, 60) + "Q ", "right by letters"},
      {"a mirrored footer of no size", art + "q " + kReversing + words_at(200, 60, "Gastrel findery", 0) + "Q ", "right by letters"},
      {"shapes that are no letters", footer + "100 100 m 300 100 l 200 300 l f 20 500 60 60 re f", "right by text"}};
  for (auto const& c : cases) {
    CAPTURE(c.name);
    save(folder, "page.pdf", c.operators);
    CHECK(reads(folder, "page.pdf") == c.reading);
  }
  save(folder, "page.pdf", cases[0].operators);
  json const page = reported(folder, "check", {"page.pdf", "--reading", "wrong"});
  REQUIRE(finds(page, "reading.mixed"));
  CHECK(page["status"] == 2);
  for (auto const& f : page["findings"])
    if (f["check"] == "reading.mixed") {  // around both places: the footer at 60 pt, the outlines at 900 pt
      CHECK(f["where_pt"][1].get<double>() < 70);
      CHECK(f["where_pt"][3].get<double>() > 900);
    }
  json const& evidence = page["reading_evidence"];
  CHECK(evidence["text"]["right"] > 0);
  CHECK(evidence["text"]["wrong"] == 0);
  CHECK(page["reading_letters"] == "read");
  CHECK(evidence["letters"]["reading"] == "wrong");
  CHECK(evidence["letters"]["lines"][0]["evidence"] < 0);
  CHECK(evidence["letters"]["lines"][0]["wrong"]["words"][0] == "ELF");
}

TEST_CASE("the layer of text over a scan is a hint only", "[program][reading]") {
  Folder folder;
  save(folder, "art.pdf", outlined());
  REQUIRE(run({"pdftoppm", "-r", "100", "-gray", "-singlefile", "art.pdf", "scan"}, folder.path()).status == 0);
  std::string const pgm = read_file(folder / "scan.pgm");
  std::size_t const pixels = 850 * 1700;
  REQUIRE(pgm.size() > pixels);
  for (bool mirrored : {false, true})
    for (char const* mode : {"3 Tr ", "1 g ", "7 Tr "}) {
      CAPTURE(mirrored, mode);
      PdfMaker pdf;
      auto const scan = pdf.stream("/Type /XObject /Subtype /Image /Width 850 /Height 1700 /ColorSpace /DeviceGray /BitsPerComponent 8",
                                   pgm.substr(pgm.size() - pixels));
      page_with_font(pdf)
          .use("XObject", "I", scan)
          .content(std::string("q ") + (mirrored ? kReversing : "") + "612 0 0 1224 0 0 cm /I Do Q q " + mode +
                   words_at(60, mode[0] == '1' ? 500 : 900, "ELF FELL FEZ") + "Q");  // white: on the scan's white
      pdf.save(folder / "page.pdf");
      CHECK(reads(folder, "page.pdf") == (mirrored ? "wrong by letters" : "right by letters"));
    }
}

TEST_CASE("letters that nobody understood are set apart from nothing like letters", "[program][reading]") {
  Folder folder;
  save(folder, "shape.pdf", "100 100 m 300 100 l 200 300 l f");
  save(folder, "word.pdf", words_at(100, 700, "AVA", 60));  // reads the same in a mirror
  write_file(folder / "layright.toml",
             "[sheet.film]\nsize = \"8.5x17in\"\n[target.shirt]\nsheet = \"film\"\nreading = \"wrong\"\nunknown-reads = \"hold\"\nwithout-letters = "
             "\"right\"\n");
  json const shape = reported(folder, "check", {"shape.pdf"}), letters = reported(folder, "check", {"word.pdf"});
  CHECK(shape["reading_letters"] == "none");
  CHECK(shape["reading_from"] == "assumed");
  CHECK(finds(shape, "reading.none"));
  CHECK(shape["status"] == 1);
  CHECK(letters["reading_letters"] == "not understood");
  CHECK(letters["reading"] == "unknown");
  CHECK(finds(letters, "reading.unknown"));
  CHECK(letters["status"] == 2);
  CHECK(layright(folder, {"lay", "word.pdf", "-o", "laid.pdf"}).status == 2);
  CHECK(layright(folder, {"lay", "shape.pdf", "-o", "laid.pdf"}).status == 0);
}

TEST_CASE("--explain-reading draws the lines that were looked at", "[program][reading]") {
  Folder folder;
  save(folder, "art.pdf", kReversing + outlined());
  for (std::string name : {"lines.png", "lines.svg", "lines.pdf"}) {
    CAPTURE(name);
    CHECK(layright(folder, {"check", "art.pdf", "--reading", "wrong", "--explain-reading", name}).status != 70);
    CHECK(std::filesystem::file_size(folder / name) > 2000);
  }
  auto const words = run({"pdftotext", "lines.pdf", "-"}, folder.path());
  CHECK(words.out.find("reads wrong (letters)") != std::string::npos);
  CHECK(words.out.find("speaks for wrong") != std::string::npos);
  CHECK(words.out.find("reversed: ELF") != std::string::npos);
  CHECK(layright(folder, {"check", "art.pdf", "--explain-reading", "lines.gif"}).status == 64);
  std::string const html = layright(folder, {"check", "art.pdf", "--reading", "wrong", "--format", "html"}).out;
  CHECK(html.find("The lines that were looked at") == std::string::npos);  // it is settled
}

TEST_CASE("proof and report of a page that nothing settled show its lines as they are and reversed", "[program][reading]") {
  Folder folder;
  save(folder, "art.pdf", words_at(100, 700, "AVA", 60));  // reads the same in a mirror
  save(folder, "settled.pdf", words_at(100, 700));
  auto const proof_words = [&](std::string const& name) {
    layright(folder, {"check", name, "--reading", "wrong", "--proof", "proof.pdf"});
    return run({"pdftotext", "-layout", "proof.pdf", "-"}, folder.path()).out;
  };
  std::string const unknown = proof_words("art.pdf");
  CHECK(unknown.find("as it is") != std::string::npos);
  CHECK(unknown.find("mirrored\n") != std::string::npos);
  CHECK(proof_words("settled.pdf").find("as it is") == std::string::npos);
  std::string const html = layright(folder, {"check", "art.pdf", "--reading", "wrong", "--format", "html"}).out;
  CHECK(html.find("The lines that were looked at: as they are, and mirrored") != std::string::npos);
}

TEST_CASE("letters are looked at against a person's word only when asked", "[program][reading]") {
  Folder folder;
  save(folder, "outlined.pdf", outlined());
  REQUIRE(reads(folder, "outlined.pdf") == "right by letters");
  for (std::string word : {"right", "wrong"}) {
    CAPTURE(word);
    std::vector<std::string> words{"outlined.pdf", "--reading", "wrong", "--incoming", word};
    CHECK_FALSE(finds(reported(folder, "check", words), "reading.conflict"));
    words.push_back("--check-letters");
    CHECK(finds(reported(folder, "check", words), "reading.conflict") == (word == "wrong"));
  }
}

TEST_CASE("what is taken for granted where nothing says is reported as assumed", "[program][reading]") {
  Folder folder;
  save(folder, "shape.pdf", "100 100 m 300 100 l 200 300 l f");
  for (std::string assumed : {"right", "wrong"}) {
    CAPTURE(assumed);
    write_file(folder / "layright.toml",
               "[sheet.film]\nsize = \"8.5x17in\"\n[target.shirt]\nsheet = \"film\"\nreading = \"wrong\"\nunknown-reads = \"" + assumed + "\"\n");
    json const page = reported(folder, "check", {"shape.pdf"});
    CHECK(page["reading"] == assumed);
    CHECK(page["reading_from"] == "assumed");
    CHECK(finds(page, "reading.none"));  // one word for both, as before there were two
    CHECK(page["status"] == (assumed == "wrong" ? 0 : 1));
    std::filesystem::remove(folder / "laid.pdf");
    json const lay = reported(folder, "lay", {"shape.pdf", "-o", "laid.pdf"});
    CHECK(lay["status"] == 0);
    CHECK(lay["placement"]["reversed"] == (assumed == "right"));
  }
}

TEST_CASE("a photograph whose tag asks for a mirror is reported", "[program][reading]") {
  Folder folder;
  // 8 x 8 grey pixels (ITU-T T.81); the tag goes in after the first two bytes.
  auto const made =
      run({"gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=jpeggray", "-r72", "-g8x8", "-o", "grey.jpg", "-c", "0.4 setgray 0 0 8 8 rectfill showpage"},
          folder.path());
  REQUIRE(made.status == 0);
  std::string const plain = read_file(folder / "grey.jpg");
  for (int tag : {0, 1, 2, 3, 4, 5, 6, 7, 8}) {
    CAPTURE(tag);
    std::string const exif =
        std::string("Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0", 25) + static_cast<char>(tag) + std::string("\0\0\0\0\0\0", 6);
    std::string const segment = std::string("\xFF\xE1\0", 3) + static_cast<char>(exif.size() + 2) + exif;
    PdfMaker pdf;
    auto const photograph =
        pdf.stream("/Type /XObject /Subtype /Image /Width 8 /Height 8 /ColorSpace /DeviceGray /BitsPerComponent 8 /Filter /DCTDecode",
                   plain.substr(0, 2) + (tag ? segment : "") + plain.substr(2));
    pdf.page().media(kSheet).use("XObject", "I", photograph).content("300 0 0 300 100 500 cm /I Do");
    pdf.save(folder / "photograph.pdf");
    bool const mirrors = tag == 2 || tag == 4 || tag == 5 || tag == 7;
    CHECK(finds(reported(folder, "check", {"photograph.pdf"}), "image.orientation") == mirrors);
    CHECK(finds(reported(folder, "check", {"photograph.pdf", "--only", "image.orientation"}), "image.orientation") == mirrors);
  }
}

TEST_CASE("the mistake of the README: reversed in the drawing program, and to be reversed by the printer as well", "[program][reading]") {
  Folder folder;
  PdfMaker pdf;
  page_with_font(pdf).content(kReversing + words_at(100, 900));
  pdf.catalog("ViewerPreferences", "<< /PrintScaling /None >>").save(folder / "reversed.pdf");
  write_file(folder / "layright.toml",
             "[sheet.film]\nsize = \"8.5x17in\"\n[target.shirt]\nsheet = \"film\"\nreading = \"wrong\"\nreverse-at = \"printer\"\n");
  std::string const readme = read_file(std::filesystem::path(layright::test::kSource) / "README.md");
  auto const start = readme.find("    $ layright check reversed.pdf --target shirt --verbose\n");
  REQUIRE(start != std::string::npos);
  auto const block = readme.substr(start, readme.find("\n\n", start) + 1 - start);
  auto const ran = layright(folder, {"check", "reversed.pdf", "--target", "shirt", "--verbose"});
  CHECK(ran.status == 1);
  std::string shown = block.substr(0, block.find('\n') + 1);
  for (std::size_t at = 0; at < ran.out.size(); at = ran.out.find('\n', at) + 1)
    shown += "    " + ran.out.substr(at, ran.out.find('\n', at) + 1 - at);
  CHECK(shown.substr(0, block.size()) == block);
  // Fixed, it reads right in the file, and the printer's own reversal makes the sheet read wrong: once.
  REQUIRE(layright(folder, {"lay", "reversed.pdf", "-o", "laid.pdf", "--target", "shirt"}).status == 0);
  CHECK(layright(folder, {"check", "laid.pdf", "--target", "shirt"}).status == 0);
  CHECK(reported(folder, "check", {"laid.pdf", "--target", "shirt"})["reading"] == "right");
}

}  // namespace layright::test
