// A file that is no PDF, on its way to one: in shut-in children, into a file that no name leads to.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/unique_fd.h"
#include "convert/original_file.h"
#include "isolate/worker.h"
#include "job/inspect.h"
#include "job/messages.h"

namespace layright {

class Conversion {
 public:
  virtual ~Conversion();
  Conversion(Conversion const&) = delete;
  Conversion& operator=(Conversion const&) = delete;

  /// Like a job's: tasks in a row, nothing once it is over.
  virtual std::optional<WorkerTask> next() = 0;
  virtual void message(Message const& message) = 0;
  virtual void ended(WorkerEnd const& end) = 0;
  /// Of a file with several in it: the name of the one that page `number` comes from. Empty where it is the file itself.
  virtual std::string member_of(int) const { return {}; }

  /// The whole PDF; empty where there is none. What came of it else is in the findings.
  std::span<std::byte const> pdf() const { return pdf_; }
  std::string const& sha256() const { return sha256_; }  // of the bytes as they came; empty where nobody could tell
  std::vector<Finding> const& findings() const { return findings_; }
  std::string_view format() const { return word(recognised_.format); }
  /// How much more time than usual a page of it may take, for its many pixels.
  double patience() const { return patience_; }
  /// It is of no kind that is taken.
  bool refused() const { return refused_; }
  /// What is left of the time that the whole file may take, before each next().
  virtual void set_seconds_left(double seconds) { seconds_left_ = seconds; }

 protected:
  /// `bytes` must outlive it; `name` is what the person calls the file.
  Conversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectOptions const& options, UniqueFd output);
  void take_last_word(message::Converted const& word);
  /// Whether the child ended well and a page came of it: then that is read from the output. Else the findings tell.
  void take_page(WorkerEnd const& end);
  bool has_room();  // else the findings tell
  void fail(Finding finding) { findings_.push_back(std::move(finding)); }

  Recognised recognised_;
  std::span<std::byte const> bytes_;
  std::string name_;
  InspectOptions const& options_;
  UniqueFd output_;
  bool reported_ = false, made_ = false, refused_ = false;
  std::span<std::byte const> pdf_;
  std::string sha256_;
  std::vector<Finding> findings_;
  double patience_ = 1, seconds_left_ = 1e9;
};

/// Null where the bytes are a PDF, or of no kind that is known. `bytes` need not be mapped in this process.
/// `one_of_many`: what it becomes is kept on the disk, since many small ones take as much memory as a large one.
std::unique_ptr<Conversion> conversion_of(Recognised is, std::span<std::byte const> bytes, std::string const& name, InspectOptions const& options,
                                          bool one_of_many = false);

/// A file without a name, for at least so many bytes: in memory where they are few, else on the disk. None: there is no room.
UniqueFd nameless_file(std::size_t for_bytes);
/// An error of a reader as what a person should know.
ConversionNote remark_of(Error const& error);
/// The child's last word: what the file was, and whether a page came of it. `more`: what is reported beside that of a package.
void report_conversion(OriginalFile const& source, std::span<std::byte const> bytes, InspectOptions const& options, bool made, Sender const& sender,
                       message::Converted more = {});

}  // namespace layright
