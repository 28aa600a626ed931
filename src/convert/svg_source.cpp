#include "convert/svg_source.h"

#include "convert/bytes.h"
#include "convert/format.h"
#include "convert/inflater.h"
#include "convert/picture.h"
#include "convert/svg_scan.h"

namespace layright {

Result<SvgSource> read_svg_source(std::span<std::byte const> bytes, std::size_t most) {
  SvgSource source;
  std::string unpacked;
  std::string_view text = text_of(bytes);
  if (text_of(bytes).starts_with("\x1F\x8B")) {
    Inflater inflater(31);
    bool const good = inflater.some(bytes, [&](std::span<std::byte const> out) {
      unpacked += text_of(out);
      return unpacked.size() <= most;
    });
    if (unpacked.size() > most) return Error{ErrorKind::hold, "it unpacks to far more than it is, more than may be taken in; ask for it unpacked"};
    if (!good) return broken_picture("it cannot be unpacked");
    if (recognise(bytes_of(unpacked)).format != Format::svg || unpacked.starts_with("\x1F\x8B"))
      return not_taken("it is packed (gzip), and there is no SVG drawing inside", "unpack it first, or ask for the file itself");
    if (!inflater.ended()) return cut_short();
    text = unpacked;
  }
  // Behind its end a transfer may have filled it up.
  bool const wide = text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF");
  if (!wide) text = text.substr(0, text.find_last_not_of('\0') + 1);
  if (auto const scanned = scan_svg(text, most, source); !scanned) return scanned.error();
  return source;
}

}  // namespace layright
