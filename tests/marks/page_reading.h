// Reads page 1 of a file that a test has made.
#pragma once
#include <catch2/catch.hpp>
#include <memory>
#include <string>

#include "document/document.h"
#include "marks/reader.h"
#include "support/pdf_maker.h"

namespace layright::test {

/// A document with its reader; `bytes` must outlive it.
struct OpenedForMarks {
  std::unique_ptr<Document> document;
  std::unique_ptr<MarksReader> reader;
};

inline OpenedForMarks open_for_marks(std::string const& bytes) {
  auto opened = Document::open(bytes_of(bytes), "test.pdf", "");
  REQUIRE(std::holds_alternative<std::unique_ptr<Document>>(opened));
  auto reader = MarksReader::open(bytes_of(bytes), "");
  REQUIRE(reader.has_value());
  return {std::get<std::unique_ptr<Document>>(std::move(opened)), std::move(*reader)};
}

inline Marks marks_of(std::string const& bytes, MarksWanted const& wanted = {}) {
  auto const opened = open_for_marks(bytes);
  return opened.reader->read(opened.document->page(1), wanted);
}

inline Marks marks_of(PdfMaker const& pdf, MarksWanted const& wanted = {}) { return marks_of(pdf.bytes(), wanted); }

}  // namespace layright::test
