// Takes out of a laid file what it does not keep of a standard's promises.
#pragma once
#include <cstddef>

#include <qpdf/QPDF.hh>

#include "document/art_structure.h"

namespace layright {

inline constexpr std::size_t kMostMetadata = std::size_t{4} << 20;  // bytes of XMP that are read; what is longer goes as a whole

/// Out of the information dictionary and the metadata; PDF/UA always. Output intents stay: they tell how colours are meant. Metadata that name
/// a claim and cannot be edited go as a whole. To be called after name_producer.
void take_out_claims(QPDF& pdf, KeptClaims const& kept);

}  // namespace layright
