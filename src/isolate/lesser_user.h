// Root's rights are given up: by the watcher for the user that the configuration names, by children for nobody's.
#pragma once
#include <sys/types.h>

#include <string>

#include "base/result.h"

namespace layright {

/// The user and group that children of root become (Debian's nobody).
inline constexpr uid_t kNobody = 65534;

bool is_root();

/// In a child: from now on it has the rights of nobody, and no capability. It still ends with its parent. False where root's rights could not
/// be given up; where there were none, nothing is done.
bool become_nobody();

/// In the watcher, before it opens anything: it becomes `user`, and keeps of root's rights only that of seeing who has a file open (CAP_LEASE).
/// Errors: usage when there is no such user, io.
Outcome become_user(std::string const& user);

}  // namespace layright
