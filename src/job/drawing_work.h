// Drawings that a program of their own turns into a PDF: what is told of them before, how that program is called, and what is made of what it
// wrote. Both halves run in shut-in children; between them only the plan goes on.
#pragma once
#include <span>
#include <string>

#include "base/result.h"
#include "base/unique_fd.h"
#include "convert/original_file.h"
#include "isolate/sandboxed_program.h"
#include "job/messages.h"
#include "sheet/target.h"

namespace layright {

/// Nameless files between the steps.
struct DrawingFiles {
  UniqueFd source;  // what the program reads
  UniqueFd made;    // what it writes
  UniqueFd said;    // what it says
};

/// Looks at the file, puts what the program is to read into `files.source`, and gives the plan. Errors as of readers of pictures.
Result<DrawingPlan> plan_drawing(Format format, std::span<std::byte const> bytes, DrawingFiles const& files, OriginalFile& source);

/// The program for a plan; its words come from numbers only, never from the file.
SandboxedProgram drawing_program(Format format, DrawingPlan const& plan, DrawingFiles const& files, Limits const& limits);

/// Makes `output` the PDF of what the program wrote, with pages of the size that the plan says.
Outcome finish_drawing(Format format, DrawingPlan const& plan, Outcome const& ran, DrawingFiles const& files, Target const& target, int output,
                       OriginalFile& source);

}  // namespace layright
