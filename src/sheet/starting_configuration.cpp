#include "sheet/configuration.h"

namespace layright {

std::string starting_configuration() {
  return R"(# layright.toml: what this shop prints on, what it prints with, and what must come out.
# A line that starts with # is a note and has no effect: take the # away to use what it says.
# Every length has its unit: in, mm, cm or pt. Relative paths count from the folder of this file.

version = 1
unit = "in"                        # of lengths on screens and in reports: in, mm or pt
# sandbox = "whole"                # "as far as the kernel goes": work with less around hostile files, on an old kernel
# user = "layright"                # whom the watch becomes where root starts it

# ---- Sheets: the pieces of film or paper, either side first -------------------------------------
# narrow-film and wide-film are known from the start; change them here, or add your own.
# The margin keeps ink away from the edges, so that nothing is cut off or lies on the edge.
# A quarter inch is common practice, no published source.

[sheet.narrow-film]
size = "8.5x17in"                  # or 216x432mm, A4, letter, na_ledger_11x17in …
feed = "short-edge"                # the edge that enters the press first: short-edge or long-edge
margin = "0.25in"                  # or { left = "0.25in", bottom = "0.5in", right = "0.25in", top = "0.25in" }

[sheet.wide-film]
size = "12.5x19in"
feed = "short-edge"
margin = "0.25in"
# price = 1.8                      # of one sheet, in the press's currency: layright gang tells what is saved

# ---- Presses: what prints ------------------------------------------------------------------------
# Only load film that its maker rates for laser printers: other film can melt on the hot fuser,
# damage the press or start a fire. Follow the data sheets of the press and of the film.

[press.bench]
# ppd = "bench.ppd"                # the printer description that came with the press
# queue = "film"                   # or a queue of this machine, with its driver (layright presses lists them)
# ipp = "ipp://localhost:631/ipp/print"   # or its address; without any of the three the words below still give a setup
# user = "anna"                    # for a press that asks who one is
# password-file = "press.password" # whose first line is the password
media-source = "by-pass-tray"      # the multipurpose tray
media-type = "transparency"
output-bin = "face-up"             # the straight way out
print-quality = "high"             # draft, normal or high
# printer-resolution = "1200dpi"
# print-color-mode = "color"
# film-side-up = "coated side up"  # words for the operator; without them: see the data sheet of the film
# correct = true                   # undo in the file the shift and stretch that the trial sheet showed (layright trial)
prints-white = false               # true where the press lays white: then white parts of the art are printed too
# white-ink = "White"              # the separation that it lays white by, as its driver or RIP names it
# white-limit = "100%"             # the most that its driver can lay, as a share of one full layer
# What its toner costs: a cartridge's price, and for how many pages of A4 it is rated (at 5 % of the
# page; else coverage-pct = 5 beside it). With it check says what a page costs: an estimate.
# currency = "EUR"                 # your own word
# toner = { Black = { price = 80, pages = 7000 }, Cyan = { price = 95, pages = 5000 } }   # and Magenta, Yellow, White
# What only this press has, in its driver's own names (layright setup --list shows them):
# options = { Gloss = "Off" }            # always sent
# white-on = { WhiteLayer = "On" }       # sent when the target wants white,
# white-off = { WhiteLayer = "Off" }     # or wants none
# mirror-on = { Reverse = "True" }       # sent when the printer reverses,
# mirror-off = { Reverse = "False" }     # or must not
# unknown-size = "print"                 # switch off what stops the press at a size that it does not know,
# other-tray = "never"                   # and its going over to another tray; where its driver does not tell how:
# unknown-size.print = { SizeStop = "Off" }
# other-tray.never = { TraySwap = "Off" }
# no-size-check = { SizeStop = "Off" }   # earlier words for these two,
# no-tray-switch = { TraySwap = "Off" }  # which are still read

# ---- Targets: a sheet, a press and what the printed sheet needs ----------------------------------

[target.film]
sheet = "narrow-film"
press = "bench"
reading = "wrong"                  # how the printed sheet reads: wrong is reversed, as in a mirror; right; or as-is
reverse-at = "file"                # who reverses, exactly one: file (layright does), printer or rip
scale = "keep"                     # keep, fit, shrink (fit, but never enlarge) or a percentage such as 80%
# goods = "dark"                   # what it goes on: a press without white then holds art with white parts
# heat-time = "15s"                # for the job sheet: how the film is pressed. Copy it from the film's data sheet, which
# heat-temperature = "320F"        # decides; too hot or too long scorches goods and hands. 320F or 160C
# heat-pressure = "medium"         # or firm, light, or what your heat press says
# width = "10in"                   # instead of scale: how wide the art is on the goods,
# height = "12in"                  # and how high; with both it stays inside both
# turn = "auto"                    # or 0, 90, 180, 270 degrees counterclockwise
# by = "ink"                       # what is measured and placed: ink, trim or page
# at = "center"                    # or top, bottom, left, right, top-left, top-right, bottom-left, bottom-right
# offset = "0in,0in"               # to the right, and up, on the printed sheet
# margin = "0.5in"                 # another margin than the sheet's
# white = "off"                    # off, on, or a share of one full layer, such as 80%; at most the press's white-limit
# plate = "off"                    # a white plate in the file, made from the art: off, all, light (under light colors),
#                                  # solid (under solid ink) or own (the art's own white); then the driver's white is off
# pull-in = "0.5pt"                # how far it stays inside the art: about twice what white and color lie apart
# thin = "keep"                    # lines too fine for it keep a core of white; bare: they get none
# fade = "half"                    # soft edges: white from half strength on; gray: as much white as color
# none-under-black = false
# plate-as = "spot"                # the plate is a spot color of the page; page: a page of its own after the art's; file: a second
#                                  # file beside the laid one, NAME-white.pdf, for a press that lays white in a pass of its own
# plate-first = false              # of plate-as = "page": true: the plate's page comes before the art's
# register-marks = false           # of page and file: crosses at the same places on both, inside the margin
# plate-light-pct = 50             # of plate = "light": how light a color must be
unknown-reads = "hold"             # letters were seen and not understood: hold for a person, or take the art as right or wrong
without-letters = "right"          # nothing looks like letters: take the art as right (or wrong), or hold it
# render = "auto"                  # graphics or pictures, or auto: chosen from the art
# copies = 1
# cuts = "straight"                # of sheets with several pieces (layright gang): straight, free or shape
# turns = "quarter"                # whether pieces may be turned: none, quarter or any
# gap = "0.25in"                   # between two pieces
# marks = "on"                     # to cut by, in the gap
# labels = "on"                    # the number of each piece, in the gap
# gang = true                      # a watched folder's files wait for others to share a sheet,
# fill = "85%"                     # until it is filled so far (gaps count),
# gang-for = "2h"                  # or the first of them has waited so long; or: layright gang now
# checks = "strict"                # a profile of checks, see below
# allow-outside = false            # true: ink may lie outside the margin
# letters = "eng"                  # the languages of the art, for reading its letters
# pixels-per-inch = 300            # of pictures (PNG, JPEG and so on) that do not say how dense they are; else they are held

# ---- Reading letters in pictures -----------------------------------------------------------------

[reading]
letters = "eng"                    # several: "eng+fra"

# ---- Limits that the checks go by; a target may have its own: limits = { cut = "2pt" } -----------

[limits]
# size-tolerance = "0.5pt"         # how far a page may differ from the sheet
# margin-tolerance = "0.01pt"      # how far ink may reach into the margin
# cut = "1pt"                      # how far a mark may pass the page's edge before it counts as cut
# guide-stroke = "3pt"             # the widest line that is taken for a forgotten guide
# guide-near = "9pt"               # how near to an edge such a guide lies
# seconds-a-page = 6               # a page that takes longer is held
# seconds-a-file = 60              # so is a file whose pages take longer all together
# memory-mb = 512                  # a file that takes more is held
# least-density = 10               # pixels to the inch: a picture that states fewer, or more, cannot mean it
# most-density = 10000
# most-megapixels = 1500           # a larger picture is held
# most-packed-files = 1000         # a ZIP with more files in it is held
# most-unpacked-mb = 1000          # a ZIP that unpacks to more is held

# Of the art, at the size that it has on the sheet (common practice, no published source):
# picture-ppi = 150                # the fewest pixels to the inch of a picture,
# bit-ppi = 600                    # and of one in black and white only
# picture-fine-ppi = 600           # more pixels than this are more than the press can show
# bit-fine-ppi = 2400
# mask-ppi = 150                   # of the mask that cuts a picture out
# pixel-ratio = 1.1                # how far a picture may be stretched one way
# jpeg-quality = 50                # of 100
# line-thin = "0.5pt"              # the thinnest line,
# line-reversed = "1pt"            # and the thinnest light one on a darker ground
# text-small = "6pt"               # the smallest text in one solid ink,
# text-tint = "8pt"                # in a tint or in several inks,
# text-reversed = "8pt"            # and light on a darker ground
# rich-text = "12pt"               # black text below this size is wanted in black ink alone
# colour-spaces = ["gray", "rgb", "cmyk", "lab", "indexed", "spot", "inks", "other"]   # which ones are wanted
# white-inks = ["White"]           # spot colors that are white
# standard-fonts = false           # true: report the 14 fonts that every reader has, too, where they are not embedded
# ground-pct = 90                  # a flat box behind that much of the art is a ground
# faint-pct = 20                   # the strongest tint that counts as a faint box,
# faint-area-pct = 25              # and from how much of the ink's extents on
# scan-pct = 90                    # a page that is a picture over that much of its ink is a scan
# total-ink-pct = 300              # of all inks together at one place (only where ink.total is asked for)
# weed-width = "0.5pt"             # the narrowest ink and gap that weeds (ink.island, ink.gap),
# weed-square = "0.7pt"            # the least area of a speck or hole, as the side of a square that has it,
# weed-length = "6pt"              # and how long a hair that hangs on something wider must be
# white-under-pct = 50             # the least tint of a white plate under the art (only where white.under is asked for)
# most-marks = 100000

# ---- Profiles of checks: levels (off, note or hold) and limits that targets name with checks = "…" --------

[checks.strict]
# picture.ppi = "hold"             # layright checks lists them all
# picture.fine = "off"             # still counted in the JSON
# limits = { picture-ppi = 200, line-thin = "1pt" }

# ---- Intakes: folders that are watched -----------------------------------------------------------

# [intake.front-desk]
# target = "film"
# in = "in"                        # what lands here
# ready = "ready"                  # is laid and goes here,
# held = "held"                    # or waits here for a person, with the reason;
# originals = "originals"          # what came in is kept here,
# ledger = "intake.db"             # and written down here; postgresql://host/database where several
#                                  # machines share the work (passwords: in ~/.pgpass)
# settle = "2s"                    # how long a file must rest before it is taken
# poll = "2s"                      # look this often where the system says nothing (network folders)
# lease = "60s"                    # then another machine goes on with what one has left
# duplicates = "hold"              # the same file again: hold, again or skip
# tries = 2
# keep-originals = "90d"
# subfolders = false
# partial = ["*.part", "*.tmp"]   # names of files that are not whole yet
# job-sheet = true
# send = false
# customers-door = true            # of several: what customers hand in by layright desk --door comes here
#
# [[intake.front-desk.rule]]       # the first rule that matches a file's name counts
# match = "*-proof*"
# target = "film"
# copies = 2
# gang = false                     # a sheet of its own, though the target gangs; or the other way round
# white = "80%"                    # another share of white than the target's, where the press lays white
)";
}

}  // namespace layright
