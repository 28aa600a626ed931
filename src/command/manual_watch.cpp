// layright-watch-folder(7): how a shop works with a watched folder.
#include "command/manual.h"

namespace layright {
namespace {

constexpr char kText[] = R"(.SH DESCRIPTION
Files land in a folder. layright watch takes each one, checks it, lays it, and puts it where it belongs. Nothing is lost: each original is
kept, and a ledger has every step.
.SH FOLDERS
An intake in layright.toml names them:
.TP
\fBin\fR
where files land
.TP
\fBready\fR
laid files, each with its job sheet (NAME.job.pdf)
.TP
\fBheld\fR
files that a person must look at, each with a note: NAME.txt to read, NAME.json for programs
.TP
\fBoriginals\fR
what came in, as it came
.TP
\fBledger\fR
the list of all jobs; read it with layright ledger
.SH SET UP
.nf
.RS
layright init
layright watch front\-desk
.RE
.fi
.PP
Take the # away from [intake.front\-desk] in layright.toml first, and name your target there.
.SH WHEN A FILE IS TAKEN
Once it is whole: nobody writes to it, and it ends as such a file ends, or it has rested for settle (2 s). Names that begin with a dot or
match partial wait. Where the system says nothing of new files (network folders), poll = "2s" looks for them.
.SH WHEN A FILE IS HELD
The note says why, and what to type once you have looked:
.PP
.nf
.RS
layright release 12 \-\-scale shrink      # it is too large
layright release 12 \-\-incoming right    # nobody could tell how it reads; you looked
layright release 12 \-\-accept ink.guide  # the guide box is meant
layright discard 12 \-\-why "new file comes"
.RE
.fi
.PP
It is done at once, by the watch if one runs, else by the command. Or put a corrected file into the watched folder: it is a new job.
.SH SEVERAL JOBS ON ONE SHEET
A target with gang = true saves film: what comes for it is checked, then waits until a sheet is filled (fill = "85%", gaps count), or the
first of them has waited long enough (gang\-for = "2h"). Then one job is made of them; its original is its order, gang\-DAY.toml, which
layright gang takes as well. Each piece is labeled with the number of its job. A rule may say gang = true or false too. What is held never
waits. A rule's or a target's copies say how many of each piece.
.PP
.nf
.RS
layright ledger                 # what waits, and how full the sheet is
layright gang now               # all that waits is laid now
layright release 12             # job 12 is laid now, with what fits beside it
layright discard 12 \-\-why "called off"
layright again 15               # all sheets of job 15 once more
layright spoiled 15 \-\-sheet 2 \-\-why jam     # its second sheet once more
layright spoiled 15 \-\-piece 12 \-\-why torn   # job 12 waits for a sheet again
.RE
.fi
.PP
A piece that cannot be laid with the others any more is held by itself, and the others wait again. Discarding a sheet that is held holds
each of its pieces.
.SH THE SAME FILE AGAIN
is held, and the note names the first job. duplicates = "again" lays it, "skip" puts it away.
.SH FILM
layright ledger \-\-sheets counts sheets by day and target. A sheet counts as used when the press says so, or when its file is ready where
nobody sends; until then as planned. Spoiled sheets count by layright spoiled.
.SH AS A SERVICE
layright.service runs the watch as the user layright, with /etc/layright/layright.toml, below /srv/layright:
.PP
.nf
.RS
systemctl enable \-\-now layright
systemctl enable \-\-now layright\-desk   # the same day in a browser: http://127.0.0.1:8642/
systemctl reload layright      # reads layright.toml again
journalctl \-u layright         # a line for each file
.RE
.fi
.PP
layright watch \-\-health FILE writes every few seconds how many files wait, and for how long.
.SH SEVERAL MACHINES
share the work where they share the folders, and the ledger is a PostgreSQL database:
.PP
.nf
.RS
ledger = "postgresql://layright@server/layright?sslmode=verify\-full"
lease = "60s"
.RE
.fi
.PP
Each file is worked on once. What a machine has left for the time of the lease, another goes on with. All commands work from any of them.
The password goes into ~/.pgpass.
.SH BACKUP
Stop the watch. Copy the folders, the ledger (intake.db, and intake.db\-wal where it is there) and layright.toml. After bringing them back:
layright ledger check.
.SH SEE ALSO
layright\-watch(1), layright\-ledger(1), layright\-release(1), layright\-again(1), layright\-discard(1), layright\-spoiled(1),
layright.toml(5)
)";

}  // namespace

std::string watch_folder_page() { return page_head("layright-watch-folder", 7, "folders that are watched, and jobs that are held") + kText; }

}  // namespace layright
