// Whether this build watches its memory (AddressSanitizer): its shadow fits under no limit of memory, and it needs calls of its own.
#pragma once

namespace layright {

#if defined(__SANITIZE_ADDRESS__)
inline constexpr bool kMemoryIsWatched = true;
#elif defined(__has_feature)
inline constexpr bool kMemoryIsWatched = __has_feature(address_sanitizer);
#else
inline constexpr bool kMemoryIsWatched = false;
#endif

}  // namespace layright
