// Writes a PDF to a descriptor from front to back, holding nothing but where its objects lie (ISO 32000-1, 7.5).
#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace layright {

class PdfWriter {
 public:
  explicit PdfWriter(int descriptor);

  /// Numbers an object that is written later, or never.
  int reserve();
  void object(int number, std::string_view body);
  /// `entries`: of the stream's dictionary, without its << >> and its length.
  void begin_stream(int number, std::string_view entries);
  void stream(std::span<std::byte const> bytes);
  void end_stream();
  void whole_stream(int number, std::string_view entries, std::span<std::byte const> bytes);
  /// A page of W x H points that paints `content` with `resources` (a dictionary with its << >>).
  void page(double width, double height, std::string_view resources, std::string_view content);
  int pages() const { return static_cast<int>(pages_.size()); }
  /// Error (io) when anything could not be written.
  Outcome finish();
  bool failed() const { return error_ != 0; }

 private:
  void put(std::string_view text);
  void flush();
  void begin(int number);
  int descriptor_;
  int error_ = 0;
  std::string waiting_;
  long long written_ = 0, stream_began_ = 0;
  int length_object_ = 0;
  std::vector<long long> offsets_;  // by number; 0: never written
  std::vector<int> pages_;
  int tree_ = 0;
};

/// A number as PDF writes it: no exponent, at most six decimals.
std::string pdf_number(double value);
/// "/Name", with what a name cannot hold written as #xx.
std::string pdf_name(std::string_view text);

}  // namespace layright
