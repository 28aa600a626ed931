// A press's PPD, whatever its bytes: it is refused with a reason, or it gives setups whose page has the sheet's size.
#include <sys/mman.h>
#include <unistd.h>

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "fuzz/require.h"
#include "setup/postscript.h"
#include "setup/press_setup.h"
#include "setup/queue_guards.h"
#include "support/press_target.h"

using namespace layright;
using test::require;

namespace {

/// The bytes under a path, without a disk.
class MemoryFile {
 public:
  MemoryFile(std::uint8_t const* data, std::size_t size) : descriptor_(memfd_create("press.ppd", 0)) {
    if (descriptor_ < 0 || write(descriptor_, data, size) != static_cast<ssize_t>(size)) std::abort();
  }
  ~MemoryFile() { close(descriptor_); }
  std::string path() const { return "/proc/self/fd/" + std::to_string(descriptor_); }

 private:
  int descriptor_;
};

void check_setup(Ppd& ppd, Target const& target) {
  auto const setup = ppd.setup(target, std::nullopt, Unit::inch);
  if (!setup) {
    require(setup.error().kind == ErrorKind::hold && !setup.error().message.empty(), "a refusal is for a person and says why");
    return;
  }
  require(setup->about(Topic::size) != nullptr, "a setup has a size");
  for (auto const& setting : setup->settings) require(!setting.option.empty() && !setting.why.empty(), "a setting is of an option and says why");
  for (auto const& finding : setup->findings) require(!finding.message.empty(), "a finding has a message");
  auto const made = postscript_setup(target, "fuzzed", ppd, *setup);
  require(made.text.starts_with("%!PS-Adobe-3.0\n") && made.text.ends_with("%%EndSetup\n"), "the fragment is whole");
  option_lines(queue_options(target, *setup, &ppd));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  MemoryFile const file(data, size);
  auto ppd = Ppd::open(file.path());
  if (!ppd) {
    require(ppd.error().kind == ErrorKind::data && !ppd.error().message.empty(), "what is no PPD is refused with a reason");
    return 0;
  }
  (*ppd)->options();
  (*ppd)->custom_range();
  check_setup(**ppd, film_target(8.5, 17));
  auto wide = film_target(12.5, 19);
  wide.press.media_source.clear();
  wide.reverse_at = ReverseAt::printer;
  check_setup(**ppd, wide);
  return 0;
}
