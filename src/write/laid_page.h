// Makes one page of the source into a page of the sheet's size.
#pragma once
#include <map>
#include <string>

#include "document/document.h"
#include "document/page_digest.h"
#include "sheet/sheet.h"
#include "write/page_form.h"
#include "write/write_laid.h"

namespace layright {

class LaidPages {
 public:
  /// `date` for the records.
  LaidPages(QPDF& pdf, PageForms& forms, Sheet const& sheet, std::string const& date);

  /// Changes `page` itself. Where the source's record holds, its form stays and only the matrix before it changes.
  void make(QPDFObjectHandle page, LaidPage const& wanted);

 private:
  struct Inside {       // what the new page takes over from the old one
    std::string paint;  // operators after the matrix
    QPDFObjectHandle resources, group;
    Matrix<PageSpace, SeenSpace> to_seen;
  };
  Inside from_source(QPDFObjectHandle page, Page const& described);
  /// Of a page that several sheets show parts of: made once.
  Inside from_parted(QPDFObjectHandle page, Page const& described);
  static Inside from_laid(QPDFObjectHandle page, LayRecord const& record);
  QPDFObjectHandle content(std::string const& text);

  QPDF& pdf_;
  PageForms& forms_;
  QPDFObjectHandle type_, box_, date_;  // the same for all pages: one object each saves a kilobyte of memory a page
  PageDigests digests_;
  std::map<int, Inside> parted_;  // by the source's page
  std::string last_text_;
  QPDFObjectHandle last_content_ = QPDFObjectHandle::newNull();
};

}  // namespace layright
