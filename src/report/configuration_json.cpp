#include "report/configuration_json.h"

#include <nlohmann/json.hpp>

#include "sheet/sizes.h"

namespace layright {

Json configuration_json(Configuration const& c) {
  Json sheets = Json::array(), presses = Json::array(), targets = Json::array();
  for (auto const& [name, s] : c.sheets) {
    auto const live = s.live_area();
    sheets.push_back({{"name", name},
                      {"width_pt", points_json(s.width.in_points())},
                      {"length_pt", points_json(s.length.in_points())},
                      {"feed", word(s.feed)},
                      {"live_area_pt", Json::array({points_json(live.x0), points_json(live.y0), points_json(live.x1), points_json(live.y1)})},
                      {"pwg_name", pwg_name({s.width, s.length})}});
  }
  for (auto const& [name, p] : c.presses)
    presses.push_back({{"name", name},
                       {"ppd", p.ppd},
                       {"ipp", p.ipp},
                       {"queue", p.queue},
                       {"media_source", p.media_source},
                       {"media_type", p.media_type},
                       {"output_bin", p.output_bin},
                       {"prints_white", p.prints_white}});
  for (auto const& [name, t] : c.targets) {
    auto object = target_json(t);
    object["press"] = t.press.name;
    targets.push_back(object);
  }
  return {{"sheets", sheets}, {"presses", presses}, {"targets", targets}};
}

}  // namespace layright
