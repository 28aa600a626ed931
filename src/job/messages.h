// What children tell their parents, message by message. `kind` tells which it is, fields() in messages.cpp what is in it. What a child sends is
// not trusted: received() gives nothing for bytes of another form, and whoever waits for them goes on as if they had not come.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "convert/original_file.h"
#include "convert/package.h"
#include "isolate/channel.h"
#include "raster/page_picture.h"
#include "report/page_summary.h"
#include "tile/tile_plan.h"

namespace layright {

enum class MessageKind : char {
  alive = 1,
  head,
  page,
  laid_page,
  end,
  asks_letters,
  no_letters,
  draws_unasked,
  refused,
  written,
  not_written,
  ganged,
  proved,
  differs,
  plated,
  not_plated,
  converted,
  drawing_plan,
  picture,
  copied,
  was_there,
  job_sheet,
  no_job_sheet,
  printing,
  sent,
  tiled_page
};

/// What the proof of a page needs: how it was placed, from what is seen of the source, and where its marks begin on the tape.
struct Verification {
  Matrix<SeenSpace, SheetSpace> placement;
  long tape_offset = 0;
  std::uint64_t trouble = 0;                    // what kept the source from being read wholly, as a number; 0: nothing. A person has accepted that
  std::optional<Rect<SheetSpace>> beside = {};  // marks of our own may lie in it, outside the art; nothing: there are none
  std::optional<Rect<SeenSpace>> cut = {};      // the part of the source that is shown; nothing: all
};

/// How a page is parted over sheets.
struct PageTiles {
  int page = 1;
  double scale = 1;
  TilePlan plan;                         // in the source's seen space
  Matrix<SeenSpace, SeenSpace> to_seen;  // from there to what the file shows: of a page that was laid before where it lies
  std::vector<Placement> placed;         // of each tile, from that space
};

/// What is told of a drawing before a program draws it. What only PostScript has, and what only SVG has, stays as it is for the other.
struct DrawingPlan {
  bool eps = false;
  std::optional<Rect<PageSpace>> box, media;
  double dx = 0, dy = 0;              // by which the box is moved to the placeholder's corner
  std::vector<std::string> families;  // of fonts that it asks for
  std::vector<ConversionNote> remarks;
  std::uint64_t pictures = 0;  // different ones in sight
};

namespace message {

/// What needs no words.
template <MessageKind Kind>
struct Sign {
  static constexpr auto kind = Kind;
};
/// What is one text: a reason, a digest or a whole document.
template <MessageKind Kind>
struct Text {
  static constexpr auto kind = Kind;
  std::string text;
};

/// It takes long, and goes on.
using Alive = Sign<MessageKind::alive>;
/// Of the file, before its pages.
struct Head {
  static constexpr auto kind = MessageKind::head;
  std::string sha256, format;
  int page_count = 0;
  bool usable = true;
};
struct Page {
  static constexpr auto kind = MessageKind::page;
  PageSummary page;
};
/// A page that is laid: one message, since sending one takes as long as placing a page.
struct LaidPage {
  static constexpr auto kind = MessageKind::laid_page;
  Verification proof;
  PageSummary page;
};
/// The same of a page that is parted over several sheets.
struct TiledPage {
  static constexpr auto kind = MessageKind::tiled_page;
  std::vector<Verification> proofs;
  PageTiles tiles;
  PageSummary page;
};
/// The last word about a file: its own findings.
struct End {
  static constexpr auto kind = MessageKind::end;
  std::vector<Finding> findings;
};
/// The next page asks for letters: to be begun again with the engine loaded.
using AsksLetters = Sign<MessageKind::asks_letters>;
/// Why no letters can be read here: an error of the set-up.
using NoLetters = Text<MessageKind::no_letters>;
/// This page is going to be drawn though nobody has asked for it.
struct DrawsUnasked {
  static constexpr auto kind = MessageKind::draws_unasked;
  int page = 0;
};
/// Why the file, or a page of it, may not be laid.
using Refused = Text<MessageKind::refused>;
/// The laid file is whole, and for which press it says that its colors are meant (promised_press); or why it is not, for want of room say.
using Written = Text<MessageKind::written>;
using NotWritten = Text<MessageKind::not_written>;
/// The sheets are whole: where each page that was laid alone begins on the tape, and what kept it from being read wholly.
struct Ganged {
  static constexpr auto kind = MessageKind::ganged;
  std::vector<Verification> pages;
};
/// The laid pages show what their source shows, or do not.
using Proved = Sign<MessageKind::proved>;
struct Differs {
  static constexpr auto kind = MessageKind::differs;
  std::string how;
  bool source_damaged = false;  // the source could not be read wholly either, so what differs may be how
};
/// Each page has its white plate and nothing else more; or the file gets none, and is not kept. `defect`: of this program.
struct Plated {
  static constexpr auto kind = MessageKind::plated;
  std::vector<PlateSummary> plates;
  std::vector<Finding> findings;
};
struct NotPlated {
  static constexpr auto kind = MessageKind::not_plated;
  std::string why;
  bool defect = false;
};
/// The last word about a file on its way to PDF.
struct Converted {
  static constexpr auto kind = MessageKind::converted;
  std::string sha256;
  bool made = false, refused = false;
  double pixels = 0;  // of its largest picture
  std::vector<Finding> findings;
  std::vector<PackageMember> members;  // of a package that was unpacked
  std::vector<int> pages;              // of a package that was joined: of each of its parts
  std::vector<Finding> of_parts;
};
struct Plan {
  static constexpr auto kind = MessageKind::drawing_plan;
  DrawingPlan plan;
};
struct Picture {
  static constexpr auto kind = MessageKind::picture;
  PagePicture picture;
};
/// The digest of a copy, and of what lay there already.
using Copied = Text<MessageKind::copied>;
using WasThere = Text<MessageKind::was_there>;
/// The PDF of a job sheet, or why there is none.
using JobSheet = Text<MessageKind::job_sheet>;
using NoJobSheet = Text<MessageKind::no_job_sheet>;
/// How far the press is with a job, and how it ended.
struct Printing {
  static constexpr auto kind = MessageKind::printing;
  int job = 0;
  std::string words;
};
struct Sent {
  static constexpr auto kind = MessageKind::sent;
  enum class How { sent, refused, later } how = How::later;
  int job = 0, sheets_off = 0;
  std::string words;
};

}  // namespace message

/// Defined for the messages above.
template <class M>
std::string encoded(M message);
template <class M>
std::optional<M> decoded(std::string_view bytes);

template <class M>
void send_message(Sender const& sender, M message) {
  sender.send(static_cast<char>(M::kind), encoded(std::move(message)));
}
/// Nothing where it is another message, or not of the form.
template <class M>
std::optional<M> received(Message const& message) {
  if (message.kind != static_cast<char>(M::kind)) return std::nullopt;
  return decoded<M>(message.bytes);
}

}  // namespace layright
