#include "command/manual_commands.h"

#include <algorithm>

namespace layright {
namespace {

std::vector<CommandWords> const& all_words() {
  static std::vector<CommandWords> const words{
      {"check",
       R"(Looks at each file and says what would go wrong on the sheet. Nothing is written.
One line a file: its verdict, its name and size, what matters most, and the command that helps. Held files come first.
.TP
\fBready\fR
it can go to the press as it is
.TP
\fBfix\fR
lay fixes it
.TP
\fBhold\fR
a person must look first
.TP
\fBpassed\fR
what was looked at is right, but not all was looked at
.PP
On a terminal one line says how far long work is.)",
       {{"A folder of orders, against a target of layright.toml", "layright check orders/ --target film"},
        {"Every page and finding in full", "layright check lantern.pdf --target film --verbose"},
        {"What one finding means", "layright check --explain ink.guide"},
        {"A picture of the sheet with what was found", "layright check lantern.pdf --target film --proof lantern.png"},
        {"For another program", "layright check lantern.pdf --target film --format json"}}},
      {"lay",
       R"(Writes the file that goes to the press: the art on a page of the sheet's size, inside the margin, turned for the press, mirrored where
it must be. Each output is read back and compared with its source, mark by mark, before it gets its name. A file that check holds is not
written. An input is never changed.
.PP
Without \-\-output it writes FILE\-laid.pdf beside FILE. Several files need a folder, in which they keep the folders that they come from.)",
       {{"A folder of orders into another folder", "layright lay orders/ -o laid/ --target film"},
        {"As large as fits", "layright lay lantern.pdf -o lantern-laid.pdf --target film --scale fit"},
        {"Ten inches wide on the goods", "layright lay lantern.pdf -o lantern-laid.pdf --target film --width 10in"},
        {"Once you have looked at what was held", "layright lay lantern.pdf -o lantern-laid.pdf --target film --accept ink.guide"},
        {"With the sheet for the person at the press",
         "layright lay lantern.pdf -o lantern-laid.pdf --target film --job-sheet lantern-job.pdf --paper letter"}}},
      {"gang",
       R"(Puts several pieces on as few sheets as it finds, and says how many none can do without. Each file is checked and mirrored as lay does
it; one that is held holds them all. An order is a TOML file; pieces can be named on the command line as well.)",
       {{"Six crests, and two foxes four inches wide", "layright gang crest.pdf:6 fox.pdf:2@4in -o sheets.pdf --target film"},
        {"An order, with its list for other programs", "layright gang team.toml -o sheets.pdf --manifest sheets.json"},
        {"With the sheet for the person at the press", "layright gang team.toml -o sheets.pdf --job-sheet job.pdf --paper letter"},
        {"What waits for a sheet in the watch folder, now", "layright gang now"}}},
      {"setup",
       R"(Prints the settings to choose at the press for a target: sheet, tray, feed, type, exit, scaling off, mirror. With the press's PPD,
queue or address it uses the press's own names.)",
       {{"For the pages of one laid file", "layright setup lantern-laid.pdf --target film"},
        {"The job sheet as a PDF", "layright setup lantern-laid.pdf --target film --as sheet -o job.pdf --paper a4"},
        {"All options of the press", "layright setup --target film --list"},
        {"Keep what the press is now; send holds when it changes", "layright setup --target film --approve"}}},
      {"presses",
       R"(Lists the queues of this machine (CUPS) and says of each whether it suits the sheet of the target, and why not.)",
       {{"For a target of layright.toml", "layright presses --target film"}}},
      {"send",
       R"(Sends a laid file with all its settings, and follows the job to its end. What is not ready, or what the press would not do as asked,
is not sent. A job is looked for before it is sent again, so that a broken line never prints twice.)",
       {{"See first what would be sent", "layright send lantern-laid.pdf --target film --dry-run"},
        {"Five copies", "layright send lantern-laid.pdf --target film --copies 5"},
        {"One page", "layright send lantern-laid.pdf --target film --page 2"}}},
      {"trial",
       R"(Makes a sheet with scales on it. Printed on paper of the film's size, it shows which edge came first, whether the press mirrors, what
it leaves blank, and how far it shifts and stretches. What was read off it is kept beside layright.toml and used from then on.)",
       {{"What the printed sheet showed", "layright trial --target film --measured reads=wrong,leading=12,blank12=4mm"}}},
      {"watch",
       R"(Takes in each file that lands in a watched folder, checks and lays it, and puts it into ready, or into held with a note that says
why and what to type. See layright\-watch\-folder(7).)",
       {{"All intakes of layright.toml, until it is ended", "layright watch"}, {"What is there now, for a scheduler", "layright watch --once"}},
       true},
      {"ledger",
       R"(Lists the jobs of the watch folder: number, day, state, name, and why. Days are those of the shop (TZ).)",
       {{"All about one job", "layright ledger show 12"},
        {"What came today", "layright ledger --day today"},
        {"Sheets used and spoiled, as a table", "layright ledger --sheets --format csv"},
        {"Do ledger and folders agree", "layright ledger check"},
        {"Take the ledger over to a server, with no watch running", "layright ledger copy intake.db postgresql://layright@server/layright"}},
       true},
      {"release",
       R"(Lets a held job go on once somebody has looked. The note beside the held file names the line to type. Who releases, and what
was said, is written into the ledger.)",
       {{"It is too large", "layright release 12 --scale shrink"},
        {"The guide box is meant", "layright release 12 --accept ink.guide"},
        {"Its size on the goods", "layright release 12 --width 4in --incoming right"}},
       true},
      {"again",
       R"(Lays a job once more from its original, which is kept, and sends it where the intake sends. What was released of it counts again, for
it is the same file; the ledger tells whose words they are. With --anew they are set aside, and what held the job holds it again.)",
       {{"Once more, as it was decided", "layright again 12"}, {"It was decided wrongly", "layright again 12 --anew"}},
       true},
      {"discard", R"(Puts a held job away. Its original is kept, and the reason stands in the ledger.)", {}, true},
      {"spoiled",
       R"(Counts sheets of a job that were spoiled, so that the film in the ledger is the film that was used. With --sheet that sheet is made
again; with --piece one copy of a piece of a shared sheet is laid again.)",
       {{"Two of them", "layright spoiled 12 --sheets 2 --why \"wrong tray\""},
        {"The second one, which is made again", "layright spoiled 12 --sheet 2 --why jam"},
        {"One piece of a shared sheet", "layright spoiled 12 --piece 7 --why torn"}},
       true},
      {"sheets",
       R"(Lists the sheets, presses and targets of layright.toml, and those that are known without it.)",
       {{"Names of standard sizes", "layright sheets --standard"}}},
      {"checks",
       R"(Lists every check with what it measures, its limit and its source. layright\-findings(7) has the same to read.)",
       {{"For another program", "layright checks --format json"}}},
      {"formats",
       R"(Lists the kinds of files that are taken: PDF, pictures, drawings, ZIP. Others are answered with what to ask the customer for.)",
       {}},
      {"init",
       R"(Writes a layright.toml with a note at every key. Put in your sheets, presses and targets. See layright.toml(5).)",
       {{"For all folders of this user", "layright init --user"}}},
  };
  return words;
}

}  // namespace

CommandWords const* words_of_command(std::string_view name) {
  auto const found = std::ranges::find(all_words(), name, &CommandWords::name);
  return found == all_words().end() ? nullptr : &*found;
}

}  // namespace layright
