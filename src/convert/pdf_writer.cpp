#include "convert/pdf_writer.h"

#include <unistd.h>

#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstring>

#include "base/hex.h"
#include "base/write_all.h"

namespace layright {
namespace {
constexpr std::size_t kGathered = 1u << 20;
}

std::string pdf_number(double value) {
  char text[64];
  auto const end = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed, 6).ptr;
  std::string out(text, end);
  while (out.back() == '0') out.pop_back();
  if (out.back() == '.') out.pop_back();
  return out == "-0" ? "0" : out;
}

std::string pdf_name(std::string_view text) {
  std::string out = "/";
  for (char c : text) {
    bool const plain = c > '!' && c <= '~' && std::string_view("#()<>[]{}/%").find(c) == std::string_view::npos;
    out += plain ? std::string(1, c) : "#" + hexadecimal({&c, 1}, HexDigits::capital);
  }
  return out;
}

PdfWriter::PdfWriter(int descriptor) : descriptor_(descriptor), offsets_(1, 0) {
  put("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n");
  tree_ = reserve();
}

int PdfWriter::reserve() {
  offsets_.push_back(0);
  return static_cast<int>(offsets_.size()) - 1;
}

void PdfWriter::put(std::string_view text) {
  waiting_ += text;
  written_ += static_cast<long long>(text.size());
  if (waiting_.size() >= kGathered) flush();
}

void PdfWriter::flush() {
  if (error_ == 0) error_ = write_all(descriptor_, waiting_);
  waiting_.clear();
}

void PdfWriter::begin(int number) {
  offsets_[static_cast<std::size_t>(number)] = written_;
  put(std::to_string(number) + " 0 obj\n");
}

void PdfWriter::object(int number, std::string_view body) {
  begin(number);
  put(body);
  put("\nendobj\n");
}

void PdfWriter::begin_stream(int number, std::string_view entries) {
  length_object_ = reserve();
  begin(number);
  put("<<" + std::string(entries) + " /Length " + std::to_string(length_object_) + " 0 R>>\nstream\n");
  stream_began_ = written_;
}

void PdfWriter::stream(std::span<std::byte const> bytes) {
  std::string_view const text(reinterpret_cast<char const*>(bytes.data()), bytes.size());
  for (std::size_t at = 0; at < text.size(); at += kGathered) put(text.substr(at, kGathered));
}

void PdfWriter::end_stream() {
  auto const length = written_ - stream_began_;
  put("\nendstream\nendobj\n");
  object(length_object_, std::to_string(length));
}

void PdfWriter::whole_stream(int number, std::string_view entries, std::span<std::byte const> bytes) {
  begin_stream(number, entries);
  stream(bytes);
  end_stream();
}

void PdfWriter::page(double width, double height, std::string_view resources, std::string_view content) {
  int const contents = reserve(), number = reserve();
  whole_stream(contents, "", std::as_bytes(std::span(content.data(), content.size())));
  object(number, "<</Type /Page /Parent " + std::to_string(tree_) + " 0 R /MediaBox [0 0 " + pdf_number(width) + " " + pdf_number(height) +
                     "] /Resources " + std::string(resources) + " /Contents " + std::to_string(contents) + " 0 R>>");
  pages_.push_back(number);
}

Outcome PdfWriter::finish() {
  std::string kids;
  for (int page : pages_) kids += std::to_string(page) + " 0 R ";
  object(tree_, "<</Type /Pages /Count " + std::to_string(pages_.size()) + " /Kids [" + kids + "]>>");
  int const root = reserve();
  object(root, "<</Type /Catalog /Pages " + std::to_string(tree_) + " 0 R /ViewerPreferences <</PrintScaling /None>>>>");
  long long const table = written_;
  put("xref\n0 " + std::to_string(offsets_.size()) + "\n0000000000 65535 f \n");
  for (std::size_t i = 1; i < offsets_.size(); ++i) {
    char line[32];
    std::snprintf(line, sizeof line, "%010lld 00000 %c \n", offsets_[i], offsets_[i] ? 'n' : 'f');
    put(line);
  }
  put("trailer\n<</Size " + std::to_string(offsets_.size()) + " /Root " + std::to_string(root) + " 0 R>>\nstartxref\n" + std::to_string(table) +
      "\n%%EOF\n");
  flush();
  if (error_ != 0) return Error{ErrorKind::io, std::string("the page made from it cannot be kept: ") + std::strerror(error_)};
  return std::monostate{};
}

}  // namespace layright
