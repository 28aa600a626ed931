#include "setup/ppd.h"

#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "base/unique_fd.h"
#include "base/write_all.h"
#include "setup/ppd_library.h"

namespace layright {
namespace {

void collect(ppd_group_t const& group, std::vector<PpdOption>& into) {
  for (int i = 0; i < group.num_options; ++i) {
    ppd_option_t const& option = group.options[i];
    PpdOption found{option.keyword, option.text, {}};
    for (int j = 0; j < option.num_choices; ++j) {
      ppd_choice_t const& choice = option.choices[j];
      found.choices.push_back({choice.choice, choice.text, std::string_view(choice.choice) == option.defchoice});
    }
    into.push_back(std::move(found));
  }
  for (int i = 0; i < group.num_subgroups; ++i) collect(group.subgroups[i], into);
}

std::string emitted(ppd_file_t* file, ppd_section_t section) {
  char* text = ppdEmitString(file, section, 0);
  std::string result = text ? text : "";
  std::free(text);
  return result;
}

/// What `write` writes to a stream.
template <class Write>
std::string streamed(Write const& write) {
  char* text = nullptr;
  std::size_t size = 0;
  std::FILE* const stream = open_memstream(&text, &size);
  if (!stream) return {};
  write(stream);
  std::fclose(stream);
  std::string result(text, size);
  std::free(text);
  return result;
}

}  // namespace

PpdChoice const* PpdOption::default_choice() const {
  for (auto const& choice : choices)
    if (choice.is_default) return &choice;
  return nullptr;
}

Ppd::Ppd(std::unique_ptr<Members> members) : m_(std::move(members)) {}
Ppd::~Ppd() = default;

Result<std::unique_ptr<Ppd>> Ppd::open(std::filesystem::path const& path) {
  std::error_code ec;
  if (!std::filesystem::is_regular_file(path, ec))
    return Error{ErrorKind::no_input, "there is no PPD file " + path.string() + "; name the press's PPD under ppd in its table"};
  auto members = std::make_unique<Members>();
  members->lines = PpdLines::read(path);
  if (auto const& why = members->lines.broken_off(); !why.empty())
    return Error{ErrorKind::data, path.string() + " is not a whole PPD: " + why + "; take it afresh from the press's driver"};
  members->file = ppdOpenFile(path.c_str());
  if (!members->file) {
    int line = 0;
    auto const status = ppdLastError(&line);
    std::string const where = line > 0 ? " (line " + std::to_string(line) + ")" : "";
    return Error{ErrorKind::data, path.string() + " is not a PPD that libcups can read: " + ppdErrorString(status) + where +
                                      "; take it afresh from the press's driver"};
  }
  members->english = members->lines.english();
  ppdMarkDefaults(members->file);
  return std::unique_ptr<Ppd>(new Ppd(std::move(members)));
}

Result<std::unique_ptr<Ppd>> Ppd::read(std::string const& text, std::string const& name) {
  UniqueFd const file(memfd_create("ppd", MFD_CLOEXEC));
  if (int const error = file ? write_all(file.get(), text) : errno) return Error{ErrorKind::io, name + " cannot be kept: " + std::strerror(error)};
  std::string const path = "/proc/self/fd/" + std::to_string(file.get());
  auto ppd = open(path);
  if (ppd) return ppd;
  std::string message = ppd.error().message;
  if (auto const at = message.find(path); at != std::string::npos) message.replace(at, path.size(), name);
  return Error{ppd.error().kind, std::move(message)};
}

std::string Ppd::model() const {
  for (char const* text : {m_->file->nickname, m_->file->modelname, m_->file->shortnickname})
    if (text && *text) return text;
  return {};
}

bool Ppd::prints_colour() const { return m_->file->color_device != 0; }

bool Ppd::has_filters() const { return m_->file->num_filters > 0; }

bool Ppd::driver_counts() const {
  for (int i = 0; i < m_->file->num_filters; ++i)
    if (!std::string_view(m_->file->filters[i]).ends_with(" -")) return true;
  return m_->file->num_filters == 0;  // CUPS' own PostScript filter does
}

std::vector<PpdOption> Ppd::options() const {
  std::vector<PpdOption> result;
  for (int i = 0; i < m_->file->num_groups; ++i) collect(m_->file->groups[i], result);
  return result;
}

std::optional<PpdCustomRange> Ppd::custom_range() const {
  ppd_file_t const* file = m_->file;
  if (!file->variable_sizes) return std::nullopt;
  return PpdCustomRange{file->custom_min[0], file->custom_min[1], file->custom_max[0], file->custom_max[1]};
}

Result<PressSetup> Ppd::setup(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit) {
  ppdMarkDefaults(m_->file);
  PressSetup setup;
  auto size = ppd_size_setting(*m_, target, setup.findings, unit);
  if (!size) return size.error();
  setup.settings.push_back(*size);
  ppd_choice_settings(*m_, target, setup);
  if (auto marked = ppd_mark(*m_, target, setup); !marked) return marked.error();
  if (auto checked = ppd_check_size(*m_, target, *size, ink, setup.findings, unit); !checked) return checked.error();
  std::stable_sort(setup.settings.begin(), setup.settings.end(), [](auto const& a, auto const& b) { return a.topic < b.topic; });
  return setup;
}

PpdCode Ppd::code() const {
  ppd_file_t* file = m_->file;
  PpdCode code;
  code.exit_server = emitted(file, PPD_ORDER_EXIT);
  code.prolog = emitted(file, PPD_ORDER_PROLOG);
  code.document = emitted(file, PPD_ORDER_DOCUMENT) + emitted(file, PPD_ORDER_ANY);
  code.page = emitted(file, PPD_ORDER_PAGE);
  return code;
}

PpdEnvelope Ppd::envelope(std::string const& title) const {
  ppd_file_t* file = m_->file;
  PpdEnvelope envelope;
  if (file->jcl_begin && file->jcl_ps) {
    envelope.before = streamed([&](std::FILE* to) { ppdEmitJCL(file, to, 0, "layright", title.c_str()); });
    if (file->jcl_end) envelope.after = streamed([&](std::FILE* to) { ppdEmitJCLEnd(file, to); });
    return envelope;
  }
  ppd_choice_t** choices = nullptr;
  int const count = ppdCollect(file, PPD_ORDER_JCL, &choices);
  for (int i = 0; i < count; ++i)
    if (choices[i]->code && *choices[i]->code) envelope.lost.push_back(std::string(choices[i]->option->keyword) + "=" + choices[i]->choice);
  std::free(choices);
  return envelope;
}

void ppd_add(Ppd::Members& ppd, PressSetup& setup, Topic topic, std::string const& option, std::string const& choice, std::string why) {
  for (auto& earlier : setup.settings) {
    if (earlier.option != option) continue;
    if (earlier.topic == Topic::own) earlier.topic = topic;
    return;
  }
  Setting setting{topic, option, choice, {}, {}, std::move(why)};
  if (ppd_option_t* known = ppdFindOption(ppd.file, option.c_str())) {
    setting.option_label = known->text;
    if (ppd_choice_t* chosen = ppdFindChoice(known, choice.c_str())) setting.choice_label = chosen->text;
  }
  setup.settings.push_back(std::move(setting));
}

}  // namespace layright
