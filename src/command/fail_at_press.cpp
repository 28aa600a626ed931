#include "command/fail_at_press.h"

#include "report/report.h"

namespace layright {

ExitStatus fail_at_press(Error const& error, PrintService const& service) {
  auto const status = fail({error.kind, shown_name(error.message)});
  return service.wants_login() ? ExitStatus::no_permission : status;
}

}  // namespace layright
