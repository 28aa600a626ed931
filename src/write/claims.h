// Takes out of a laid file what it does not keep of a standard's promises.
#pragma once
#include <qpdf/QPDF.hh>

#include "document/art_structure.h"

namespace layright {

/// Out of the information dictionary and the metadata; PDF/UA always. Output intents stay: they tell how colours are meant. Metadata that name
/// a claim and cannot be edited go as a whole. To be called after name_producer.
void take_out_claims(QPDF& pdf, KeptClaims const& kept);

}  // namespace layright
