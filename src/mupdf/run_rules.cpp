#include "mupdf/run_rules.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <exception>
#include <utility>

#include "mupdf/mask_transfer.h"
#include "mupdf/page_run.h"
#include "mupdf/unicode_cmaps.h"

namespace layright {
namespace {

using Context = fz_context*;

constexpr std::size_t kMostUses = 20;       // places told of one page
constexpr std::size_t kMostMasks = 200;     // made anew, of one file
constexpr std::size_t kMostSaved = 10'000;  // graphics states

/// Plain calls that may jump out.
float luminosity_of(Context ctx, pdf_obj* group, float const* backdrop) {
  float gray[FZ_MAX_COLORS] = {0};
  fz_colorspace* space = nullptr;
  fz_var(space);
  fz_try(ctx) {
    space = pdf_xobject_colorspace(ctx, group);
    if (space != nullptr) fz_convert_color(ctx, space, backdrop, fz_device_gray(ctx), gray, nullptr, fz_default_color_params);
    else gray[0] = backdrop[0];
  }
  fz_always(ctx) fz_drop_colorspace(ctx, space);
  fz_catch(ctx) gray[0] = 0;
  return gray[0];
}

}  // namespace

RunRules::RunRules(fz_context* ctx, pdf_document* document) : ctx_(ctx), document_(document) { fz_set_user_context(ctx, this); }
RunRules::~RunRules() {
  for (auto const& mask : masks_) {
    pdf_drop_obj(ctx_, mask.asked);
    pdf_drop_obj(ctx_, mask.made.group);
  }
  fz_set_user_context(ctx_, nullptr);
}

void RunRules::begin_page() { differing_.clear(); }

void RunRules::begin_run() {
  transfers_.clear();
  mask_asked_ = nullptr;
}

void RunRules::state(pdf_obj* dictionary) {
  LibraryLayerObjects const objects{ctx_};
  auto* const mask = objects.get(dictionary, "SMask");
  mask_asked_ = mask && objects.is_dictionary(mask) && objects.is_dictionary(objects.get(mask, "TR")) ? mask : nullptr;
  auto* transfer = objects.get(dictionary, "TR2");
  if (transfer == nullptr) transfer = objects.get(dictionary, "TR");
  if (transfer == nullptr) return;
  ColourTransfer read;
  bool const changes = read_transfer(ctx_, transfer, &read);
  if (!changes && transfers_.empty()) return;
  if (transfers_.empty()) transfers_.emplace_back();
  transfers_.back().reset();
  if (changes) transfers_.back() = read;
}

RunRules::Mask RunRules::mask(pdf_obj* group, float const* backdrop, bool luminosity) {
  if (mask_asked_ == nullptr || group == nullptr) return {};
  auto const known = std::ranges::find(masks_, mask_asked_, &MadeMask::asked);
  if (known != masks_.end()) return known->made;
  if (masks_.size() >= kMostMasks) return {};
  MadeMask fresh{mask_asked_, {}};
  MaskToTransfer wanted{group, luminosity, luminosity ? luminosity_of(ctx_, group, backdrop) : 0, {}};
  ColourTransfer read;
  if (read_transfer(ctx_, LibraryLayerObjects{ctx_}.get(mask_asked_, "TR"), &read)) {
    wanted.curve = read.curves[0];
    fresh.made.group = transferred_mask(ctx_, document_, wanted);
    fresh.made.backdrop =
        static_cast<float>(wanted.curve[static_cast<std::size_t>(std::lround(255 * std::clamp(wanted.backdrop, 0.0F, 1.0F)))]) / 255;
  }
  masks_.push_back(fresh);
  pdf_keep_obj(ctx_, mask_asked_);
  return fresh.made;
}

void RunRules::text_object(bool begins) {
  if (hears_text_objects_) hears_text_objects_->text_object(begins);
}

ColourTransfer const* RunRules::transfer() const { return transfers_.empty() || !transfers_.back() ? nullptr : &*transfers_.back(); }

void RunRules::save() {
  if (!transfers_.empty() && transfers_.size() < kMostSaved) transfers_.push_back(transfers_.back());
}

/// Back to so many; states that were saved before the first transfer are as if it had not been.
void RunRules::restore(std::size_t depth) {
  while (transfers_.size() > depth) transfers_.pop_back();
}

RunRules::Answer RunRules::work_out(pdf_obj* owner) const {
  LayerRules const rules(LibraryLayerObjects{ctx_});
  Answer answer;
  answer.prints = rules.shows(states_, owner, LayerRule::standard);
  answer.differs =
      answer.prints != rules.shows(states_, owner, LayerRule::plain) || answer.prints != rules.shows(states_, owner, LayerRule::by_usage);
  auto const layer = states_.find(LibraryLayerObjects{ctx_}.number(owner));
  answer.name = layer != states_.end() ? layer->second.name : "";
  return answer;
}

RunRules::Answer const& RunRules::answer(pdf_obj* owner) {
  LibraryLayerObjects const objects{ctx_};
  if (!known_) {
    states_ = LayerRules(objects).states(objects.get(pdf_trailer(ctx_, document_), "Root"));
    known_ = true;
  }
  int const number = tried<int>(ctx_, 0, [&] { return pdf_is_indirect(ctx_, owner) ? pdf_to_num(ctx_, owner) : 0; });
  if (number == 0) return last_ = work_out(owner);
  auto const at = answers_.find(number);
  return at != answers_.end() ? at->second : answers_.emplace(number, work_out(owner)).first->second;
}

bool RunRules::hidden(pdf_obj* resources, pdf_obj* owner) {
  LibraryLayerObjects const objects{ctx_};
  auto const name = objects.name(owner);
  bool const of_content = !name.empty();
  if (of_content) owner = objects.get(objects.get(resources, "Properties"), name.c_str());
  if (owner == nullptr) return false;
  Answer const& a = answer(owner);
  // Many readers look for layers in the content alone, not at those of forms, pictures and annotations.
  bool const differs = a.differs || (!of_content && !a.prints);
  if (differs && !looking_ && std::ranges::find(differing_, a.name) == differing_.end() && differing_.size() < kMostUses)
    differing_.push_back(a.name);
  if (!looking_ || !differs) return !a.prints;
  if (!of_content) {
    waiting_ = true;
    use_.name = a.name;
    use_.prints = a.prints;
  } else if (!open_.empty()) {
    open_.back() = true;
    enter(a.name, a.prints);
  }
  return false;
}

void RunRules::enter(std::string const& name, bool prints) {
  if (inside_++ > 0) return;
  use_.name = name;
  use_.prints = prints;
  extents_ = fz_empty_rect;
}

void RunRules::leave() {
  if (--inside_ > 0) return;
  if (fz_is_empty_rect(extents_) || found_.size() >= kMostUses) return;
  use_.where = from_library(extents_);
  found_.push_back(use_);
}

void RunRules::opened() { open_.push_back(false); }

void RunRules::closed() {
  if (open_.empty()) return;
  bool const differs = open_.back();
  open_.pop_back();
  if (differs) leave();
}

void RunRules::drawing(bool begins) {
  if (begins) {
    open_.push_back(waiting_);
    if (std::exchange(waiting_, false)) enter(use_.name, use_.prints);
  } else {
    closed();
  }
}

std::vector<LayerUse> RunRules::differing_places(pdf_page* page, fz_matrix matrix) {
  looking_ = true;
  open_.clear();
  found_.clear();
  inside_ = 0;
  fz_cookie cookie{};
  fz_device* const device = tried<fz_device*>(ctx_, nullptr, [&] { return fz_new_bbox_device(ctx_, &extents_); });
  if (device != nullptr) {
    for (auto section : {PageSection::content, PageSection::annotations}) run_section(ctx_, page, section, device, matrix, &cookie);
    fz_try(ctx_) fz_close_device(ctx_, device);
    fz_always(ctx_) fz_drop_device(ctx_, device);
    fz_catch(ctx_) {}
  }
  looking_ = false;
  return std::move(found_);
}

namespace {

// The functions that the library's own interpreter is made of; they are the same for each page.
struct LibraryCalls {
  decltype(pdf_processor::op_gs_begin) state = nullptr;
  decltype(pdf_processor::op_gs_SMask) mask = nullptr;
  decltype(pdf_processor::op_q) save = nullptr;
  decltype(pdf_processor::op_Q) restore = nullptr;
  decltype(pdf_processor::op_BT) begin_text = nullptr;
  decltype(pdf_processor::op_ET) end_text = nullptr;
  decltype(pdf_processor::op_BMC) begin = nullptr;
  decltype(pdf_processor::op_BDC) begin_with = nullptr;
  decltype(pdf_processor::op_EMC) end = nullptr;
  decltype(pdf_processor::op_Do_form) form = nullptr;
  decltype(pdf_processor::op_Do_image) image = nullptr;
} library_calls;

/// Nothing may fly through the library; what does is only ever for want of memory.
template <class Call>
void safely(Call&& call) {
  try {
    call();
  } catch (std::exception const&) {
  }
}

void save(Context ctx, pdf_processor* p) {
  library_calls.save(ctx, p);
  safely([&] { RunRules::of(ctx)->save(); });
}
void restore(Context ctx, pdf_processor* p) {
  library_calls.restore(ctx, p);
  auto* const rules = RunRules::of(ctx);
  if (rules->saved() > 0) rules->restore(rules->saved() - 1);
}
void state(Context ctx, pdf_processor* p, char const* name, pdf_obj* dictionary) {
  auto* const rules = RunRules::of(ctx);
  safely([&] { rules->state(dictionary); });
  if (rules->transfers() && p->op_q == library_calls.save) {  // most pages have none, and pay nothing
    p->op_q = save;
    p->op_Q = restore;
  }
  library_calls.state(ctx, p, name, dictionary);
}
void mask(Context ctx, pdf_processor* p, pdf_obj* group, pdf_obj* resources, float* backdrop, int luminosity) {
  RunRules::Mask made;
  safely([&] { made = RunRules::of(ctx)->mask(group, backdrop, luminosity != 0); });
  if (made.group == nullptr) return library_calls.mask(ctx, p, group, resources, backdrop, luminosity);
  library_calls.mask(ctx, p, made.group, resources, &made.backdrop, 1);
}
void begin_text(Context ctx, pdf_processor* p) {
  library_calls.begin_text(ctx, p);
  safely([&] { RunRules::of(ctx)->text_object(true); });
}
void end_text(Context ctx, pdf_processor* p) {
  library_calls.end_text(ctx, p);
  safely([&] { RunRules::of(ctx)->text_object(false); });
}
void begin(Context ctx, pdf_processor* p, char const* tag) {
  safely([&] { RunRules::of(ctx)->opened(); });
  library_calls.begin(ctx, p, tag);
}
void begin_with(Context ctx, pdf_processor* p, char const* tag, pdf_obj* raw, pdf_obj* cooked) {
  safely([&] { RunRules::of(ctx)->opened(); });
  library_calls.begin_with(ctx, p, tag, raw, cooked);
}
void end(Context ctx, pdf_processor* p) {
  library_calls.end(ctx, p);
  safely([&] { RunRules::of(ctx)->closed(); });
}
/// What a form does to the graphics state ends with it.
void form(Context ctx, pdf_processor* p, char const* name, pdf_obj* object, pdf_obj* resources) {
  auto* const rules = RunRules::of(ctx);
  std::size_t const depth = rules->saved();
  if (depth > 0) safely([&] { rules->save(); });
  if (rules->looks_for_places()) safely([&] { rules->drawing(true); });
  fz_try(ctx) library_calls.form(ctx, p, name, object, resources);
  fz_always(ctx) {
    if (rules->looks_for_places()) safely([&] { rules->drawing(false); });
    rules->restore(depth);
  }
  fz_catch(ctx) fz_rethrow(ctx);
}
void image(Context ctx, pdf_processor* p, char const* name, fz_image* object) {
  safely([&] { RunRules::of(ctx)->drawing(true); });
  fz_try(ctx) library_calls.image(ctx, p, name, object);
  fz_always(ctx) safely([&] { RunRules::of(ctx)->drawing(false); });
  fz_catch(ctx) fz_rethrow(ctx);
}

void take_over(RunRules const& rules, pdf_processor* p) {
  library_calls = {p->op_gs_begin, p->op_gs_SMask, p->op_q,   p->op_Q,       p->op_BT,      p->op_ET,
                   p->op_BMC,      p->op_BDC,      p->op_EMC, p->op_Do_form, p->op_Do_image};
  p->op_gs_begin = state;
  p->op_gs_SMask = mask;
  p->op_Do_form = form;
  p->op_BT = begin_text;
  p->op_ET = end_text;
  if (rules.transfers()) {  // a glyph, drawn under one
    p->op_q = save;
    p->op_Q = restore;
  }
  if (!rules.looks_for_places()) return;
  p->op_BMC = begin;
  p->op_BDC = begin_with;
  p->op_EMC = end;
  p->op_Do_image = image;
}

/// Plain calls that may jump out.
bool is_cell(Context ctx, pdf_obj* contents, PatternCell* cell) {
  if (pdf_dict_get_int(ctx, contents, PDF_NAME(PatternType)) != 1) return false;
  cell->box = pdf_dict_get_rect(ctx, contents, PDF_NAME(BBox));
  cell->xstep = pdf_dict_get_real(ctx, contents, PDF_NAME(XStep));
  cell->ystep = pdf_dict_get_real(ctx, contents, PDF_NAME(YStep));
  return true;
}

/// A clip that tells the device the present matrix, and is gone.
void probe(Context ctx, pdf_processor* p, MarkListener& listener) {
  listener.probe_cell();
  p->op_q(ctx, p);
  p->op_re(ctx, p, 0, 0, 1, 1);
  p->op_W(ctx, p);
  p->op_n(ctx, p);
  p->op_Q(ctx, p);
}

}  // namespace
}  // namespace layright

// In the place of the library's own (see CMakeLists.txt).
extern "C" {

int __real_pdf_is_ocg_hidden(fz_context* ctx, pdf_document* document, pdf_obj* resources, char const* usage, pdf_obj* owner);
int __wrap_pdf_is_ocg_hidden(fz_context* ctx, pdf_document* document, pdf_obj* resources, char const* usage, pdf_obj* owner) {
  if (owner == nullptr) return 0;
  auto* const rules = layright::RunRules::of(ctx);
  if (!rules) return __real_pdf_is_ocg_hidden(ctx, document, resources, usage, owner);
  int hidden = 0;
  layright::safely([&] { hidden = rules->hidden(resources, owner) ? 1 : 0; });
  return hidden;
}

void __real_pdf_process_contents(fz_context* ctx, pdf_processor* p, pdf_document* document, pdf_obj* resources, pdf_obj* contents, fz_cookie* cookie);
void __wrap_pdf_process_contents(fz_context* ctx, pdf_processor* p, pdf_document* document, pdf_obj* resources, pdf_obj* contents,
                                 fz_cookie* cookie) {
  auto* const rules = layright::RunRules::of(ctx);
  auto* const listener = rules ? rules->hears_cells() : nullptr;
  layright::PatternCell cell{};
  if (!listener || !layright::is_cell(ctx, contents, &cell)) return __real_pdf_process_contents(ctx, p, document, resources, contents, cookie);
  layright::probe(ctx, p, *listener);
  layright::safely([&] { listener->begin_cell(cell); });
  fz_try(ctx) __real_pdf_process_contents(ctx, p, document, resources, contents, cookie);
  fz_always(ctx) layright::safely([&] { listener->end_cell(); });
  fz_catch(ctx) fz_rethrow(ctx);
}

pdf_processor* __real_pdf_new_run_processor(fz_context* ctx, fz_device* device, fz_matrix matrix, char const* usage, pdf_gstate* state,
                                            fz_default_colorspaces* spaces, fz_cookie* cookie);
pdf_processor* __wrap_pdf_new_run_processor(fz_context* ctx, fz_device* device, fz_matrix matrix, char const* usage, pdf_gstate* state,
                                            fz_default_colorspaces* spaces, fz_cookie* cookie) {
  pdf_processor* const p = __real_pdf_new_run_processor(ctx, device, matrix, usage, state, spaces, cookie);
  auto* const rules = layright::RunRules::of(ctx);
  if (!rules) return p;
  if (usage != nullptr && std::strcmp(usage, "Print") == 0) rules->begin_run();  // else it is a glyph of a Type 3 font, amid a run
  layright::take_over(*rules, p);
  return p;
}

pdf_cmap* __wrap_pdf_load_system_cmap(fz_context* ctx, char const* name) { return layright::system_cmap(ctx, name); }
}
