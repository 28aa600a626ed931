// The manual: pages of roff made from what the program itself goes by, so that they cannot say anything else.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace CLI {
class App;
}

namespace layright {

struct ManualPage {
  std::string name;  // "layright-check"
  int section = 1;
  std::string text;
};

/// layright(1), layright-COMMAND(1) of each command, layright.toml(5), layright-findings(7), layright-watch-folder(7).
std::vector<ManualPage> manual_pages(CLI::App const& program);

std::string overview_page(CLI::App const& program);
ManualPage command_page(CLI::App const& command);
std::string configuration_page();
std::string findings_page();
std::string watch_folder_page();

/// Text for roff: a backslash is doubled, a dash is one that can be copied, and no line begins with a control character.
std::string roff(std::string_view text);
/// .TH and NAME; the summary stands behind the name.
std::string page_head(std::string_view name, int section, std::string_view summary);
/// An indented paragraph under a bold word.
std::string tagged(std::string_view tag, std::string_view words);
/// Lines that stay as they are, to be copied.
std::string example_lines(std::string_view lines);

}  // namespace layright
