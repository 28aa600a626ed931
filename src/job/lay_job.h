// Lays one file: reads all its pages, writes the laid PDF, proves it, and only then lets it appear. Nothing is written while a hold stands
// that nobody has accepted, whatever check it comes from.
#pragma once
#include <cstdio>
#include <filesystem>
#include <memory>

#include "job/file_job.h"
#include "job/lay_work.h"
#include "job/messages.h"
#include "job/open_holds.h"
#include "setup/postscript.h"
#include "write/output_file.h"

namespace layright {

struct LayOptions {
  std::filesystem::path output;
  bool replace = false;                       // an earlier output of that name
  bool verify = true;                         // read it back and compare its marks with the source's
  std::optional<PostscriptSetup> postscript;  // the output is a whole PostScript job with this setup, made from the laid PDF
  std::vector<std::filesystem::path> inputs;  // of the whole run: never written over
  bool follow_links = true;                   // to the file that is laid
  bool keep_back = false;                     // what is written and proved gets no name yet: see take_output
  bool make_folders = false;                  // that the output lies in, where they are missing
  std::optional<Tiling> tiling = {};          // each page goes over several sheets
  bool plates = true;                         // put white plates on it, where the target wants them
};

class LayJob : public CheckJob, public std::enable_shared_from_this<LayJob> {
 public:
  LayJob(std::filesystem::path path, std::shared_ptr<InspectOptions const> options, LayOptions lay);
  ~LayJob() override;
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const& end) override;
  std::vector<std::shared_ptr<Job>> followers() override;

  /// What kept the output from being made although the file is good: cannot_create, io, internal. Nothing: no such thing.
  std::optional<ErrorKind> output_trouble() const { return output_trouble_; }
  bool written() const { return committed_; }
  /// For which press the file says that its colors are meant; empty where it does not. Requires written().
  std::string const& promised_press() const { return promised_press_; }
  /// With `tiling`: how each page was parted, in the order written.
  std::vector<PageTiles> const& tiles() const { return tiles_; }
  /// With keep_back: the output, whole and proved, without a name. Requires written().
  OutputFile take_output() { return std::move(*output_); }
  /// The same of its plates' own file, where it has one.
  std::optional<OutputFile> take_plate_output() { return std::move(apart_); }

 protected:
  std::function<void(Sender const&)> work(CheckWork const& work) const override;
  int restart_with_letters(int from) override;
  std::vector<int> kept_descriptors() const override;
  void page_reported(PageSummary const& page) override { holds_.add(page); }
  Result<std::shared_ptr<InputFile>> open_file(std::filesystem::path const& path) const override { return InputFile::open(path, lay_.follow_links); }
  void finish(FileTail tail) override;

 private:
  /// Reads back some of the pages; a long file is proved in as many parts as there are cores.
  class Proof;
  /// Puts the white plates on what is laid and proved.
  class Plating;
  enum class Phase { start, reading, verifying, plating, over };
  void refuse(std::string why, ErrorKind kind);
  void part_proved(std::string const& difference, ErrorKind kind);
  /// Once all parts are proved: what puts the plates on, once.
  std::shared_ptr<Job> plating();
  void plated(std::optional<message::Plated> plated);
  void conclude();
  /// What holds it, and what would have to be accepted.
  void report_holds();
  /// The file that the laid PDF is written to: the output itself, or a temporary that PostScript is made from, or one without its plates.
  int laid() const;
  /// The same with its plates.
  int finished() const;
  bool makes_plates() const { return lay_.plates && options().target.plate.from != PlateFrom::off; }
  void open_outputs();
  /// Gives what is made its names: all of it or nothing.
  Outcome commit();
  Outcome write_postscript();

  LayOptions lay_;
  Phase phase_ = Phase::start;
  std::optional<OutputFile> output_, apart_;  // the laid file; the plates, where they get a file of their own
  std::FILE* tape_ = nullptr;
  std::FILE* laid_pdf_ = nullptr;
  std::FILE* unplated_ = nullptr;    // what is laid, where a plate is to come on it
  std::vector<Verification> pages_;  // in the order written
  std::vector<PageTiles> tiles_;
  std::vector<std::string> refusals_;
  std::string promised_press_;
  OpenHolds holds_;
  bool wrote_ = false, proved_ = false, committed_ = false;
  bool plating_begun_ = false;
  int parts_left_ = 0;
  FileTail tail_;
  std::optional<ErrorKind> output_trouble_;
};

}  // namespace layright
