#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "command/command.h"
#include "command/file_run.h"
#include "convert/format.h"

namespace layright {
namespace {

constexpr std::string_view kRefused =
    "Not taken, but known, and answered with what to ask the customer for: office documents, drawing, painting and layout programs' own files "
    "without a PDF inside, archives other than ZIP, GIF, BMP, JPEG 2000, JPEG XL, metafiles, construction drawings, cameras' raw files, web pages.";

void list_as_text(Limits const& limits) {
  auto const put = [](char const* what, std::string_view text) {
    std::fprintf(stdout, "%s%.*s\n", what, static_cast<int>(text.size()), text.data());
  };
  for (auto const& f : formats_taken()) {
    put("", f.word);
    put("  is:        ", f.title);
    put("  read by:   ", f.reader);
    put("  its size:  ", f.size);
    put("  kept:      ", f.kept);
    put("  not taken: ", f.not_taken);
  }
  std::fprintf(stdout,
               "\nThe bytes of a file say what it is, never its name.\n"
               "Limits: %g million pixels a picture (most-megapixels), %g to %g pixels to the inch (least-density, most-density), %g MB of memory\n"
               "(memory-mb), %g s a page (seconds-a-page), %g s a file (seconds-a-file); of a ZIP %g files (most-packed-files) that unpack to %g MB "
               "(most-unpacked-mb): of the\n"
               "limits in layright.toml.\n%.*s\n",
               limits.most_megapixels, limits.least_density, limits.most_density, limits.memory_mb, limits.seconds_a_page, limits.seconds_a_file,
               limits.most_packed_files, limits.most_unpacked_mb, static_cast<int>(kRefused.size()), kRefused.data());
}

void list_as_json(Limits const& limits) {
  Json list = Json::array();
  for (auto const& f : formats_taken())
    list.push_back({{"format", f.word}, {"is", f.title}, {"read_by", f.reader}, {"size_from", f.size}, {"kept", f.kept}, {"not_taken", f.not_taken}});
  Json const all{{"formats", list},
                 {"limits",
                  {{"most_megapixels", limits.most_megapixels},
                   {"least_density", limits.least_density},
                   {"most_density", limits.most_density},
                   {"memory_mb", limits.memory_mb},
                   {"seconds_a_page", limits.seconds_a_page},
                   {"seconds_a_file", limits.seconds_a_file},
                   {"most_packed_files", limits.most_packed_files},
                   {"most_unpacked_mb", limits.most_unpacked_mb}}}};
  std::fprintf(stdout, "%s\n", all.dump(1).c_str());
}

}  // namespace

Run add_formats(CLI::App& command) {
  auto format = std::make_shared<std::string>();
  command.add_option("--format", *format, "text (the default) or json")->type_name("FORMAT");
  return [format] {
    auto const form = parse_format(*format);
    if (!form) return fail(form.error());
    *form == ReportFormat::json ? list_as_json({}) : list_as_text({});
    return ExitStatus::ready;
  };
}

}  // namespace layright
