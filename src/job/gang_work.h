// What the children of a gang job do: put pages that were laid alone on sheets, then read the sheets back.
#pragma once
#include <cstdio>
#include <string>
#include <vector>

#include "job/gang_layout.h"
#include "job/inspect.h"
#include "job/messages.h"

namespace layright {

/// A laid file: all of its pages count, one file after another.
struct LaidFile {
  std::string name;  // of its source
  std::span<std::byte const> pdf;
};

/// Joins the laid files into `joined` (an empty file), traces the marks of the pages that are wanted onto `tape`, and writes the sheets to
/// `output`. Tells Ganged, Refused or NotWritten.
struct GangWork {
  std::vector<LaidFile> files;
  GangPlan const* plan = nullptr;
  int joined = -1, output = -1;
  std::FILE* tape = nullptr;
};
void write_gang_sheets(GangWork const& work, InspectOptions const& options, Sender const& sender);

/// Tells Proved or Differs. `traced`: of each laid page that is wanted, as Ganged told it.
struct GangProof {
  GangPlan const* plan = nullptr;
  std::vector<Verification> const* traced = nullptr;
  int tape = -1, output = -1;
};
void verify_gang_sheets(GangProof const& proof, InspectOptions const& options, Sender const& sender);

}  // namespace layright
