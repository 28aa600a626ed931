// What is taken of a package, and what no package may do: a reader that says and gives whatever a hostile file could.
#include <catch2/catch.hpp>

#include <unistd.h>

#include <cstdio>

#include "convert/bytes.h"
#include "convert/package.h"

using namespace layright;

namespace {

struct Entry {
  PackedFile says;
  std::string gives;
  bool fails = false;
};

class GivenPackage : public PackageReader {
 public:
  explicit GivenPackage(std::vector<Entry> entries) : entries_(std::move(entries)) {}
  std::uint64_t count() const override { return entries_.size(); }
  Result<PackedFile> file(std::uint64_t index) const override { return entries_[index].says; }
  Outcome read(std::uint64_t index, std::function<bool(std::span<std::byte const>)> const& take) override {
    auto const& e = entries_[index];
    for (std::size_t at = 0; at < e.gives.size(); at += 1000) {
      ++pieces;
      if (!take(bytes_of(std::string_view(e.gives).substr(at, 1000)))) return done();
    }
    if (e.fails) return Error{ErrorKind::data, "it is broken"};
    return done();
  }
  int pieces = 0;

 private:
  std::vector<Entry> entries_;
};

Entry sound(std::string name, std::string const& bytes) { return {{std::move(name), bytes.size(), 10, false}, bytes}; }

struct Outfile {
  std::FILE* file = std::tmpfile();
  ~Outfile() { std::fclose(file); }
  std::string holds() const {
    std::string text(10000, '\0');
    text.resize(static_cast<std::size_t>(std::max<ssize_t>(pread(fileno(file), text.data(), text.size(), 0), 0)));
    return text;
  }
};

Result<Package> unpacked(GivenPackage& reader, Outfile& out, PackageLimits limits = {10, 1e6}, std::size_t package_bytes = 5000) {
  return unpack_package(reader, package_bytes, limits, fileno(out.file), [] {});
}

std::string const kPicture = "\x89PNG\r\n\x1A\n" + std::string(3000, 'x');

}  // namespace

TEST_CASE("art of a package is unpacked, and comes in the order of its names") {
  GivenPackage reader(
      {sound("b 10.png", kPicture + "ten"), sound("read me.txt", "hello"), sound("b 9.png", kPicture + "nine"), sound("a.svg", "<svg/>")});
  Outfile out;
  auto const package = unpacked(reader, out);
  REQUIRE(package);
  REQUIRE(package->members.size() == 3);
  auto const holds = out.holds();
  std::vector<std::string> names, texts;
  for (auto const& m : package->members) {
    names.push_back(m.name);
    texts.push_back(holds.substr(m.offset, m.size));
  }
  CHECK(names == std::vector<std::string>{"a.svg", "b 9.png", "b 10.png"});
  CHECK(texts == std::vector<std::string>{"<svg/>", kPicture + "nine", kPicture + "ten"});
  REQUIRE(package->remarks.size() == 1);
  CHECK(package->remarks[0].kind == ConversionNote::Kind::reported);
  CHECK(package->remarks[0].text.find("read me.txt (text)") != std::string::npos);
}

TEST_CASE("a file of a package that is not what it says is held by its name, and the others are taken") {
  using Kind = ConversionNote::Kind;
  auto more = sound("bad.png", kPicture), less = more, broken = more, locked = more, empty = sound("bad.png", "");
  more.says.size -= 1;
  less.says.size += 1;
  broken.fails = true;
  locked.says.locked = true;
  auto bomb = sound("bad.tif", kPicture);
  bomb.says.size = 200'000'000;
  bomb.says.packed = 900'000;
  struct Row {
    char const* what;
    Entry entry;
    Kind kind;
  };
  for (auto const& row : {Row{"more than it says", more, Kind::damaged},
                          {"less than it says", less, Kind::damaged},
                          {"broken", broken, Kind::damaged},
                          {"locked", locked, Kind::locked},
                          {"empty", empty, Kind::damaged},
                          {"a bomb", bomb, Kind::limit},
                          {"a package", sound("bad.png", "PK\3\4" + std::string(40, '\0')), Kind::refused}}) {
    INFO(row.what);
    GivenPackage reader({row.entry, sound("good.png", kPicture)});
    Outfile out;
    auto const package = unpacked(reader, out, {10, 1e9}, 1'000'000);
    REQUIRE(package);
    REQUIRE(package->members.size() == 1);
    CHECK(package->members[0].name == "good.png");
    CHECK(out.holds().substr(package->members[0].offset, package->members[0].size) == kPicture);
    REQUIRE(package->remarks.size() == 1);
    CHECK(package->remarks[0].kind == row.kind);
    CHECK(package->remarks[0].text.starts_with("bad."));
  }
}

TEST_CASE("a package beyond a limit is not unpacked at all; one at the limit is") {
  std::vector<Entry> ten(10, sound("a.png", kPicture)), eleven(11, sound("a.png", kPicture));
  Outfile out;
  GivenPackage at(ten), above(eleven);
  CHECK(unpacked(at, out));
  auto const many = unpacked(above, out);
  REQUIRE_FALSE(many);
  CHECK(many.error().kind == ErrorKind::hold);
  CHECK(above.pieces == 0);

  auto const size = static_cast<double>(kPicture.size());
  GivenPackage fits({sound("a.png", kPicture)}), large({sound("a.png", kPicture)});
  CHECK(unpacked(fits, out, {10, size}));
  CHECK_FALSE(unpacked(large, out, {10, size - 1}));
  CHECK(large.pieces == 0);

  auto over = sound("a.png", kPicture);
  over.says.packed = 5001;  // in a package of 5,000 bytes
  GivenPackage overlapping({over});
  auto const lies = unpacked(overlapping, out);
  REQUIRE_FALSE(lies);
  CHECK(lies.error().kind == ErrorKind::data);
}

TEST_CASE("a file that unpacks to more than it says is stopped there") {
  auto endless = sound("a.png", std::string(kPicture) + std::string(1'000'000, 'x'));
  endless.says.size = 5000;
  GivenPackage reader({endless});
  Outfile out;
  auto const package = unpacked(reader, out);
  REQUIRE(package);
  CHECK(package->members.empty());
  CHECK(reader.pieces <= 6);
}

TEST_CASE("numbers in names count by their value") {
  CHECK(before_by_name("2.png", "10.png"));
  CHECK_FALSE(before_by_name("10.png", "2.png"));
  CHECK(before_by_name("a.png", "b.png"));
  CHECK(before_by_name("a", "a1"));
  CHECK(before_by_name("a02", "a2"));
  CHECK(before_by_name("a1b2", "a1b10"));
  for (auto const* name : {"", "a", "10", "a10b"}) CHECK_FALSE(before_by_name(name, name));
}

TEST_CASE("a long name is cut between its letters") {
  CHECK(named("crest.png") == "crest.png");
  auto const cut = named(std::string(119, 'a') + "ü" + std::string(50, 'b'));
  CHECK(cut == std::string(119, 'a') + "…");
}
