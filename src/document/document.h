// Opens a PDF safely (qpdf) and tells what its structure says. Throws nothing: library exceptions end here.
#pragma once
#include <cstddef>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "document/art_structure.h"
#include "document/page.h"

class QPDF;

namespace layright {

class PageTree;

/// Why a file could not be opened; becomes a finding of the check of that name.
struct OpenError {
  enum class Kind { password, damaged, not_pdf, empty, certificate, limit } kind;
  std::string message;
};

class Document {
 public:
  /// `bytes` must outlive the document. `password` may be empty. `read_on` is called again and again while many of the bytes are read, and may
  /// not throw: whoever mapped them can let go of them.
  static std::variant<std::unique_ptr<Document>, OpenError> open(std::span<std::byte const> bytes, std::string_view name, std::string const& password,
                                                                 std::function<void()> read_on = {});
  ~Document();
  int page_count() const;
  /// `number` from 1 to page_count().
  Page page(int number) const;

  bool encrypted() const;
  bool printing_allowed() const;  // the permissions of ISO 32000-1, Table 22, bit 3
  /// What had to be repaired to open it (qpdf's warnings so far, in plain words), and whether something was certainly lost.
  std::vector<std::string> repairs() const;
  bool lost_something() const;
  /// Viewer preference PrintScaling is None (ISO 32000-1, Table 150).
  bool asks_for_no_scaling() const;
  bool claims_pdfx() const;
  /// "JavaScript", "a launch action", "3 attachments", … : what a viewer could run or open; empty when there is none.
  std::vector<std::string> active_content() const;
  /// What of the file is about its pages' order or meaning and has no place in a laid file: "bookmarks", "3 links", …; empty where there is none.
  std::vector<std::string> lost_when_laid() const;
  /// Names of the layers that do not print (optional content in its print state).
  std::vector<std::string> layers_not_printing() const;

  /// What page `number` names for its art, and what the file as a whole promises; empty where it cannot be looked at.
  ArtStructure art_of_page(int number) const;
  FileArt art() const;

  /// For src/write only.
  QPDF& library();
  PageTree const& tree() const;

 private:
  struct Members;
  explicit Document(std::unique_ptr<Members>);
  std::unique_ptr<Members> m_;
};

/// The header stands within the first 1,024 bytes (ISO 32000-1, Annex H, implementation note 13 of 7.5.2).
bool looks_like_pdf(std::span<std::byte const> bytes);
}  // namespace layright
