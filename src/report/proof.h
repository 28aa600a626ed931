// The proof: a picture of the sheet as it will lie in the tray, with each finding marked where it is.
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "check/finding.h"
#include "geometry/matrix.h"
#include "geometry/seen.h"
#include "raster/page_picture.h"
#include "report/page_summary.h"
#include "report/white_layer.h"

namespace layright {

enum class ProofForm { png, svg, pdf };
/// The shop: the sheet with all that was found. The customer: the art as it will be worn, its size, and a line to sign. Art and sheet: that alone,
/// small and without a word, for lists.
enum class ProofFor { shop, customer, art, sheet };
/// What shows through where the art is clear.
enum class ProofGround { checker, light, dark };

struct ProofFinding {
  Level level = Level::note;
  std::string check, message;
  std::vector<Rect<SeenSpace>> places;  // none: of the page or the file as a whole
  bool accepted = false;
};

struct ProofPage {
  std::string file;  // as it may be shown
  int number = 1, of = 1;
  Verdict verdict = Verdict::ready;
  SeenSize seen;
  std::optional<Rect<SeenSpace>> ink;                      // nothing: blank, or not known
  std::optional<Matrix<SeenSpace, SheetSpace>> placement;  // to the sheet of the file, at the size that is asked for; nothing: there is none
  bool placed = false;                                     // `lay` would put it there
  double scale = 1;                                        // counted from the original
  Reading reading = Reading::unknown;                      // how the page reads now
  std::vector<Rect<SeenSpace>> lost_white;                 // white art that the press will not print
  std::vector<ProofFinding> findings;                      // in the order told; numbered from 1
  PagePicture picture;                                     // all that is seen, clear where nothing is painted; empty where it could not be drawn
  std::vector<std::uint8_t> white;                         // of the white plate beneath it, a byte a pixel; empty: the target has none
};

struct Proof {
  Target target;
  ProofForm form = ProofForm::png;
  ProofFor audience = ProofFor::shop;
  ProofGround ground = ProofGround::checker;
  std::optional<ProofGround> goods;  // also how it will look on goods of this ground
  std::optional<GoodsColor> color;   // of these goods; nothing: the ground's own
  double dpi = 144;                  // pixels to the inch of the proof itself; for PNG only. 72 to 300
  Unit unit = Unit::inch;
  std::string date, job;         // job: the shop's number, or empty
  bool plain = false;            // for whoever has buttons: it names no command
  std::vector<ProofPage> pages;  // PNG and SVG: one
};

/// What is told of a page for its proof; the picture is the caller's to add. `file_findings`: told on each page, without a place. `words`: a
/// finding in a sentence without its place, which the proof tells on the sheet.
ProofPage proof_page(PageSummary const& page, std::string const& file, std::vector<Finding> const& file_findings,
                     std::function<std::string(Finding const&)> const& words);

/// The bytes of the proof, by cairo in a module of its own. Errors (internal): the module is missing, or the picture could not be made.
Result<std::string> make_proof(Proof const& proof);

/// "OUT.png": what its ending asks for; error (usage) for another, naming the option that it was given to.
Result<ProofForm> proof_form(std::string const& option, std::string const& path);

}  // namespace layright
