// Content that a page cuts over several streams, as one packed stream.
#pragma once
#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include <qpdf/QPDFObjectHandle.hh>

namespace layright {

/// Gives the data when they are asked for: a file of many such pages would not fit into memory otherwise. What was packed is kept for
/// the next asking up to a fixed amount.
class JoinedStreams : public QPDFObjectHandle::StreamDataProvider {
 public:
  JoinedStreams() : StreamDataProvider(true) {}
  /// Throws std::runtime_error where a part is packed by a filter of pictures: then nobody can say what the parts are together.
  void add(QPDFObjGen const& stream, std::vector<QPDFObjectHandle> parts);
  bool provideStreamData(QPDFObjGen const& stream, Pipeline* pipeline, bool suppress_warnings, bool will_retry) override;

 private:
  std::map<QPDFObjGen, std::vector<QPDFObjectHandle>> parts_;
  std::map<QPDFObjGen, std::string> packed_;
  std::size_t kept_ = 0;
};

}  // namespace layright
