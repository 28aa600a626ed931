#include "convert/package.h"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <optional>

#include "base/lower_case.h"
#include "base/utf8.h"
#include "base/write_all.h"
#include "convert/format.h"

namespace layright {
namespace {

using Kind = ConversionNote::Kind;

// A file that unpacks to more than this, and to so many times what it takes up, is a bomb, not art: Deflate packs white at about a thousand to
// one, so a small file may well be packed as tightly. Our own.
constexpr double kLargeMember = 100e6, kMostTimes = 200;
constexpr std::size_t kLongestNameShown = 120;  // that is shown
constexpr std::size_t kMostReported = 20;       // remarks of single files; the rest is counted
constexpr std::size_t kMostAsides = 3;          // of what is no art
constexpr std::size_t kBytesBetweenSigns = 1u << 20;

std::string_view last_part(std::string_view name) { return name.substr(name.find_last_of("/\\") + 1); }

/// What computers leave in folders by themselves.
bool left_by_a_computer(std::string_view name) {
  std::string const all = lower_case(name), last(last_part(all));
  constexpr std::array kNames = {".ds_store", "thumbs.db", "ehthumbs.db", "desktop.ini", "icon\r"};
  return all.starts_with("__macosx/") || all.find("/__macosx/") != std::string::npos || last.starts_with("._") ||
         std::ranges::find(kNames, last) != kNames.end();
}

bool is_folder(PackedFile const& file) { return file.size == 0 && (file.name.ends_with('/') || file.name.ends_with('\\')); }

bool is_text(std::span<std::byte const> head) {
  std::string_view const text(reinterpret_cast<char const*>(head.data()), head.size());
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) return true;
  return std::ranges::all_of(text, [](char c) { return static_cast<unsigned char>(c) >= ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\f'; });
}

/// Files of other programs that are packages by themselves, whatever comes first in them; a small picture for file managers lies in many. From
/// memory: the names that such files have in common.
std::optional<Recognised> own_file(std::vector<PackedFile> const& files) {
  auto const has = [&](auto const& test) { return std::ranges::any_of(files, [&](PackedFile const& f) { return test(lower_case(f.name)); }); };
  auto const is = [](char const* wanted) { return [wanted](std::string const& name) { return name == wanted; }; };
  auto const in = [](char const* wanted) { return [wanted](std::string const& name) { return name.starts_with(wanted); }; };
  if (has(is("[content_types].xml")))
    return Recognised{Format::refused, "an office document", "ask the customer to save it as PDF from the program that made it"};
  if (has(is("meta-inf/manifest.mf")) || has(is("androidmanifest.xml")))
    return Recognised{Format::refused, "a program, not art", "do not open it, and ask the customer what was meant"};
  if (has(is("mimetype")) || has(in("quicklook/")) || has(is("document.archive")) || has(in("content/riffdata")) ||
      (has(is("document.json")) && has(is("meta.json"))))
    return Recognised{Format::refused, "another program's own file",
                      "ask the customer to save it from that program as PDF, or as a flattened PNG or TIFF"};
  return std::nullopt;
}

std::string megabytes(double bytes) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f MB", bytes / 1e6);
  return text;
}

class Unpacking {
 public:
  Unpacking(PackageReader& reader, PackageLimits const& limits, int descriptor, std::function<void()> const& alive)
      : reader_(reader), limits_(limits), descriptor_(descriptor), alive_(alive) {}

  Outcome look_at(PackedFile const& file, std::uint64_t index) {
    if (is_folder(file)) return done();  // there is nothing in it that could be missed
    if (left_by_a_computer(file.name)) return aside(file, "left by a computer");
    if (file.locked) return held(file, Kind::locked, "it is locked with a password; ask the customer for it without one");
    if (file.size == 0) return held(file, Kind::damaged, "it is empty; ask the customer to send it again");
    if (static_cast<double>(file.size) > kLargeMember && static_cast<double>(file.size) > kMostTimes * static_cast<double>(file.packed))
      return held(file, Kind::limit,
                  "it unpacks to " + megabytes(static_cast<double>(file.size)) + ", more than " + std::to_string(static_cast<int>(kMostTimes)) +
                      " times its size, as a bomb does; ask the customer for it unpacked");
    return take(file, index);
  }

  Package finish() {
    if (!aside_.empty())
      package_.remarks.insert(package_.remarks.begin(), {Kind::reported, "left out, because it is no art: " + aside_ +
                                                                             (more_aside_ ? " and " + std::to_string(more_aside_) + " more" : "")});
    if (unreported_ > 0) package_.remarks.push_back({Kind::damaged, std::to_string(unreported_) + " more of its files cannot be taken"});
    std::ranges::stable_sort(package_.members, [](auto const& a, auto const& b) { return before_by_name(a.name, b.name); });
    return std::move(package_);
  }

 private:
  /// What the first bytes of a file make of it; nothing: it is taken.
  std::optional<Outcome> judged(PackedFile const& file) {
    auto const is = recognise(head_);
    if (is.format == Format::zip)
      return held(file, Kind::refused, "it is a ZIP in a ZIP, which is not taken: unpack it first, or ask for the files one by one");
    if (is.format == Format::refused && is.beside_art) return aside(file, is.what.c_str());
    if (is.format == Format::refused) return held(file, Kind::refused, "it is " + is.what + ", which is not taken: " + is.ask);
    if (is.format != Format::none) return std::nullopt;
    auto const promised = ending_of_taken(file.name);
    if (promised == "pdf" || promised == "ai") return std::nullopt;  // some have lost their beginning: opening it will tell
    if (!promised.empty())
      return held(file, Kind::damaged, "its name ends in ." + promised + ", but that is not what is in it; ask the customer to send it again");
    if (is_text(head_)) return aside(file, "text");
    return held(file, Kind::refused, "no known kind of file; ask the customer what it is, and for the art as PDF");
  }

  Outcome take(PackedFile const& file, std::uint64_t index) {
    auto const start = written_;
    std::uint64_t came = 0;
    std::optional<Outcome> judgement;
    Outcome trouble = done();
    head_.clear();
    bool looked = false;
    auto const read = reader_.read(index, [&](std::span<std::byte const> bytes) {
      came += bytes.size();
      if (came > file.size || static_cast<double>(start + came) > limits_.most_bytes) return false;
      if (!looked) head_.insert(head_.end(), bytes.begin(), bytes.end());
      if (!looked && head_.size() < kFormatHead && came < file.size) return true;
      if (!looked) {
        looked = true;
        judgement = judged(file);
        if (judgement) return false;
        trouble = put(head_);
      } else {
        trouble = put(bytes);
      }
      return trouble.has_value();
    });
    if (!trouble) return trouble;
    if (judgement) return *judgement;
    auto const broken = [&](Kind kind, std::string const& why) {
      give_back(start);
      return held(file, kind, why);
    };
    if (static_cast<double>(start + came) > limits_.most_bytes) return too_large();
    if (came > file.size) return broken(Kind::damaged, "it unpacks to more than the package says, as a bomb does; ask the customer to send it again");
    if (!read)
      return read.error().kind == ErrorKind::io ? read
                                                : broken(read.error().kind == ErrorKind::usage ? Kind::refused : Kind::damaged, read.error().message);
    if (came < file.size || !looked)
      return broken(Kind::damaged, "it is cut short: it unpacks to less than the package says; ask the customer to send it again");
    package_.members.push_back({file.name, start, came});
    return done();
  }

  Outcome put(std::span<std::byte const> bytes) {
    int const error = write_all(descriptor_, bytes);
    if (error != 0) return Error{ErrorKind::io, std::string("what is in it cannot be kept: ") + std::strerror(error)};
    written_ += bytes.size();
    since_sign_ += bytes.size();
    if (since_sign_ >= kBytesBetweenSigns) alive_(), since_sign_ = 0;
    return done();
  }

  /// What was written of a file that turned out broken is written over by the next.
  void give_back(std::uint64_t to) {
    written_ = to;
    lseek(descriptor_, static_cast<off_t>(to), SEEK_SET);
  }

 public:
  Outcome too_large() const {
    return Error{ErrorKind::hold, "what is in it unpacks to more than the " + megabytes(limits_.most_bytes) +
                                      " that may be taken in; ask for the files one by one, or raise most-unpacked-mb in layright.toml"};
  }

 private:
  Outcome aside(PackedFile const& file, char const* what) {
    if (++asides_ <= kMostAsides) aside_ += (aside_.empty() ? "" : ", ") + named(file.name) + " (" + what + ")";
    else ++more_aside_;
    return done();
  }

  Outcome held(PackedFile const& file, Kind kind, std::string const& why) {
    if (package_.remarks.size() < kMostReported) package_.remarks.push_back({kind, named(file.name) + ": " + why});
    else ++unreported_;
    return done();
  }

  PackageReader& reader_;
  PackageLimits limits_;
  int descriptor_;
  std::function<void()> const& alive_;
  Package package_;
  std::vector<std::byte> head_;
  std::uint64_t written_ = 0;
  std::size_t since_sign_ = 0, asides_ = 0, more_aside_ = 0, unreported_ = 0;
  std::string aside_;
};

}  // namespace

std::string named(std::string_view name) {
  if (name.size() <= kLongestNameShown) return std::string(name);
  return std::string(utf8_prefix(name, kLongestNameShown)) + "…";
}

bool before_by_name(std::string_view a, std::string_view b) {
  auto const digits = [](std::string_view text, std::size_t at) {
    auto end = at;
    while (end < text.size() && text[end] >= '0' && text[end] <= '9') ++end;
    return text.substr(at, end - at);
  };
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    auto x = digits(a, i), y = digits(b, j);
    if (x.empty() || y.empty()) {
      if (a[i] != b[j]) return static_cast<unsigned char>(a[i]) < static_cast<unsigned char>(b[j]);
      ++i, ++j;
      continue;
    }
    i += x.size(), j += y.size();
    x.remove_prefix(std::min(x.find_first_not_of('0'), x.size()));
    y.remove_prefix(std::min(y.find_first_not_of('0'), y.size()));
    if (x.size() != y.size()) return x.size() < y.size();
    if (x != y) return x < y;
  }
  return i == a.size() && j == b.size() ? a < b : i == a.size();
}

Result<Package> unpack_package(PackageReader& reader, std::size_t package_bytes, PackageLimits const& limits, int descriptor,
                               std::function<void()> const& alive) {
  auto const count = reader.count();
  if (static_cast<double>(count) > limits.most_files)
    return Error{ErrorKind::hold, "it has " + std::to_string(count) + " files in it, more than the " +
                                      std::to_string(static_cast<long long>(limits.most_files)) +
                                      " that may be taken in; ask for fewer at a time, or raise most-packed-files in layright.toml"};
  std::vector<PackedFile> files;
  double packed = 0, size = 0;
  for (std::uint64_t i = 0; i < count; ++i) {
    auto file = reader.file(i);
    if (!file) return file.error();
    packed += static_cast<double>(file->packed);
    size += static_cast<double>(file->size);
    files.push_back(std::move(*file));
  }
  if (packed > static_cast<double>(package_bytes))
    return Error{ErrorKind::data, "the files in it lie over each other, as in a bomb; ask the customer for them one by one"};
  Unpacking unpacking(reader, limits, descriptor, alive);
  if (size > limits.most_bytes) return unpacking.too_large().error();
  if (auto const own = own_file(files)) return Error{ErrorKind::usage, "it is " + own->what + ", which is not taken: " + own->ask};
  for (std::uint64_t i = 0; i < count; ++i)
    if (auto const looked = unpacking.look_at(files[i], i); !looked) return looked.error();
  return unpacking.finish();
}

}  // namespace layright
