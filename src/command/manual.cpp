#include "command/command.h"

#include <CLI/CLI.hpp>

#include "check/reading_sentence.h"

namespace layright {
namespace {

/// Text for roff: a backslash is doubled, a dash is a dash that can be copied, a line never starts with a control character.
std::string roff(std::string_view text) {
  std::string out;
  for (char c : text) {
    if (c == '\\') out += "\\e";
    else if (c == '-') out += "\\-";
    else out += c;
  }
  if (!out.empty() && (out[0] == '.' || out[0] == '\'')) out.insert(0, "\\&");
  return out;
}

bool shown(CLI::Option const& o) { return !o.get_group().empty(); }

void put_option(std::string& page, CLI::Option const& o) {
  std::string const names = o.get_positional() ? o.get_name(true) : o.get_name(false, true);
  std::string const type = o.get_type_size() == 0 || o.get_positional() ? "" : " \\fI" + roff(o.get_type_name()) + "\\fR";
  page += ".TP\n\\fB" + roff(names) + "\\fR" + type + "\n" + roff(o.get_description()) + "\n";
}

void put_command(std::string& page, CLI::App const& command) {
  page += ".SS layright " + roff(command.get_name()) + "\n" + roff(command.get_description()) + "\n";
  for (auto const* o : command.get_options())
    if (shown(*o)) put_option(page, *o);
  page += ".PP\n" + roff(command.get_footer().substr(0, command.get_footer().find('\n'))) + "\n.PP\n.nf\n" +
          roff(command.get_footer().substr(command.get_footer().find('\n') + 1)) + "\n.fi\n";
}

constexpr char kStatus[] = R"(.SH EXIT STATUS
0 ready; 1 something that lay can mend; 2 held: a person must decide; 3 the press took the job and had not ended it in time; 64 the command line or the configuration is off; 65 not a file that
can be used; 66 no such input; 70 a defect of layright; 73 an output cannot be made; 74 reading or writing failed; 75 try again (nothing
was sent); 77 no permission: the press wants a login. Of several files the worst: 70, 74, 73, 77, 75, 66, 65, 3, 2, 1, 0.
.SH FILES
layright.toml in this folder or above, else layright/layright.toml in the user's configuration folder.
)";

/// What keeps a file from being written, and how it goes on.
constexpr char kHolds[] = R"(.SH HOLDS
What check holds, lay does not write, with the same options, whatever the check, of a page or of the file: it ends with 2, says which findings hold and on
which pages, and names the command that goes on with \-\-accept. What was accepted is kept in the record of the laid pages, and later checks show
it as accepted. All pages or no file; \-\-pages leaves pages out. The watch folder keeps to the same rule (layright release), and so does send.
.PP
These cannot be accepted, since something must be mended or said first: page.boxes, page.rotate, page.missing, ink.size, ink.margin, ink.edge,
file.missing, file.password, file.limit.
.SH LAID AGAIN
A laid file keeps its size and its place on the printed sheet unless another is asked on the command line. A scale or size that is asked counts from
the original; a turn or a place that is asked leaves the size. \-\-turn, \-\-at, \-\-offset and the margins are those of the printed sheet: where the
printer or the RIP reverses later, lay mirrors them in the file.
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
of the last two the target may say what to take for granted (unknown\-reads, without\-letters).
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

}  // namespace

std::string manual_page(CLI::App const& program) {
  std::string page =
      ".TH LAYRIGHT 1 \"\" \"layright " LAYRIGHT_VERSION "\"\n.SH NAME\nlayright \\- check art for transfer film and lay it on the sheet\n";
  page +=
      ".SH SYNOPSIS\n.B layright\n\\fICOMMAND\\fR [\\fIOPTIONS\\fR] [\\fIFILE\\fR...]\n.SH DESCRIPTION\n" + roff(program.get_description()) + "\n";
  page += ".SH OPTIONS\n";
  for (auto const* o : program.get_options())
    if (shown(*o)) put_option(page, *o);
  page += ".SH COMMANDS\n";
  for (auto const* sub : program.get_subcommands([](CLI::App const*) { return true; })) put_command(page, *sub);
  auto const footer = program.get_footer();
  page += kHolds;
  page += kReversal;
  page += reversal_cases();
  page += kStatus;
  page += ".SH CAUTIONS\n" + roff(footer.substr(footer.rfind("\n\n") + 2)) + "\n";
  return page;
}

}  // namespace layright
