#include "document/document.h"

#include <algorithm>
#include <new>
#include <optional>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFExc.hh>

#include "document/active_content.h"
#include "document/annotations.h"
#include "document/art_walk.h"
#include "document/lay_record.h"
#include "document/layers.h"
#include "document/lost_when_laid.h"
#include "document/missing_objects.h"
#include "document/page_boxes.h"
#include "document/page_tree.h"
#include "document/repairs.h"

namespace layright {
namespace {

/// Runs `work`, gives `otherwise` where the library throws. What it threw is kept as a loss.
template <class T, class Work>
T guarded(Repairs& repairs, T otherwise, Work&& work) {
  try {
    return work();
  } catch (std::bad_alloc const&) {
    repairs.add("reading it took more memory than there is", true);
  } catch (std::exception const&) {
    repairs.add("a part of the file could not be read", true);
  }
  return otherwise;
}

std::string_view text_of(std::span<std::byte const> bytes) { return {reinterpret_cast<char const*>(bytes.data()), bytes.size()}; }

/// A Contents that names streams which are not there. None at all is an empty page, and sound.
bool misses_content(QPDFObjectHandle dictionary) {
  auto contents = dictionary.getKey("/Contents");
  auto const missing = [](QPDFObjectHandle one) { return one.isIndirect() && one.isNull(); };
  if (!contents.isArray()) return missing(contents);
  auto const parts = contents.getArrayAsVector();
  return std::any_of(parts.begin(), parts.end(), missing);
}

OpenError trouble_of(QPDFExc const& error, bool looks_right) {
  std::string_view const says = error.what();
  auto const has = [&](std::string_view part) { return says.find(part) != std::string_view::npos; };
  if (error.getErrorCode() == qpdf_e_password) return {OpenError::Kind::password, "it needs a password, and the one given, if any, does not open it"};
  if (has("ncryption") || has("ncrypted") || error.getErrorCode() == qpdf_e_unsupported)
    return {OpenError::Kind::certificate,
            "it is encrypted for certain people's certificates, or in a way that is no published standard; ask for it without"};
  if (!looks_right) return {OpenError::Kind::not_pdf, "it is no PDF: it does not begin as one and nothing of one is found in it"};
  return {OpenError::Kind::damaged, "it is damaged beyond repair; ask for it again"};
}

}  // namespace

bool looks_like_pdf(std::span<std::byte const> bytes) { return text_of(bytes).substr(0, 1024).find("%PDF-") != std::string_view::npos; }

struct Document::Members {
  Members(std::span<std::byte const> bytes, std::string_view name, std::string const& password, std::function<void()> read_on)
      : file(bytes, std::string(name), password, std::move(read_on)), tree(file) {}

  OpenFile file;
  PageTree tree;
  Repairs repairs;
  bool looked_for_losses = false;
  bool saw_link = false;               // on a page that was read
  std::optional<PageDigests> digests;  // for records; only where a page has one
  ArtWalk art;

  void take_warnings() {
    for (auto const& warning : file.pdf().getWarnings()) repairs.add_warning(warning.getMessageDetail());
    if (repairs.any()) file.pin();
  }
};

Document::Document(std::unique_ptr<Members> m) : m_(std::move(m)) {}
Document::~Document() = default;

std::variant<std::unique_ptr<Document>, OpenError> Document::open(std::span<std::byte const> bytes, std::string_view name,
                                                                  std::string const& password, std::function<void()> read_on) {
  if (bytes.empty()) return OpenError{OpenError::Kind::empty, "it is empty: it has no bytes at all"};
  bool const looks_right = looks_like_pdf(bytes);
  try {
    auto m = std::make_unique<Members>(bytes, name, password, std::move(read_on));
    m->take_warnings();
    for (auto const& oddity : m->tree.oddities()) m->repairs.add(oddity, false);
    if (m->tree.count() == 0) {
      if (!looks_right) return OpenError{OpenError::Kind::not_pdf, "it is no PDF: it does not begin as one and has no page"};
      if (m->tree.stated_count() > 0 || m->repairs.any())
        return OpenError{OpenError::Kind::damaged, "it is damaged: no page can be found in it; ask for it again"};
      return OpenError{OpenError::Kind::empty, "it has no page"};
    }
    if (m->repairs.rebuilt() && m->tree.stated_count() > m->tree.count())
      m->repairs.add("it says that it has " + std::to_string(m->tree.stated_count()) + " pages, and " + std::to_string(m->tree.count()) + " are left",
                     true);
    return std::unique_ptr<Document>(new Document(std::move(m)));
  } catch (QPDFExc const& error) {
    return trouble_of(error, looks_right);
  } catch (std::bad_alloc const&) {
    return OpenError{OpenError::Kind::limit, "opening it takes more memory than is allowed"};
  } catch (std::exception const&) {
    if (!looks_right) return OpenError{OpenError::Kind::not_pdf, "it is no PDF: it does not begin as one"};
    return OpenError{OpenError::Kind::damaged, "it is damaged beyond repair; ask for it again"};
  }
}

int Document::page_count() const { return m_->tree.count(); }

Page Document::page(int number) const {
  Page page;
  page.number = number;
  auto const broken = [&](std::string trouble) {
    page.usable = false;
    page.trouble = std::move(trouble);
    return page;
  };
  try {
    m_->file.page_was_read();
    auto dictionary = m_->tree.page(number);
    if (!dictionary.isDictionary()) {
      m_->repairs.add("page " + std::to_string(number) + " is not in the file", true);
      return broken("it is named in the file but is not there");
    }
    read_boxes(m_->tree, page);
    m_->saw_link = read_annotations(dictionary, page) || m_->saw_link;
    if (m_->repairs.any() && misses_content(dictionary)) m_->repairs.add("what a page paints is not in the file", true);
    page.record = read_record(m_->tree, number, m_->digests);
    m_->take_warnings();
  } catch (std::bad_alloc const&) {
    return broken("reading it takes more memory than is allowed");
  } catch (std::exception const&) {
    return broken("its description in the file is damaged");
  }
  return page;
}

bool Document::encrypted() const { return m_->file.pdf().isEncrypted(); }

bool Document::printing_allowed() const {
  return guarded(m_->repairs, true, [&] { return m_->file.pdf().ownerPasswordMatched() || m_->file.pdf().allowPrintLowRes(); });
}

std::vector<std::string> Document::repairs() const {
  m_->take_warnings();
  return m_->repairs.in_words();
}

bool Document::lost_something() const {
  m_->take_warnings();
  if (m_->repairs.any() && !m_->looked_for_losses) {
    m_->looked_for_losses = true;
    guarded(m_->repairs, false, [&] {
      find_missing_objects(m_->tree, m_->repairs);
      return true;
    });
    m_->take_warnings();
  }
  return m_->repairs.lost();
}

bool Document::asks_for_no_scaling() const {
  return guarded(m_->repairs, false, [&] {
    auto preferences = m_->file.pdf().getRoot().getKey("/ViewerPreferences");
    return preferences.isDictionary() && preferences.getKey("/PrintScaling").isNameAndEquals("/None");
  });
}

bool Document::claims_pdfx() const {
  return guarded(m_->repairs, false, [&] {
    auto info = m_->file.pdf().getTrailer().getKey("/Info");
    if (info.isDictionary() && info.getKey("/GTS_PDFXVersion").isString()) return true;
    auto intents = m_->file.pdf().getRoot().getKey("/OutputIntents");
    int const count = intents.isArray() ? std::min(intents.getArrayNItems(), 100) : 0;
    for (int i = 0; i < count; ++i) {
      auto intent = intents.getArrayItem(i);
      if (intent.isDictionary() && intent.getKey("/S").isNameAndEquals("/GTS_PDFX")) return true;
    }
    return false;
  });
}

std::vector<std::string> Document::active_content() const {
  return guarded(m_->repairs, std::vector<std::string>{}, [&] { return active_content_of(m_->file.pdf().getRoot()); });
}

std::vector<std::string> Document::lost_when_laid() const {
  return guarded(m_->repairs, std::vector<std::string>{}, [&] { return layright::lost_when_laid(m_->file.pdf().getRoot(), m_->saw_link); });
}

std::vector<std::string> Document::layers_not_printing() const {
  return guarded(m_->repairs, std::vector<std::string>{}, [&] { return layright::layers_not_printing(m_->file.pdf().getRoot()); });
}

// What cannot be looked at is told by the checks of the marks, where it matters.
ArtStructure Document::art_of_page(int number) const {
  try {
    return m_->art.page(m_->tree.page(number), m_->tree.inherited(number, "/Resources"));
  } catch (std::exception const&) {
    return {};
  }
}

FileArt Document::art() const {
  try {
    auto art = m_->art.file(m_->file.pdf().getRoot(), m_->file.pdf().getTrailer().getKey("/Info"));
    art.encrypted = encrypted();
    return art;
  } catch (std::exception const&) {
    return {};
  }
}

QPDF& Document::library() {
  m_->file.pin();
  return m_->file.pdf();
}
PageTree const& Document::tree() const { return m_->tree; }

}  // namespace layright
