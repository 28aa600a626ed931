#include "command/proof_file.h"

#include <cmath>

#include "command/command.h"
#include "job/known_file.h"
#include "job/page_drawing.h"
#include "plate/shown_plate.h"
#include "report/plain_words.h"
#include "report/proof.h"
#include "report/reading_picture.h"
#include "report/short_words.h"
#include "write/output_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

std::optional<ProofFor> audience_from(std::string const& word) {
  if (word == "shop") return ProofFor::shop;
  if (word == "customer") return ProofFor::customer;
  if (word == "art") return ProofFor::art;
  if (word == "sheet") return ProofFor::sheet;
  return std::nullopt;
}

std::optional<ProofGround> ground_from(std::string const& word) {
  if (word == "checker") return ProofGround::checker;
  if (word == "light") return ProofGround::light;
  if (word == "dark") return ProofGround::dark;
  return std::nullopt;
}

/// OUT.png, OUT-2.png, …
fs::path path_of_page(fs::path const& path, std::size_t index) {
  if (index == 0) return path;
  return path.parent_path() / (path.stem().native() + "-" + std::to_string(index + 1) + path.extension().native());
}

Outcome write_one(fs::path const& path, Result<std::string> const& bytes, std::vector<fs::path> const& inputs) {
  if (!bytes) return bytes.error();
  auto out = OutputFile::create(path, true, inputs);
  if (!out) return out.error();
  if (auto const o = out->write(std::as_bytes(std::span(*bytes))); !o) return o;
  return out->commit();
}

}  // namespace

void add_proof_options(CLI::App& command, ProofWords& w) {
  command.add_option("--proof", w.path, "draw the sheet with what was found: a .png, .svg or .pdf")->type_name("OUT");
  command
      .add_option("--proof-for", w.audience, "shop (the default); customer: the art as worn, to be signed; art or sheet: that alone, small, no words")
      ->type_name("WORD");
  command.add_flag("--proof-plain", w.plain, "the proof names no options")->group("");
  command.add_option("--proof-job", w.job, "the job number to show on the proof")->type_name("TEXT");
  command.add_option("--proof-ground", w.ground, "what shows through the art in the proof: checker (the default), light or dark")->type_name("WORD");
  command
      .add_option("--proof-goods", w.goods, "show in the proof also how it will look on light or dark goods, or on ones of a color such as #203040")
      ->type_name("COLOR");
  command.add_option("--proof-dpi", w.dpi, "pixels to the inch of a PNG proof; else 144")->type_name("N")->check(CLI::Range(72.0, 300.0));
}

Outcome check_proof_words(ProofWords const& w, std::vector<fs::path> const& files) {
  if (w.path.empty()) return done();
  if (auto const o = check_picture_path("--proof", w.path, files); !o) return o;
  if (!audience_from(w.audience)) return Error{ErrorKind::usage, "--proof-for: '" + w.audience + "' is none of shop, customer, art and sheet"};
  if (!ground_from(w.ground)) return Error{ErrorKind::usage, "--proof-ground: '" + w.ground + "' is neither checker nor light nor dark"};
  if (!w.goods.empty() && w.goods != "light" && w.goods != "dark" && !parse_goods_color(w.goods))
    return Error{ErrorKind::usage, "--proof-goods: '" + w.goods + "' is neither light nor dark nor a color such as #203040"};
  return done();
}

Outcome check_picture_path(std::string const& option, std::string const& path, std::vector<fs::path> const& files) {
  if (auto const form = proof_form(option, path); !form) return form.error();
  if (files.size() == 1 && files[0] == "-") return Error{ErrorKind::usage, option + " needs a file: standard input cannot be read again to be drawn"};
  if (files.size() != 1) return Error{ErrorKind::usage, option + " goes with one file"};
  return done();
}

ExitStatus write_proofs(ProofWords const& w, PageCollector const& reported, fs::path const& source, InspectOptions const& options,
                        std::vector<fs::path> const& inputs) {
  if (reported.pages().empty()) return fail({ErrorKind::data, "there is no page of " + shown_name(source.native()) + " to draw a proof of"});
  Proof proof;
  proof.target = options.target;
  proof.form = *proof_form("--proof", w.path);
  proof.audience = *audience_from(w.audience);
  proof.date = today();
  proof.job = shown_name(w.job);
  proof.ground = *ground_from(w.ground);
  proof.goods = ground_from(w.goods);
  proof.color = parse_goods_color(w.goods);
  if (proof.color) proof.goods = is_dark(*proof.color) ? ProofGround::dark : ProofGround::light;
  proof.plain = w.plain;
  proof.dpi = w.dpi;
  proof.unit = options.unit;
  bool const all_in_one = proof.form == ProofForm::pdf;
  for (std::size_t i = 0; i < reported.pages().size(); ++i) {
    auto page = proof_page(reported.pages()[i], source.filename().native(), reported.findings(),
                           [&](Finding const& f) { return w.plain ? plain_words(short_words(f, options.unit)) : short_words(f, options.unit); });
    page.of = static_cast<int>(reported.pages().size());
    // As many pixels as the page's longer side has at that resolution on the sheet, which is drawn at about half its size.
    double const longest = std::max(page.seen.width, page.seen.height) / 72 * w.dpi;
    if (auto drawn = draw_page_of(source, page.number, static_cast<int>(std::clamp(longest, 300.0, 3000.0)), options, true))
      page.picture = std::move(*drawn);
    double const onto_sheet = page.placement ? std::hypot(page.placement->a, page.placement->b) : 1;
    page.white = white_beneath(page.picture, options.target.plate, onto_sheet);
    proof.pages.push_back(std::move(page));
    if (all_in_one) continue;
    if (auto const o = write_one(path_of_page(w.path, i), make_proof(proof), inputs); !o) return fail(o.error());
    proof.pages.clear();
  }
  if (all_in_one)
    if (auto const o = write_one(w.path, make_proof(proof), inputs); !o) return fail(o.error());
  return ExitStatus::ready;
}

ExitStatus write_reading_pictures(std::string const& path, PageCollector const& reported, fs::path const& source, InspectOptions const& options,
                                  std::vector<fs::path> const& inputs) {
  if (reported.pages().empty()) return fail({ErrorKind::data, "there is no page of " + shown_name(source.native()) + " to show the reading of"});
  constexpr int kPixels = 2400;  // of a page's longer side: lines are cut out of it
  ReadingPicture picture;
  picture.form = *proof_form("--explain-reading", path);
  bool const all_in_one = picture.form == ProofForm::pdf;
  for (std::size_t i = 0; i < reported.pages().size(); ++i) {
    auto page = reading_picture_page(reported.pages()[i], source.filename().native());
    if (auto drawn = draw_page_of(source, page.number, kPixels, options)) page.picture = std::move(*drawn);
    picture.pages.push_back(std::move(page));
    if (all_in_one) continue;
    if (auto const o = write_one(path_of_page(path, i), make_reading_picture(picture), inputs); !o) return fail(o.error());
    picture.pages.clear();
  }
  if (all_in_one)
    if (auto const o = write_one(path, make_reading_picture(picture), inputs); !o) return fail(o.error());
  return ExitStatus::ready;
}

}  // namespace layright
