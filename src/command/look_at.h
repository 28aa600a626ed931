// Looks at one file behind the sandbox, as `check` does, for the commands that set up or send a job.
#pragma once
#include <filesystem>
#include <memory>

#include "command/exit_status.h"
#include "job/inspect.h"
#include "job/known_file.h"

namespace layright {

struct LookedAt : KnownFile {
  ExitStatus status = ExitStatus::hold;  // what `check` would have ended with
};

LookedAt look_at(std::filesystem::path const& path, std::shared_ptr<InspectOptions const> const& options);

}  // namespace layright
