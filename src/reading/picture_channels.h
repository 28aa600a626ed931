// A picture's channels, in which lines of letters are looked for.
#pragma once
#include "raster/blobs.h"
#include "raster/page_picture.h"

namespace layright {

enum class Channel { luminance, red, green, blue };
inline constexpr Channel kChannels[] = {Channel::luminance, Channel::red, Channel::green, Channel::blue};

/// Luminance by the weights of ITU-R BT.601.
GreyPicture channel_of(PagePicture const& p, Channel channel);
/// Whether more than a trace of it is coloured.
bool has_colour(PagePicture const& p);
/// Whether the picture is, or holds, a photograph rather than art of a few colours: of what is not its ground the commonest levels are the less.
bool has_tones(GreyPicture const& channel);

}  // namespace layright
