// The part of the program that needs libzip (the ZIP application note). It reads from memory, and makes no file of any name.
#include <zip.h>

#include <algorithm>
#include <array>

#include "convert/package.h"
#include "convert/picture.h"

namespace layright {
namespace {

Error trouble_of(int code, bool one_file) {
  std::string const again = "; ask the customer to send it again";
  switch (code) {
    case ZIP_ER_MEMORY: return {ErrorKind::hold, "it takes more memory than is allowed" + again};
    case ZIP_ER_MULTIDISK: return {ErrorKind::usage, "it is one part of an archive that lies in several; ask for it in one part"};
    case ZIP_ER_COMPNOTSUPP:
      return {ErrorKind::usage, "it is packed in a way that is not taken; ask the customer to pack it in the ordinary way, or for the file itself"};
    case ZIP_ER_EOF: return {ErrorKind::data, "it is cut short" + again};
    case ZIP_ER_CRC: return {ErrorKind::data, "it is damaged: it is not what was packed, by its check sum" + again};
    case ZIP_ER_NOZIP: return {ErrorKind::data, "it is cut short, or damaged: the list of what is in it, which comes last, is not there" + again};
    default:
      return {ErrorKind::data,
              (one_file ? "it is damaged: it cannot be unpacked" : "it is damaged: the list of what is in it cannot be read") + again};
  }
}

class ZipReader : public PackageReader {
 public:
  explicit ZipReader(zip_t* zip) : zip_(zip) {}
  ~ZipReader() override { zip_discard(zip_); }
  ZipReader(ZipReader const&) = delete;
  ZipReader& operator=(ZipReader const&) = delete;

  std::uint64_t count() const override { return static_cast<std::uint64_t>(std::max<zip_int64_t>(zip_get_num_entries(zip_, 0), 0)); }

  Result<PackedFile> file(std::uint64_t index) const override {
    zip_stat_t about;
    zip_stat_init(&about);
    constexpr auto kNeeded = ZIP_STAT_NAME | ZIP_STAT_SIZE | ZIP_STAT_COMP_SIZE;
    if (zip_stat_index(zip_, index, 0, &about) != 0 || (about.valid & kNeeded) != kNeeded || !about.name) return trouble_of(ZIP_ER_INCONS, false);
    bool const locked = (about.valid & ZIP_STAT_ENCRYPTION_METHOD) && about.encryption_method != ZIP_EM_NONE;
    return PackedFile{about.name, about.size, about.comp_size, locked};
  }

  Outcome read(std::uint64_t index, std::function<bool(std::span<std::byte const>)> const& take) override {
    zip_file_t* const in = zip_fopen_index(zip_, index, 0);
    if (!in) return trouble_of(zip_error_code_zip(zip_get_error(zip_)), true);
    std::array<std::byte, 65536> piece;
    zip_int64_t got = 0;
    while ((got = zip_fread(in, piece.data(), piece.size())) > 0)
      if (!take(std::span<std::byte const>(piece).first(static_cast<std::size_t>(got)))) break;
    int const code = got < 0 ? zip_error_code_zip(zip_file_get_error(in)) : ZIP_ER_OK;
    zip_fclose(in);
    if (got < 0) return trouble_of(code, true);
    return done();
  }

 private:
  zip_t* zip_;
};

}  // namespace

extern "C" __attribute__((visibility("default"))) void layright_open(std::span<std::byte const> bytes, std::unique_ptr<PackageReader>& reader,
                                                                     Outcome& outcome) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* const source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
  zip_t* const zip = source ? zip_open_from_source(source, ZIP_RDONLY, &error) : nullptr;
  if (!zip) {
    outcome = trouble_of(zip_error_code_zip(&error), false);
    if (source) zip_source_free(source);
    return;
  }
  reader = std::make_unique<ZipReader>(zip);
}

}  // namespace layright
