// What a child does with one file: open it, tell its head, each page, and its end (messages.h).
#pragma once
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "isolate/channel.h"
#include "job/inspect.h"

namespace layright {

/// What a file was before it became the PDF that is read.
struct BeforePdf {
  std::string sha256;  // of the bytes as they came
  std::string format;
  std::vector<Finding> findings;                   // of becoming one
  std::function<std::string(int)> member_of = {};  // the file in a package that a page comes from; may be empty
};

struct CheckWork {
  std::span<std::byte const> bytes;
  std::string name;
  InspectOptions const* options = nullptr;
  int from = 1;                                   // pages below were told by an earlier child
  std::vector<SeenSize> sizes;                    // the different sizes seen by then
  std::optional<Finding> lost;                    // an earlier child died on page `from`: its boxes come with this finding, its marks are not read
  LetterEngine* letters = nullptr;                // loaded before the sandbox closed, where a page has asked for it
  std::optional<BeforePdf> before;                // nothing: it came as a PDF
  int not_to_weed = 0;                            // the page at whose drawing, which nobody had asked for, an earlier child died
  bool claims_tested = true, claims_hold = true;  // on the pages looked at so far
};

/// An opened file, or the finding that says why there is none.
struct OpenedFile {
  std::unique_ptr<Document> document;
  std::unique_ptr<MarksReader> reader;  // only where the options want marks or `marks` says so
  std::vector<Finding> findings;
  std::string sha256;          // of the bytes as they came
  std::optional<FileArt> art;  // only where a check of the art asks
  std::string format = "pdf";  // it came as
  bool usable = true;          // false: not a PDF, or nothing of it can be read
};
/// Opens what `document` has opened with the reader of marks as well. Null where it cannot; `findings` tell that, and where the two find different
/// numbers of pages. `bytes` are mapped.
std::unique_ptr<MarksReader> second_reader(std::span<std::byte const> bytes, std::string const& password, Document const& document,
                                           std::vector<Finding>& findings);

OpenedFile open_file(CheckWork const& work, bool marks);

void check_file_pages(CheckWork const& work, Sender const& sender);

/// Tells a page that killed an earlier child: what its structure says, and the finding.
void report_lost_page(CheckWork const& work, Document const& document, Sender const& sender);

/// Tells the head of the file: format, digest, pages.
void report_head(OpenedFile const& file, Sender const& sender);
/// The findings of the whole file, with what was accepted of them: by the options, or when its pages were laid.
std::vector<Finding> findings_of_file(CheckWork const& work, OpenedFile const& file);
/// Adds what a page tells of the file's claims.
void note_claims(CheckWork& work, InspectedPage const& page);
/// Keeps `sizes` to the first few that differ.
void note_size(std::vector<SeenSize>& sizes, SeenSize size, Length tolerance);
/// Holds that the person has decided on are marked; what was left out by the selection goes.
void apply_selection(std::vector<Finding>& findings, InspectOptions const& options);

}  // namespace layright
