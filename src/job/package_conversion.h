// A ZIP on its way to one PDF: its files are unpacked in one shut-in child, each becomes its pages in children of its own, and another joins
// them, in the order of their names.
#pragma once
#include "convert/package.h"
#include "job/conversion.h"

namespace layright {

class PackageConversion : public Conversion {
 public:
  PackageConversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectOptions const& options);
  ~PackageConversion() override;
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const& end) override;
  std::string member_of(int number) const override;

 private:
  enum class Step { unpack, convert, join, over };
  struct Part {
    std::string name;
    std::span<std::byte const> pdf;
    std::unique_ptr<Conversion> made;  // what keeps it; nothing where it came as a PDF
    int pages = 0;
  };
  WorkerTask unpack_task() const;
  WorkerTask join_task() const;
  void join(Sender const& sender) const;
  std::span<std::byte const> bytes_of(PackageMember const& member) const;
  /// The file that is converted is done: what came of it is taken.
  void take_converted();
  void take_no_more();

  Step step_ = Step::unpack;
  UniqueFd unpacked_file_;
  std::span<std::byte const> unpacked_;
  std::vector<PackageMember> members_;
  std::size_t at_ = 0;                      // the member that is converted
  std::unique_ptr<Conversion> converting_;  // it, where it is no PDF
  std::vector<Part> parts_;
  double made_bytes_ = 0;  // of all of them that are no PDF
};

}  // namespace layright
