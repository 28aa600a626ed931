// What a press was when a person approved its setup, so that a new driver or a changed default is noticed before film is spent.
#pragma once
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"
#include "setup/press_queue.h"
#include "sheet/press.h"

namespace layright {

/// Names and values in order: of a queue its PPD's digest, every option's default and the queue's own; of a printer what it offers and its
/// defaults; of a press with a PPD file alone that file's.
using PressState = std::vector<std::pair<std::string, std::string>>;

/// Errors: those of opening the PPD or of asking the printer; usage where the press has neither.
Result<PressState> press_state(Press const& press);
/// The same of what a press answered already.
Result<PressState> press_state(Press const& press, PressAnswer const& answer);

/// Approvals are kept in layright.approved.toml beside the configuration, one table a press.
std::filesystem::path approval_file(std::filesystem::path const& configuration);
/// Keeps the other presses' tables; gives the file's new text. Error (data) when the file is not as it should be.
Result<std::string> with_approval(std::filesystem::path const& configuration, std::string const& press, PressState const& state);

/// What changed since the approval, in plain words: "PageSize: default was Letter, is A4". Empty when nothing did or nothing was approved.
Result<std::vector<std::string>> changes_since_approval(std::filesystem::path const& configuration, std::string const& press,
                                                        PressState const& state);

}  // namespace layright
