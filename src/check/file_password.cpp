#include "check/rows.h"
#include "check/trouble.h"

namespace layright {

Finding password_finding(OpenError const& trouble) {
  Finding f{.check = "file.password", .level = Level::hold};
  f.message = "the file is locked: " + trouble.message;
  if (trouble.kind == OpenError::Kind::password) f.message += "; give its password with --password-file, or ask for the file without one";
  return f;
}

CheckInfo file_password() {
  return {.id = "file.password",
          .levels = "hold",
          .title = "the file cannot be opened without a password",
          .measures = "whether the file opens with the password given, or with none",
          .limit = "it opens",
          .source = "ISO 32000-1, 7.6.3 and 7.6.4",
          .does_not_cover = "files that open but forbid printing (file.permission)",
          .explain =
              "The file is encrypted and needs a password to be opened, or was encrypted for certain people's certificates. Nobody can look at "
              "it, so nobody can say what it would print. A password is given in a file of its own (--password-file), so that it does not "
              "show in the list of running programs. For a file that is encrypted for certificates, ask whoever sent it for one that is not."};
}

}  // namespace layright
