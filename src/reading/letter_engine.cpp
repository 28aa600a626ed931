#include "reading/letter_engine.h"

#include <dlfcn.h>
#include <tesseract/capi.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string_view>

#include "base/utf8.h"

namespace layright {
namespace {

constexpr char const* kLibrary = "libtesseract.so.5";
constexpr char const* kDataFolders[] = {"/usr/share/tesseract-ocr/5/tessdata/", "/usr/share/tessdata/", "/usr/share/tesseract-ocr/4.00/tessdata/"};

struct Close {
  void operator()(void* library) const { dlclose(library); }
};

/// The few functions that are used, by name.
struct Functions {
  decltype(&TessBaseAPICreate) create = nullptr;
  decltype(&TessBaseAPIDelete) destroy = nullptr;
  decltype(&TessBaseAPIInit5) init = nullptr;
  decltype(&TessBaseAPISetVariable) set = nullptr;
  decltype(&TessBaseAPISetPageSegMode) set_mode = nullptr;
  decltype(&TessBaseAPISetImage) set_image = nullptr;
  decltype(&TessBaseAPISetSourceResolution) set_resolution = nullptr;
  decltype(&TessBaseAPIRecognize) recognize = nullptr;
  decltype(&TessBaseAPIGetIterator) iterator = nullptr;
  decltype(&TessBaseAPIClear) clear = nullptr;
  decltype(&TessResultIteratorDelete) drop = nullptr;
  decltype(&TessResultIteratorNext) next = nullptr;
  decltype(&TessResultIteratorGetUTF8Text) text = nullptr;
  decltype(&TessResultIteratorConfidence) confidence = nullptr;
  decltype(&TessResultIteratorGetPageIteratorConst) page_iterator = nullptr;
  decltype(&TessPageIteratorIsAtBeginningOf) at_beginning = nullptr;
  decltype(&TessDeleteText) drop_text = nullptr;

  bool find(void* library) {
    bool all = true;
    auto const one = [&](auto& function, char const* name) {
      function = reinterpret_cast<std::remove_reference_t<decltype(function)>>(dlsym(library, name));
      all = all && function;
    };
    one(create, "TessBaseAPICreate");
    one(destroy, "TessBaseAPIDelete");
    one(init, "TessBaseAPIInit5");
    one(set, "TessBaseAPISetVariable");
    one(set_mode, "TessBaseAPISetPageSegMode");
    one(set_image, "TessBaseAPISetImage");
    one(set_resolution, "TessBaseAPISetSourceResolution");
    one(recognize, "TessBaseAPIRecognize");
    one(iterator, "TessBaseAPIGetIterator");
    one(clear, "TessBaseAPIClear");
    one(drop, "TessResultIteratorDelete");
    one(next, "TessResultIteratorNext");
    one(text, "TessResultIteratorGetUTF8Text");
    one(confidence, "TessResultIteratorConfidence");
    one(page_iterator, "TessResultIteratorGetPageIteratorConst");
    one(at_beginning, "TessPageIteratorIsAtBeginningOf");
    one(drop_text, "TessDeleteText");
    return all;
  }
};

/// Debian names the package after the language, with a hyphen for each underscore.
std::string package_of(std::string language) {
  for (char& c : language)
    if (c == '_') c = '-';
  return "tesseract-ocr-" + language;
}

bool plain_name(std::string const& language) {
  for (char c : language)
    if (!std::isalnum(static_cast<unsigned char>(c)) && c != '_') return false;
  return !language.empty() && language.size() <= 40;
}

Result<std::vector<char>> data_of(std::string const& language) {
  if (!plain_name(language))
    return Error{ErrorKind::usage, "'" + language + "' is not the name of a language for reading letters (such as eng or fra)"};
  for (char const* folder : kDataFolders) {
    std::ifstream file(folder + language + ".traineddata", std::ios::binary);
    if (file) return std::vector<char>(std::istreambuf_iterator<char>(file), {});
  }
  return Error{ErrorKind::usage,
               "letters cannot be read in the language '" + language + "': its data is not installed (Debian package " + package_of(language) + ")"};
}

enum class Script { latin, greek, cyrillic };
struct Neighbour {
  Script script;
  char const* language;
};
/// Scripts with letters that look like another's, also when they are reversed or upside down, and the language that stands for each.
constexpr Neighbour kNeighbours[] = {{Script::latin, "eng"}, {Script::greek, "ell"}, {Script::cyrillic, "rus"}};

/// By the engine's names (ISO 639-2, some with an ending); from memory. Scripts that resemble none of the three count as Latin.
Script script_of(std::string const& language) {
  constexpr std::string_view kGreek[] = {"ell", "grc"};
  constexpr std::string_view kCyrillic[] = {"bel", "bul", "kaz", "kir", "mkd", "mon", "rus", "srp", "tat", "tgk", "ukr", "uzb_cyrl"};
  if (std::find(std::begin(kGreek), std::end(kGreek), language) != std::end(kGreek)) return Script::greek;
  if (std::find(std::begin(kCyrillic), std::end(kCyrillic), language) != std::end(kCyrillic)) return Script::cyrillic;
  return Script::latin;
}

}  // namespace

struct LetterEngine::Members {
  std::unique_ptr<void, Close> library;
  Functions call;
  struct Reader {
    std::string language;
    std::vector<char> data;  // until it is made ready
    TessBaseAPI* api = nullptr;
  };
  std::vector<Reader> readers;  // one a language: the library takes only one language from memory
  std::size_t asked_for = 0;    // of them; the others are neighbours

  /// False where the data is damaged.
  bool make_ready(Reader& reader) const {
    if (reader.data.empty()) return reader.api;
    std::vector<char> const data = std::move(reader.data);
    reader.data.clear();
    TessBaseAPI* const api = call.create();
    int const failed = call.init(api, data.data(), static_cast<int>(data.size()), reader.language.c_str(), tesseract::OEM_LSTM_ONLY, nullptr, 0,
                                 nullptr, nullptr, 0, 0);
    if (failed) {
      call.destroy(api);
      return false;
    }
    call.set(api, "debug_file", "/dev/null");
    call.set(api, "tessedit_do_invert", "0");  // lines are dark on white; else those that make no sense are read again as light ones
    call.set(api, "invert_threshold", "0");    // its name in newer ones
    call.set_mode(api, tesseract::PSM_RAW_LINE);
    reader.api = api;
    return true;
  }

  ~Members() {
    for (Reader const& reader : readers)
      if (reader.api) call.destroy(reader.api);
    // Not closed: the library's threads and locale objects outlive their users.
    (void)library.release();
  }
};

LetterEngine::LetterEngine(std::unique_ptr<Members> members) : m_(std::move(members)) {}
LetterEngine::~LetterEngine() = default;
std::size_t LetterEngine::languages() const { return m_->asked_for; }
bool LetterEngine::latin(std::size_t language) const { return script_of(m_->readers[language].language) == Script::latin; }
bool LetterEngine::ready(std::size_t language) { return m_->make_ready(m_->readers[language]); }
std::size_t LetterEngine::neighbours() const { return m_->readers.size() - m_->asked_for; }

Result<std::unique_ptr<LetterEngine>> LetterEngine::load(std::vector<std::string> const& languages, bool with_neighbours) {
  auto m = std::make_unique<Members>();
  for (std::string const& language : languages) {
    auto data = data_of(language);
    if (!data) return data.error();
    m->readers.push_back({language, std::move(*data)});
  }
  m->asked_for = languages.size();
  for (Neighbour const& neighbour : kNeighbours) {
    auto const same = [&](std::string const& language) { return script_of(language) == neighbour.script; };
    if (!with_neighbours || std::any_of(languages.begin(), languages.end(), same)) continue;
    if (auto data = data_of(neighbour.language)) m->readers.push_back({neighbour.language, std::move(*data)});
  }
  setenv("OMP_THREAD_LIMIT", "1", 1);  // read by the library's runtime when it is loaded
  m->library.reset(dlopen(kLibrary, RTLD_NOW | RTLD_LOCAL));
  if (!m->library || !m->call.find(m->library.get()))
    return Error{ErrorKind::usage, std::string("letters cannot be read: ") + kLibrary + " is missing or unfit (Debian package libtesseract5)"};
  for (std::size_t i = 0; i < languages.size(); ++i)
    if (!m->make_ready(m->readers[i]))
      return Error{ErrorKind::usage, "the data for reading letters in the language '" + languages[i] + "' is damaged (Debian package " +
                                         package_of(languages[i]) + ")"};
  return std::unique_ptr<LetterEngine>(new LetterEngine(std::move(m)));
}

std::vector<ReadWord> LetterEngine::read_line(GreyPicture const& line, std::size_t language) {
  std::vector<ReadWord> words;
  Functions const& call = m_->call;
  if (!ready(language)) return words;
  TessBaseAPI* const reader = m_->readers[language].api;
  call.set_image(reader, line.pixels.data(), line.width, line.height, 1, line.width);
  call.set_resolution(reader, 300);
  if (call.recognize(reader, nullptr) == 0) {
    if (TessResultIterator* const at = call.iterator(reader)) {
      do {
        if (words.empty() || call.at_beginning(call.page_iterator(at), tesseract::RIL_WORD)) words.emplace_back();
        char* const text = call.text(at, tesseract::RIL_SYMBOL);
        if (!text) continue;
        double const sure = static_cast<double>(call.confidence(at, tesseract::RIL_SYMBOL)) / 100;
        words.back().text += text;
        for (char32_t const c : characters_of(text)) {
          words.back().characters.push_back(static_cast<int>(c));
          words.back().sureness.push_back(sure);
        }
        call.drop_text(text);
      } while (call.next(at, tesseract::RIL_SYMBOL));
      call.drop(at);
    }
  }
  call.clear(reader);
  return words;
}

}  // namespace layright
