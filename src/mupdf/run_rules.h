// What the library's interpreter does otherwise than the standard says, put right where it asks: which layers print; transfer functions, of
// soft masks and of colours, which it passes over; and what it does not tell: that a pattern's cell begins. It calls functions of its own, in whose place the linker puts ours (CMakeLists.txt); so
// whatever runs a page, its marks and all drawings of it, sees the same.
#pragma once
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "document/layer_rules.h"
#include "mupdf/colour_transfer.h"
#include "mupdf/layer_use.h"
#include "mupdf/library_objects.h"
#include "mupdf/mark_listener.h"

namespace layright {

/// The rules of one open document; its context carries them.
class RunRules {
 public:
  RunRules(fz_context* ctx, pdf_document* document);
  ~RunRules();
  RunRules(RunRules const&) = delete;
  RunRules& operator=(RunRules const&) = delete;
  static RunRules* of(fz_context* ctx) { return static_cast<RunRules*>(fz_user_context(ctx)); }

  void begin_page();
  void begin_run();
  /// Tells it of the cells of patterns too; null ends that.
  void report_cells_to(MarkListener* listener) { hears_cells_ = listener; }
  MarkListener* hears_cells() const { return hears_cells_; }
  /// Tells it where text objects begin and end; null ends that.
  void report_text_objects_to(MarkListener* listener) { hears_text_objects_ = listener; }
  void text_object(bool begins);
  /// Whether anything was asked about, since the page began, of which readers of the file may think otherwise.
  bool readers_differ() const { return !differing_.empty(); }
  /// Where that lies. Runs the page once more, for the extents of that alone.
  std::vector<LayerUse> differing_places(pdf_page* page, fz_matrix matrix);
  /// Does what lies on a layer or a membership print? Null where nothing is asked for.
  bool prints(pdf_obj* owner) { return !owner || answer(owner).prints; }

  /// What is done to colours that are painted now; null where nothing is. Not inline: so whatever draws is linked with this file's functions.
  ColourTransfer const* transfer() const;

  // What the interpreter asks and tells.
  /// A graphics state's dictionary begins, and then comes its soft mask: the one to use in its stead, or null.
  void state(pdf_obj* dictionary);
  struct Mask {
    pdf_obj* group = nullptr;
    float backdrop = 0;  // in gray
  };
  Mask mask(pdf_obj* group, float const* backdrop, bool luminosity);
  std::size_t saved() const { return transfers_.size(); }
  void save();
  void restore(std::size_t depth);
  bool transfers() const { return !transfers_.empty(); }
  bool hidden(pdf_obj* resources, pdf_obj* owner);
  void opened();  // marked content
  void closed();
  void drawing(bool begins);  // a form or a picture
  bool looks_for_places() const { return looking_; }

 private:
  struct Answer {
    bool prints = true, differs = false;
    std::string name;
  };
  Answer const& answer(pdf_obj* owner);
  Answer work_out(pdf_obj* owner) const;
  void enter(std::string const& name, bool prints);
  void leave();

  struct MadeMask {
    pdf_obj* asked;  // the mask's dictionary
    Mask made;       // no group: it has no transfer to speak of
  };

  fz_context* ctx_;
  pdf_document* document_;
  MarkListener* hears_cells_ = nullptr;
  MarkListener* hears_text_objects_ = nullptr;
  pdf_obj* mask_asked_ = nullptr;  // the present state's mask, where it has a transfer function
  std::vector<MadeMask> masks_;
  std::vector<std::optional<ColourTransfer>> transfers_;  // empty until a page has one; then one for each state that is saved, and the present one
  bool known_ = false;                                    // the states are
  LayerStates states_;
  std::map<int, Answer> answers_;
  Answer last_;  // of what has no number
  std::vector<std::string> differing_;
  // While the page is run for places: inside what differs the device takes the extents, else nobody looks at them.
  bool looking_ = false, waiting_ = false;
  std::vector<bool> open_;
  int inside_ = 0;
  LayerUse use_;
  fz_rect extents_{};
  std::vector<LayerUse> found_;
};

}  // namespace layright
