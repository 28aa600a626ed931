// How something reads.
#pragma once

namespace layright {

/// Right (as meant to be read), wrong (reversed, as in a mirror), both ways, or nobody knows.
enum class Reading { unknown, right, wrong, mixed };

}  // namespace layright
