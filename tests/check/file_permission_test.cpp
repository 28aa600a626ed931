// file.permission: ISO 32000-1, Table 22, bit 3. Files that forbid printing are made in place by the test's own encryption below.
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFWriter.hh>

#include "check/view.h"

using namespace layright;
using namespace layright::test;

namespace {

/// The same file, encrypted with an empty user password; printing allowed or not.
std::string locked(std::string const& bytes, bool may_print) {
  QPDF pdf;
  pdf.processMemoryFile("plain.pdf", bytes.data(), bytes.size());
  QPDFWriter writer(pdf);
  writer.setOutputMemory();
  writer.setR6EncryptionParameters("", "owner", true, true, true, true, true, true, may_print ? qpdf_r3p_full : qpdf_r3p_none, true);
  writer.write();
  auto const buffer = writer.getBufferSharedPointer();
  return {reinterpret_cast<char const*>(buffer->getBuffer()), buffer->getSize()};
}

}  // namespace

TEST_CASE("file.permission holds a file whose maker forbids printing") {
  auto const plain = one_page_pdf("[0 0 612 792]", "");
  CHECK(OpenFile(plain).silent("file.permission"));
  CHECK(OpenFile(locked(plain, true)).silent("file.permission"));
  auto const f = OpenFile(locked(plain, false)).finding("file.permission");
  CHECK(f.level == Level::hold);
  CHECK_THAT(f.message, Contains("--password-file"));
  CHECK(OpenFile(locked(plain, false), "owner").silent("file.permission"));  // the owner may
}
