#include "convert/join_pages.h"

#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <new>
#include <set>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFWriter.hh>

#include "convert/pages_out.h"
#include "document/page_tree.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

// What a page shows, and our own record of it. Everything else (threads of articles, actions, the tree of a structure) leads through the whole
// file and shows nothing.
constexpr std::array kOwn = {"/BleedBox", "/TrimBox", "/ArtBox", "/UserUnit", "/Contents", "/Group", "/Annots", "/PieceInfo", "/LastModified"};
constexpr std::array kInherited = {"/MediaBox", "/CropBox", "/Rotate", "/Resources"};

/// Objects without a number come from the library as they are and belong to no file yet; those with one are copied.
Object copied(QPDF& into, Object object) {
  if (object.isIndirect()) return into.copyForeignObject(object);
  auto const owned = object.getOwningQPDF();
  if (!owned || owned == &into) return object;
  return into.copyForeignObject(owned->makeIndirectObject(object));
}

void append_all(Object into, Object from) {
  if (!from.isArray()) return;
  for (auto const& item : from.getArrayAsVector()) into.appendItem(item);
}

}  // namespace

struct PageJoiner::Members {
  QPDF pdf;
  std::vector<std::unique_ptr<Document>> sources;
  std::vector<Object> pages;
  bool keeps_intents = false;
  Object intents = Object::newNull();
  Object layers = Object::newArray(), on = Object::newArray(), off = Object::newArray(), switched = Object::newArray();

  Object page_of(Document& document, int number);
  void take_layers(Object catalog);
  void finish_catalog();
};

PageJoiner::PageJoiner() : m_(std::make_unique<Members>()) {
  m_->pdf.emptyPDF();
  m_->pdf.setSuppressWarnings(true);
}
PageJoiner::~PageJoiner() = default;

void PageJoiner::keep_output_intents() { m_->keeps_intents = true; }

int PageJoiner::page_count() const { return static_cast<int>(m_->pages.size()); }

Object PageJoiner::Members::page_of(Document& document, int number) {
  auto& source = document.library();
  auto const& tree = document.tree();
  auto own = tree.page(number);
  auto page = Object::newDictionary();
  page.replaceKey("/Type", Object::newName("/Page"));
  if (!own.isDictionary()) return page;
  for (auto const* key : kOwn)
    if (own.hasKey(key)) page.replaceKey(key, own.getKey(key));
  for (auto const* key : kInherited)
    if (auto value = tree.inherited(number, key); !value.isNull()) page.replaceKey(key, value);
  return pdf.copyForeignObject(source.makeIndirectObject(page));
}

/// A layer that the default configuration switches is switched by name, so that those of all files can stand in one (ISO 32000-1, 8.11.4.3).
void PageJoiner::Members::take_layers(Object catalog) {
  auto properties = catalog.getKey("/OCProperties");
  if (!properties.isDictionary()) return;
  auto here = copied(pdf, properties);
  auto all = here.getKey("/OCGs");
  auto configuration = here.getKey("/D");
  append_all(layers, all);
  if (!configuration.isDictionary()) return;
  if (configuration.getKey("/BaseState").isNameAndEquals("/OFF")) {
    std::set<QPDFObjGen> shown;
    if (auto list = configuration.getKey("/ON"); list.isArray())
      for (auto const& layer : list.getArrayAsVector()) shown.insert(layer.getObjGen());
    if (all.isArray())
      for (auto const& layer : all.getArrayAsVector())
        if (!shown.contains(layer.getObjGen())) off.appendItem(layer);
  }
  append_all(on, configuration.getKey("/ON"));
  append_all(off, configuration.getKey("/OFF"));
  append_all(switched, configuration.getKey("/AS"));
}

Outcome PageJoiner::add(std::unique_ptr<Document> document) {
  try {
    for (int n = 1; n <= document->page_count(); ++n) m_->pages.push_back(m_->page_of(*document, n));
    auto catalog = document->library().getRoot();
    m_->take_layers(catalog);
    if (auto intents = catalog.getKey("/OutputIntents"); m_->keeps_intents && m_->intents.isNull() && intents.isArray())
      m_->intents = copied(m_->pdf, intents);
    m_->sources.push_back(std::move(document));
    return done();
  } catch (std::bad_alloc const&) {
    return Error{ErrorKind::hold, "taking its pages takes more memory than is allowed"};
  } catch (std::exception const&) {
    return Error{ErrorKind::data, "its pages cannot be taken over: it is damaged; ask the customer to send it again, or to save it again"};
  }
}

void PageJoiner::Members::finish_catalog() {
  auto root = pdf.getRoot();
  auto tree = root.getKey("/Pages");
  auto kids = Object::newArray();
  for (auto& page : pages) {
    page.replaceKey("/Parent", tree);
    kids.appendItem(page);
  }
  tree.replaceKey("/Kids", kids);
  tree.replaceKey("/Count", Object::newInteger(static_cast<long long>(pages.size())));
  auto preferences = Object::newDictionary();
  preferences.replaceKey("/PrintScaling", Object::newName("/None"));
  root.replaceKey("/ViewerPreferences", preferences);
  root.replaceKey("/OutputIntents", intents);
  if (layers.getArrayNItems() == 0) return;
  auto configuration = Object::newDictionary();
  configuration.replaceKey("/ON", on);
  configuration.replaceKey("/OFF", off);
  configuration.replaceKey("/AS", switched);
  auto properties = Object::newDictionary();
  properties.replaceKey("/OCGs", layers);
  properties.replaceKey("/D", configuration);
  root.replaceKey("/OCProperties", properties);
}

Outcome PageJoiner::write(int descriptor, std::function<void()> const& alive) {
  try {
    m_->finish_catalog();
    PagesOut out(descriptor, alive);
    QPDFWriter writer(m_->pdf);
    writer.setOutputPipeline(&out);
    writer.setStreamDataMode(qpdf_s_preserve);
    writer.setDeterministicID(true);
    writer.write();
    out.finish();
    if (out.error() != 0) return Error{ErrorKind::io, std::string("the pages made from it cannot be kept: ") + std::strerror(out.error())};
    return done();
  } catch (std::bad_alloc const&) {
    return Error{ErrorKind::hold, "joining its pages takes more memory than is allowed"};
  } catch (std::exception const&) {
    return Error{ErrorKind::data, "its pages cannot be joined: one of its files is damaged; ask for them one by one"};
  }
}

}  // namespace layright
