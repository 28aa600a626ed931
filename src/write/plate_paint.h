// A white plate in the words of PDF: its ink, its picture, what paints it, its register marks.
#pragma once
#include <map>
#include <string>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>

#include "write/white_plate.h"

namespace layright {

/// Of all that belongs to the plate among a page's resources.
inline constexpr char kPlateName[] = "/WhitePlate";

bool is_separation(QPDFObjectHandle value, std::string const& ink);
/// The art's own where the file has one: it may not say two things of one name. Else one whose stand-in leaves nothing in the art's page, and is black
/// where the plate lies apart: a press with white toner in the place of black then prints it as well.
QPDFObjectHandle plate_space(QPDF& pdf, std::string const& ink, PlateAs as);

/// All of the picture's dictionary but its color space.
std::map<std::string, QPDFObjectHandle> picture_entries(PlatePicture const& picture);
char const* plate_filter(PlatePicture const& picture);
QPDFObjectHandle picture_stream(QPDF& pdf, PlatePicture const& picture, QPDFObjectHandle space);

/// A full layer, and never more: what the press's own setting or a second pass adds is theirs. Empty where there is no white.
std::string plate_paint(WhitePlate const& plate, PlateAs as);
/// Its register marks: in the plate's ink, or in black on the art. Empty where there are none.
std::string register_paint(WhitePlate const& plate, bool in_white);

}  // namespace layright
