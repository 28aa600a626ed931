// Makes tiny PDFs from readable code, so that a test shows what its file holds. What is given is written as it is, right or wrong:
// boxes, rotation and unit are raw text, for a test of malformed ones must be able to write them.
//
//   PdfMaker pdf;
//   auto const photo = pdf.image_rgb(2, 1, {255, 0, 0, 0, 0, 255});
//   pdf.page().media("[0 0 612 792]").rotate("90").use("XObject", "Photo", photo).content("q 100 0 0 50 72 72 cm /Photo Do Q");
//   std::string const bytes = pdf.bytes();
#pragma once
#include <cstddef>
#include <cstdint>
#include <deque>
#include <filesystem>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace layright::test {

/// The number of an object in the file being made.
struct Ref {
  int number = 0;
  /// "12 0 R", as PDF writes it.
  std::string text() const { return std::to_string(number) + " 0 R"; }
};

/// One page in the making. Each call gives the page back, so that they can be chained; a box named twice keeps the last.
class PageMaker {
 public:
  PageMaker& media(std::string text) { return entry("MediaBox", std::move(text)); }
  PageMaker& crop(std::string text) { return entry("CropBox", std::move(text)); }
  PageMaker& bleed(std::string text) { return entry("BleedBox", std::move(text)); }
  PageMaker& trim(std::string text) { return entry("TrimBox", std::move(text)); }
  PageMaker& art(std::string text) { return entry("ArtBox", std::move(text)); }
  PageMaker& rotate(std::string text) { return entry("Rotate", std::move(text)); }
  PageMaker& user_unit(std::string text) { return entry("UserUnit", std::move(text)); }
  /// No own MediaBox: what the page tree gives, or nothing.
  PageMaker& without_media() {
    entries_.erase("MediaBox");
    return *this;
  }
  /// No own Resources: what the page tree gives, or nothing.
  PageMaker& without_resources() {
    own_resources_ = false;
    return *this;
  }
  /// Any entry of the page dictionary, as raw text.
  PageMaker& entry(std::string const& key, std::string value) {
    entries_[key] = std::move(value);
    return *this;
  }
  /// Content operators; called more than once, the page has several content streams.
  PageMaker& content(std::string operators) {
    contents_.push_back(std::move(operators));
    return *this;
  }
  /// Names an object in the page's resources: use("Font", "F1", font).
  PageMaker& use(std::string const& kind, std::string const& name, Ref object) { return use(kind, name, object.text()); }
  PageMaker& use(std::string const& kind, std::string const& name, std::string value) {
    resources_[kind][name] = std::move(value);
    return *this;
  }
  /// An annotation dictionary, raw and without its << >>: "/Type /Annot /Subtype /Square /Rect [0 0 9 9] /F 4".
  PageMaker& annotation(std::string entries) {
    annotations_.push_back(std::move(entries));
    return *this;
  }

 private:
  friend class PdfMaker;
  std::map<std::string, std::string> entries_{{"MediaBox", "[0 0 612 792]"}};
  std::map<std::string, std::map<std::string, std::string>> resources_;
  std::vector<std::string> contents_, annotations_;
  bool own_resources_ = true;
};

class PdfMaker {
 public:
  /// Adds a page: US letter, empty, until its calls say otherwise. The reference stays good while the maker lives.
  PageMaker& page();

  /// Adds an object: "<< /Type /Font … >>", "[1 2 3]", "42".
  Ref object(std::string body);
  /// A number for an object that comes later (for loops and forward references); unless filled it stays missing.
  Ref reserve();
  void fill(Ref ref, std::string body);
  /// Adds a stream. `entries` are those of its dictionary but Length, without << >>.
  Ref stream(std::string const& entries, std::string const& data);
  static std::string stream_body(std::string const& entries, std::string const& data);

  /// One of the standard 14 fonts (ISO 32000-1, 9.6.2.2).
  Ref font(std::string const& base_font = "Helvetica");
  /// Eight bits a component, rows from the top; `entries` are added to the dictionary ("/SMask 5 0 R", "/Decode [1 0]", …).
  Ref image_rgb(int width, int height, std::vector<std::uint8_t> const& samples, std::string const& entries = "");
  Ref image_gray(int width, int height, std::vector<std::uint8_t> const& samples, std::string const& entries = "");
  /// A form XObject. `box` as "[0 0 10 10]"; `entries` such as "/Resources << >> /Matrix [1 0 0 1 5 5] /Group << … >>".
  Ref form(std::string const& box, std::string const& operators, std::string const& entries = "");

  /// Entries of the catalog, of the root of the page tree (what pages inherit), of the trailer, of the information dictionary.
  PdfMaker& catalog(std::string const& key, std::string value) {
    catalog_[key] = std::move(value);
    return *this;
  }
  PdfMaker& inherited(std::string const& key, std::string value) {
    tree_[key] = std::move(value);
    return *this;
  }
  PdfMaker& trailer(std::string const& key, std::string value) {
    trailer_[key] = std::move(value);
    return *this;
  }
  PdfMaker& info(std::string const& key, std::string value) {
    info_[key] = std::move(value);
    return *this;
  }
  PdfMaker& version(std::string text) {
    version_ = std::move(text);
    return *this;
  }

  /// The whole file, with a cross-reference table that is right to the byte. The same calls give the same bytes.
  std::string bytes() const;
  /// Writes it; throws std::runtime_error when it cannot.
  void save(std::filesystem::path const& path) const;

 private:
  std::vector<std::string> objects_;  // body of object i + 1; empty: missing
  std::deque<PageMaker> pages_;
  std::map<std::string, std::string> catalog_, tree_, trailer_, info_;
  std::string version_ = "1.7";
};

/// A PDF of one page and nothing else: what most tests need.
std::string one_page_pdf(std::string const& media, std::string const& operators);

/// Bytes as the program's own functions take them; `text` must outlive what is given back.
inline std::span<std::byte const> bytes_of(std::string const& text) { return std::as_bytes(std::span(text.data(), text.size())); }

/// Throw std::runtime_error when the file cannot be written or read.
void write_file(std::filesystem::path const& path, std::string_view bytes);
std::string read_file(std::filesystem::path const& path);

}  // namespace layright::test
