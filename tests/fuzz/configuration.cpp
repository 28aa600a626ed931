// layright.toml. Only Error may come out; what is taken must be sound.
#include <cstdint>
#include <string_view>

#include "fuzz/require.h"
#include "sheet/configuration.h"

using namespace layright;
using test::require;

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  std::string_view const text(reinterpret_cast<char const*>(data), size);
  auto const configuration = parse_configuration(text, "/shop/layright.toml");
  if (!configuration) {
    require(configuration.error().kind == ErrorKind::usage && !configuration.error().message.empty(), "a bad file is a usage error that says why");
    return 0;
  }
  for (auto const& [name, target] : configuration->targets) {
    auto const page = target.sheet.page(), live = target.sheet.live_area();
    require(page.finite() && page.width() > 0 && page.height() > 0, "a target has a sheet");
    require(live.width() > 0 && live.height() > 0, "its margins leave something");
    require(target.sheet.width <= target.sheet.length, "the shorter side comes first");
    require(target.copies >= 1, "at least one copy");
    require(target.white.percent.value_or(0) <= kMostWhitePercent, "never more white than the trade lays");
  }
  return 0;
}
