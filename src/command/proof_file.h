// Writes the proof of a checked or laid file.
#pragma once
#include <CLI/CLI.hpp>
#include <filesystem>

#include "command/exit_status.h"
#include "job/inspect.h"
#include "report/page_collector.h"

namespace layright {

struct ProofWords {
  std::string path, audience = "shop", job, ground = "checker", goods;
  double dpi = 144;
  bool plain = false;
};
void add_proof_options(CLI::App& command, ProofWords& words);
inline constexpr std::size_t kMostProofPages = 100;  // in one PDF; a person looks at no more

/// Error (usage) when the words are off, or several files are to share one proof.
Outcome check_proof_words(ProofWords const& words, std::vector<std::filesystem::path> const& files);

/// From what the run told of `source`. A PDF has all its pages; of a PNG or an SVG there is one for each page, OUT-2.png and so on from
/// the second on. An earlier proof of that name is replaced; an input never is.
ExitStatus write_proofs(ProofWords const& words, PageCollector const& reported, std::filesystem::path const& source, InspectOptions const& options,
                        std::vector<std::filesystem::path> const& inputs);

/// The same of the picture that shows how the file reads (report/reading_picture.h), and what `option` may say of its path.
Outcome check_picture_path(std::string const& option, std::string const& path, std::vector<std::filesystem::path> const& files);
ExitStatus write_reading_pictures(std::string const& path, PageCollector const& reported, std::filesystem::path const& source,
                                  InspectOptions const& options, std::vector<std::filesystem::path> const& inputs);

}  // namespace layright
