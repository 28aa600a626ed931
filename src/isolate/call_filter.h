// seccomp: which calls of the system a process may still make. All others fail with EPERM, so that a library that asks for more goes on
// without it.
#pragma once

namespace layright {

/// For our own readers: reading, drawing and writing to open descriptors. No path, no process, no socket.
bool filter_reader_calls();

/// For a program that is run for us: paths (the rules of paths say which), threads of its own. No process, no socket, no queue of calls that
/// others carry out (io_uring), no signal to anybody but itself, no limit or priority changed.
bool filter_program_calls();

}  // namespace layright
