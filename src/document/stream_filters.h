// The filters of a stream and their parameters (ISO 32000-1, 7.3.8.2, 7.4), in all forms that files have them in.
#pragma once
#include <utility>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// Each filter with its parameters, null where they say nothing: parameters come as one dictionary or as a list, which may be empty, too short or
/// too long, and hold nulls and empty dictionaries.
std::vector<std::pair<QPDFObjectHandle, QPDFObjectHandle>> filters_of(QPDFObjectHandle dictionary);

/// Writes the parameters of `dictionary`, a stream's, as the PDF library wants them: none where they say nothing, else as many as there are
/// filters. Nothing changes where they are so already; what the stream says never does.
void tidy_filters(QPDFObjectHandle dictionary);

/// The dictionary as rewriting leaves it: without the filters that say how a stream was to be decrypted. Of a tidy one.
QPDFObjectHandle without_crypt(QPDFObjectHandle dictionary);

/// Of a stream that says what a file or a part of it is about (14.3.2).
bool is_metadata(QPDFObjectHandle dictionary);

}  // namespace layright
