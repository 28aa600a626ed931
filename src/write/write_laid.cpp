#include "write/write_laid.h"

#include <new>
#include <optional>
#include <set>

#include <qpdf/QPDF.hh>

#include "document/page_tree.h"
#include "write/claims.h"
#include "write/laid_document.h"
#include "write/laid_page.h"
#include "write/laid_writer.h"
#include "write/not_laid.h"
#include "write/page_form.h"
#include "write/settled_layers.h"

namespace layright {
namespace {

struct Job {
  QPDFObjectHandle page;
  LaidPage const* wanted;
  bool is_copy;
};

/// The page objects wanted, each one an object of its own: a page that is named more than once is copied.
std::vector<Job> jobs_of(QPDF& pdf, PageTree const& tree, std::span<LaidPage const> pages) {
  std::vector<Job> jobs;
  std::set<QPDFObjGen> taken;
  for (auto const& wanted : pages) {
    auto page = tree.page(wanted.source.number);
    bool const is_own = page.isIndirect() && taken.insert(page.getObjGen()).second;
    jobs.push_back({is_own ? page : pdf.makeIndirectObject(page.shallowCopy()), &wanted, !is_own});
  }
  return jobs;
}

void lay_pages(Document& document, std::span<LaidPage const> pages, Sheet const& sheet) {
  auto& pdf = document.library();
  settle_layers(pdf);  // before a page's digest is taken
  auto const jobs = jobs_of(pdf, document.tree(), pages);
  std::vector<QPDFObjectHandle> objects;
  for (auto const& job : jobs) objects.push_back(job.page);
  PageForms forms(pdf, document.tree(), objects);
  LaidPages laid(pdf, forms, sheet, date_of(pdf));
  // Copies first: the page that they are copied from must still be as it came.
  for (bool const copies : {true, false})
    for (auto const& job : jobs)
      if (job.is_copy == copies) laid.make(job.page, *job.wanted);
  clear_catalog(pdf);
  set_pages(pdf, objects);
}

std::optional<Error> objection(Document const& document, std::span<LaidPage const> pages) {
  for (auto const& wanted : pages)
    if (wanted.source.number < 1 || wanted.source.number > document.page_count())
      return Error{ErrorKind::internal, "page " + std::to_string(wanted.source.number) + " is to be laid and does not exist"};
  return std::nullopt;
}

}  // namespace

void expect_to_lay(Document& document) { document.library(); }

Outcome write_laid(Document& document, std::span<LaidPage const> pages, Sheet const& sheet, ByteSink const& sink, KeptClaims claims) {
  if (auto error = objection(document, pages)) return *error;
  try {
    bool const keep_version = document.claims_pdfx();
    lay_pages(document, pages, sheet);
    name_producer(document.library());
    take_out_claims(document.library(), claims);
    return write_laid_file(document.library(), keep_version, sink);
  } catch (std::bad_alloc const&) {
    return Error{ErrorKind::data, "laying it takes more memory than is allowed"};
  } catch (NotLaid const& reason) {
    return Error{ErrorKind::data, std::string("it cannot be laid: ") + reason.what()};
  } catch (std::exception const&) {  // what the library says is in its own words, with pieces of the file
    return Error{ErrorKind::data, "a part of it could not be read while it was copied"};
  }
}

}  // namespace layright
