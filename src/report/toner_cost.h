// What the toner of a page costs on the sheet: an estimate, from the prices of the press's cartridges.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "geometry/seen.h"
#include "raster/page_toner.h"
#include "sheet/target.h"

namespace layright {

struct TonerUse {
  std::string ink;
  double coverage_pct = 0;     // mean tint over the sheet; above 100 where white is laid more than once
  std::optional<double> cost;  // nothing where its price is not set
};

struct TonerCost {
  double cost = 0;  // of all that have a price, in the press's currency
  std::string currency;
  std::vector<TonerUse> inks;  // that the page takes
};

/// The separations that have a toner of their own: with a price, or white where the press lays white.
std::vector<std::string> own_toners(Target const& target);

/// `seen` is the page's size, which comes `scale` times as large onto the sheet. Under all art the press lays white as the target says
/// (in place of it the file's own plate, where it has one); where the target wants none, the plate that is made from the art is white, or paper-white
/// paint alone. `plate_pt2`: the area of that plate as printed; where it is not known yet, all that is painted stands for it.
TonerCost toner_cost(Target const& target, PageToner const& toner, SeenSize const& seen, double scale,
                     std::optional<double> plate_pt2 = std::nullopt);

/// "about 0.12 EUR, without Magenta, whose price is not set".
std::string toner_words(double cost, std::string const& currency, std::vector<std::string> const& without);
std::vector<std::string> without_price(TonerCost const& cost);
std::string toner_words(TonerCost const& cost);

/// The page that makers rate cartridges by is A4 (ISO 216): 210 x 297 mm.
inline constexpr double kRatedPageArea = 210.0 * 297.0 * (72 / 25.4) * (72 / 25.4);  // square points

}  // namespace layright
