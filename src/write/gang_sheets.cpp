#include "write/gang_sheets.h"

#include <map>
#include <new>
#include <span>
#include <stdexcept>

#include <qpdf/QPDF.hh>

#include "base/hex.h"
#include "base/sha256.h"
#include "document/lay_record.h"
#include "document/numbers.h"
#include "document/page_tree.h"
#include "write/laid_document.h"
#include "write/laid_writer.h"
#include "write/not_laid.h"
#include "write/page_form.h"
#include "write/settled_layers.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

constexpr int kMoveDecimals = 10;  // as the matrix of a laid page has them

std::string concatenation(Matrix<SheetSpace, SheetSpace> const& m) {
  std::string text;
  for (double const value : {m.a, m.b, m.c, m.d, m.e, m.f}) text += format_number(value, kMoveDecimals) + " ";
  return text + "cm\n";
}

class GangWriter {
 public:
  GangWriter(Document& laid, std::span<GangedSheet const> sheets, Sheet const& sheet, Matrix<SheetSpace, SheetSpace> const& correction)
      : laid_(laid), pdf_(laid.library()), sheets_(sheets), correction_(correction) {
    auto const page = sheet.page();
    box_ = number_array({page.x0, page.y0, page.x1, page.y1});
  }

  std::vector<Object> pages() {
    make_forms();
    auto const date = Object::newString(date_of(pdf_));
    PageDigests digests;
    std::vector<Object> pages;
    for (auto const& sheet : sheets_) {
      auto page = pdf_.makeIndirectObject(page_of(sheet));
      write_record(page, record_of(sheet), date, digests);
      pages.push_back(page);
    }
    return pages;
  }

 private:
  struct Form {
    Object form, group;
    LayRecord record;
  };

  /// Each laid page that some sheet shows, as a form. Pages that show the same source share its form.
  void make_forms() {
    std::map<int, std::string> wanted;
    for (auto const& sheet : sheets_)
      for (auto const& piece : sheet.pieces) wanted.emplace(piece.page, piece.source);
    std::vector<Object> objects;
    for (auto const& [number, source] : wanted) objects.push_back(laid_.tree().page(number));
    PageForms forms(pdf_, laid_.tree(), objects);
    std::map<std::string, Object> sources;
    for (auto const& [number, source] : wanted) {
      auto const described = laid_.page(number);
      if (!described.record || !described.record->holds) throw NotLaid("the record of a laid page does not hold");
      auto page = laid_.tree().page(number);
      auto form = forms.make(page, described);
      share_source(form, source, sources);
      auto group = page.getKey("/Group");
      forms_.emplace(number, Form{form, group, *described.record});
    }
  }

  static void share_source(Object form, std::string const& source, std::map<std::string, Object>& sources) {
    auto resources = form.getDict().getKey("/Resources");
    auto names = resources.getKey("/XObject");
    if (source.empty() || !names.hasKey(kSourceForm)) return;
    auto const [known, is_new] = sources.emplace(source, names.getKey(kSourceForm));
    if (is_new) return;
    auto own = resources.shallowCopy(), own_names = names.shallowCopy();
    own_names.replaceKey(kSourceForm, known->second);
    own.replaceKey("/XObject", own_names);
    form.getDict().replaceKey("/Resources", own);
  }

  Object page_of(GangedSheet const& sheet) {
    auto names = Object::newDictionary();
    std::map<int, std::string> name_of;
    std::string text = "q " + concatenation(correction_);
    for (auto const& piece : sheet.pieces) {
      auto& name = name_of[piece.page];
      if (name.empty()) {
        name = "/Piece" + std::to_string(name_of.size());
        names.replaceKey(name, forms_.at(piece.page).form);
      }
      text += "q " + concatenation(piece.movement) + name + " Do Q\n";
    }
    text += mark_operators(sheet.marks) + "Q\n";
    auto resources = Object::newDictionary();
    resources.replaceKey("/XObject", names);
    auto page = Object::newDictionary();
    page.replaceKey("/Type", Object::newName("/Page"));
    page.replaceKey("/MediaBox", box_);
    page.replaceKey("/TrimBox", box_);
    page.replaceKey("/Resources", resources);
    page.replaceKey("/Group", common_group(sheet));
    page.replaceKey("/Contents", pdf_.newStream(text));
    return page;
  }

  /// The space that all pieces are blended in, where they agree on one: then what lies over paper is blended as it was alone.
  Object common_group(GangedSheet const& sheet) const {
    auto common = Object::newNull();
    for (auto const& piece : sheet.pieces) {
      auto group = forms_.at(piece.page).group;
      if (!group.isDictionary()) return Object::newNull();
      if (common.isNull()) common = group;
      else if (common.getKey("/CS").unparse() != group.getKey("/CS").unparse()) return Object::newNull();
    }
    return common;
  }

  /// What holds of all pieces holds of the sheet; what was accepted of one was accepted of the sheet that it lies on.
  LayRecord record_of(GangedSheet const& sheet) const {
    auto record = sheet.record;
    std::optional<Reading> reading;
    for (auto const& piece : sheet.pieces) {
      auto const& own = forms_.at(piece.page).record;
      for (auto const& id : own.accepted)
        if (!accepted_in(record, id)) record.accepted.push_back(id);
      auto const now = own.reversed ? reversed(own.reading) : own.reading;
      reading = !reading || *reading == now ? now : Reading::mixed;
    }
    record.reading = reading.value_or(Reading::unknown);
    return record;
  }

  Document& laid_;
  QPDF& pdf_;
  std::span<GangedSheet const> sheets_;
  Matrix<SheetSpace, SheetSpace> correction_;
  Object box_;
  std::map<int, Form> forms_;
};

}  // namespace

Outcome write_gang(Document& laid, std::span<GangedSheet const> sheets, Sheet const& sheet, Matrix<SheetSpace, SheetSpace> const& correction,
                   ByteSink const& sink) {
  try {
    auto& pdf = laid.library();
    settle_layers(pdf);
    auto const pages = GangWriter(laid, sheets, sheet, correction).pages();
    clear_catalog(pdf);
    set_pages(pdf, pages);
    name_producer(pdf);
    return write_laid_file(pdf, false, sink);
  } catch (std::bad_alloc const&) {
    return Error{ErrorKind::data, "putting the pieces on sheets takes more memory than is allowed"};
  } catch (NotLaid const& reason) {
    return Error{ErrorKind::data, std::string("they cannot be put on sheets: ") + reason.what()};
  } catch (std::exception const&) {  // what the library says is in its own words, with pieces of the files
    return Error{ErrorKind::data, "a part of them could not be read while it was copied"};
  }
}

std::string promised_press(Document& document) {
  try {
    auto intents = document.library().getRoot().getKey("/OutputIntents");
    std::string text;
    for (int i = 0; intents.isArray() && i < intents.getArrayNItems(); ++i) {
      auto intent = intents.getArrayItem(i);
      if (!intent.isDictionary()) continue;
      for (auto const* key : {"/S", "/OutputConditionIdentifier"}) {
        auto value = intent.getKey(key);
        text += value.isName() ? value.getName() : value.isString() ? value.getUTF8Value() : "";
        text += '\n';
      }
      auto profile = intent.getKey("/DestOutputProfile");
      if (!profile.isStream()) continue;
      auto const data = profile.getStreamData(qpdf_dl_generalized);
      text += sha256_hex({reinterpret_cast<std::byte const*>(data->getBuffer()), data->getSize()}) + "\n";
    }
    return text.empty() ? text : sha256_hex(std::as_bytes(std::span(text)));
  } catch (std::exception const&) {
    return "unreadable";
  }
}

}  // namespace layright
