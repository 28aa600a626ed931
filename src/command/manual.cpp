#include "command/manual.h"

#include <CLI/CLI.hpp>

#include "base/version.h"
#include "check/reading_sentence.h"
#include "command/manual_commands.h"

namespace layright {
namespace {

bool shown(CLI::Option const& o) { return !o.get_group().empty(); }

void put_option(std::string& page, CLI::Option const& o) {
  std::string const names = o.get_positional() ? o.get_name(true) : o.get_name(false, true);
  std::string const type = o.get_type_size() == 0 || o.get_positional() ? "" : " \\fI" + roff(o.get_type_name()) + "\\fR";
  page += ".TP\n\\fB" + roff(names) + "\\fR" + type + "\n" + roff(o.get_description()) + "\n";
}

constexpr char kStatus[] = R"(.SH EXIT STATUS
.TP
0
ready
.TP
1
lay can fix it
.TP
2
held: a person must decide
.TP
3
the press has the job, and did not end it in time
.TP
64
the command line or the configuration is wrong
.TP
65
not a file that can be used
.TP
66
no such input
.TP
70
a defect of layright
.TP
73
an output cannot be made
.TP
74
reading or writing failed
.TP
75
try again; nothing was sent
.TP
77
the press wants a login
.PP
Of several files the worst: 70, 74, 73, 77, 75, 66, 65, 3, 2, 1, 0.
)";

constexpr char kFiles[] = R"(.SH FILES
layright.toml in this folder or above, else layright/layright.toml in the user's configuration folder. See layright.toml(5).
)";

/// What keeps a file from being written, and how it goes on.
constexpr char kHolds[] = R"(.SH HOLDS
What check holds, lay does not write: it ends with 2, says what holds on which pages, and names the command that goes on with \-\-accept.
What was accepted is kept in the record of the laid pages; later checks show it as accepted. All pages or no file; \-\-pages leaves pages
out. The watch folder keeps to the same rule (layright release), and so does send.
.PP
These cannot be accepted; something must be fixed or said first: page.boxes, page.rotate, page.missing, ink.size, ink.margin, ink.edge,
white.register, file.missing, file.password, file.limit.
.SH LAID AGAIN
A laid file keeps its size and its place on the printed sheet unless another is asked on the command line. A scale or size counts from
the original; a turn or a place leaves the size. \-\-turn, \-\-at, \-\-offset and the margins are those of the printed sheet: where the
printer or the RIP mirrors later, lay mirrors them in the file.
)";

constexpr char kWhite[] = R"(.SH WHITE BENEATH
On a press that lays white (prints\-white) lay makes the white plate from the art, as a spot color under the name that the press goes by (white\-ink):
under all ink, under light colors or solid ink only, or of the art's own white alone (plate). It stays inside the ink by the pull\-in. The art is not
touched; laying again makes the plate anew. The driver's own white must then be off; both at once hold (white.twice).
.PP
First print the trial sheet of that press and look at its register star: at which line do black and white run on straight? layright trial
\-\-measured white\-across=3,white\-along=1 keeps it, and proposes the pull\-in: about twice what white and color lie apart.
.PP
For a press that lays white in a pass of its own the plate goes on a page of its own after or before the art's (plate\-as page), or into a second file
OUT\-white.pdf (file), with register marks where asked; both files get their names, or neither. There its stand\-in is black. send and watch send
the laid file alone.
)";

/// How the reversal is counted, in general; below it stand all cases, each with the sentence that `check` says.
constexpr char kReversal[] = R"(.SH ONE REVERSAL
The target says how the printed sheet must read and who reverses. What follows for a page:
.IP \(bu 2
reverse\-at file: the file must read as the printed sheet must; lay reverses a page that reads the other way.
.IP \(bu 2
reverse\-at printer or rip: the printer or the RIP reverses once more, so the file must read the other way round than the printed sheet;
lay brings it there, and mirrors position and margins so that the printed sheet comes out as asked.
.IP \(bu 2
A page that reads both ways, on which letters were seen and not understood (reading.unknown), or on which nothing looks like letters (reading.none), is held until a person says so (\-\-incoming);
of the last two the target may say which to take (unknown\-reads, without\-letters).
Live text decides only for what it covers; text that nobody sees and the text layer of a scan decide nothing.
)";

/// Every way to come in, every party, every wanted reading: what `check` says of it, in its own words.
std::string reversal_cases() {
  std::string cases = ".SS All cases\n";
  for (auto const wanted : {WantedReading::wrong, WantedReading::right, WantedReading::as_is})
    for (auto const party : {ReverseAt::file, ReverseAt::printer, ReverseAt::rip})
      for (auto const incoming : {Reading::right, Reading::wrong, Reading::mixed, Reading::unknown}) {
        Target target;
        target.reading = wanted;
        target.reverse_at = party;
        PageReading reading;
        reading.reading = incoming;
        cases += ".TP\nprinted sheet " + roff(word(wanted)) + ", reversed in the " + std::string(word(party)) + ", page " +
                 std::string(word(incoming)) + "\n" + roff(reading_sentence(reading, target)) + "\n";
      }
  return cases;
}

/// "Example:" and what stands below it.
std::string example_of(CLI::App const& command) {
  auto const footer = command.get_footer();
  return footer.substr(footer.find('\n') + 3);
}

}  // namespace

std::string roff(std::string_view text) {
  std::string out;
  for (char c : text) {
    if ((c == '.' || c == '\'') && (out.empty() || out.back() == '\n')) out += "\\&";
    if (c == '\\') out += "\\e";
    else if (c == '-') out += "\\-";
    else if (c == '`') out += "\\(ga";
    else out += c;
  }
  return out;
}

std::string page_head(std::string_view name, int section, std::string_view summary) {
  std::string upper;
  for (char c : name) upper += static_cast<char>(c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c);
  return ".TH " + roff(upper) + " " + std::to_string(section) + " \"\" \"layright " + program_version() + "\"\n.SH NAME\n" + roff(name) + " \\- " +
         roff(summary) + "\n";
}

std::string tagged(std::string_view tag, std::string_view words) { return ".TP\n\\fB" + roff(tag) + "\\fR\n" + roff(words) + "\n"; }

std::string example_lines(std::string_view lines) { return ".nf\n.RS\n" + roff(lines) + "\n.RE\n.fi\n"; }

std::string overview_page(CLI::App const& program) {
  auto page = page_head("layright", 1, "check art for transfer film and lay it on the sheet");
  page +=
      ".SH SYNOPSIS\n.B layright\n\\fICOMMAND\\fR [\\fIOPTIONS\\fR] [\\fIFILE\\fR...]\n.SH DESCRIPTION\n" + roff(program.get_description()) + "\n";
  page += ".SH OPTIONS\n";
  for (auto const* o : program.get_options())
    if (shown(*o)) put_option(page, *o);
  page += ".SH COMMANDS\nEach has a page of its own, such as layright\\-check(1).\n";
  for (auto const* sub : program.get_subcommands([](CLI::App const*) { return true; })) page += tagged(sub->get_name(), sub->get_description());
  auto const footer = program.get_footer();
  page += kHolds;
  page += kWhite;
  page += kReversal;
  page += reversal_cases();
  page += kStatus;
  page += kFiles;
  page += ".SH CAUTIONS\n" + roff(footer.substr(footer.rfind("\n\n") + 2)) + "\n";
  page += ".SH SEE ALSO\nlayright.toml(5), layright\\-findings(7), layright\\-watch\\-folder(7)\n";
  return page;
}

ManualPage command_page(CLI::App const& command) {
  ManualPage page{"layright-" + command.get_name(), 1, {}};
  page.text = page_head(page.name, 1, command.get_description());
  page.text += ".SH SYNOPSIS\n.B layright " + roff(command.get_name()) + "\n[\\fIOPTIONS\\fR]";
  for (auto const* o : command.get_options())
    if (o->get_positional()) page.text += " \\fI" + roff(o->get_name(true)) + "\\fR";
  page.text += "\n.SH DESCRIPTION\n";
  auto const* more = words_of_command(command.get_name());
  page.text += (more ? std::string(more->about) : roff(command.get_description()) + ".") + "\n.SH OPTIONS\n";
  for (auto const* o : command.get_options())
    if (shown(*o)) put_option(page.text, *o);
  page.text += ".SH EXAMPLES\n" + example_lines(example_of(command));
  if (more)
    for (auto const& [what, line] : more->examples) page.text += ".PP\n" + roff(what) + ":\n.PP\n" + example_lines(line);
  page.text += kStatus;
  page.text += ".SH SEE ALSO\nlayright(1), layright.toml(5), layright\\-findings(7)";
  page.text += std::string(more && more->watches ? ", layright\\-watch\\-folder(7)" : "") + "\n";
  return page;
}

std::vector<ManualPage> manual_pages(CLI::App const& program) {
  std::vector<ManualPage> pages{{"layright", 1, overview_page(program)}};
  for (auto const* sub : program.get_subcommands([](CLI::App const*) { return true; })) pages.push_back(command_page(*sub));
  pages.push_back({"layright.toml", 5, configuration_page()});
  pages.push_back({"layright-findings", 7, findings_page()});
  pages.push_back({"layright-watch-folder", 7, watch_folder_page()});
  return pages;
}

}  // namespace layright
