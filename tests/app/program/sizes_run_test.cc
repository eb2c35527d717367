// What the program lists of itself on each tablet, both ways up, with and without gloves: read from
// the JSON that a drive file's `list` writes, and nothing else.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string>
#include <tuple>
#include <vector>

#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

struct Tablet {
  std::string_view name;
  platform::Size size;
  double ppi;
};
// NOLINTNEXTLINE(readability-identifier-naming): what it is called is the test library's.
void PrintTo(const Tablet& tablet, std::ostream* out) {
  *out << tablet.name;
}
constexpr Tablet kTablets[] = {
    {"in8", {1280, 800}, 189},   {"in8upright", {800, 1280}, 189},
    {"in10", {1920, 1200}, 226}, {"in10upright", {1200, 1920}, 226},
    {"in12", {2160, 1440}, 216}, {"in12upright", {1440, 2160}, 216},
};

// Two trials in one: a rating of four measures on pads of four kinds, and a cutting.
Plan rated_and_cut() {
  Plan plan = InventedSite::plan();
  plan.plot_length = plan.plot_width = StatedLength{"20", "ft"};
  plan.swath_length = StatedLength{"20", "ft"};
  plan.swath_width = StatedLength{"3", "ft"};
  plan.bag_tare = {"30", "g"};
  plan.occasions = {{"2026-stand",
                     Job::kRate,
                     2026,
                     0,
                     {"percent_stand", "seedling_vigor", "stubble_height", "plant_height_canopy"},
                     std::nullopt},
                    {"cut-1",
                     Job::kHarvest,
                     2026,
                     1,
                     {"gross_weight", "tare_weight", "bag_number", "sample_fresh"},
                     std::nullopt}};
  return plan;
}

// Pads of several numbers and of dates.
Plan gathered() {
  Plan plan = InventedSite::plan();
  plan.occasions = {{"2026-more",
                     Job::kRate,
                     2026,
                     0,
                     {"ground_cover", "stage_counts", "frequency_grid", "heading_date"},
                     std::nullopt}};
  return plan;
}

struct Area {
  double left = 0, top = 0, right = 0, bottom = 0;
};
Area area_of(const nlohmann::json& rect) {
  const double x = rect["x"];
  const double y = rect["y"];
  return {x, y, x + rect["width"].get<double>(), y + rect["height"].get<double>()};
}
Area common(const Area& a, const Area& b) {
  return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right),
          std::min(a.bottom, b.bottom)};
}

// A rating key is a tile or a stage; a number key says one digit or the point.
bool is_rating_or_number(const nlohmann::json& widget) {
  const std::string kind = widget["kind"];
  const std::string label = widget["label"];
  if (kind == "tile" || kind == "stage") return true;
  const bool digit = label.size() == 1 && label.find_first_of("0123456789.") == 0;
  return kind == "key" && digit;
}

// Five keys for rating side by side: 112 mm, for gloves 141 mm. Narrower glass has smaller cells of
// a frame, as large as it leaves; the least of them.
double least_cell_mm(const Tablet& tablet, bool gloves) {
  const double across = std::min(tablet.size.width, tablet.size.height) / tablet.ppi * 25.4;
  if (across < 110) return 17;
  if (gloves) return across < 150 ? 22 : 25;
  return 20;
}

std::string name_in(const nlohmann::json& widget) {
  return widget["group"].get<std::string>() + "/" + widget["label"].get<std::string>();
}

class Listed : public testing::TestWithParam<std::tuple<Tablet, bool>> {
 protected:
  void check(const std::string& file, std::size_t least_keys = 5) {
    std::ifstream in(file);
    const auto list = nlohmann::json::parse(in);
    const auto& [tablet, gloves] = GetParam();
    const double mm = tablet.ppi / 25.4;
    constexpr double kSlack = 0.75;  // pixels: rectangles are rounded
    const double key = (gloves ? 25 : 20) * mm - kSlack;
    const double gap = (gloves ? 4 : 3) * mm - kSlack;
    std::vector<nlohmann::json> touchable;
    std::vector<nlohmann::json> keys;
    for (const auto& widget : list) {
      const Area drawn = area_of(widget["drawn"]);
      EXPECT_GE(drawn.right, 0);
      if (widget["touch"].is_null()) continue;
      const Area touch = area_of(widget["touch"]);
      EXPECT_GE(std::min(touch.right - touch.left, touch.bottom - touch.top), 12 * mm - kSlack)
          << name_in(widget) << " in " << file;
      touchable.push_back(widget);
      if (!is_rating_or_number(widget)) continue;
      const std::string group = widget["group"];
      double least = key;
      if (group.ends_with("/Frame")) least = least_cell_mm(tablet, gloves) * mm - kSlack;
      EXPECT_GE(std::min(drawn.right - drawn.left, drawn.bottom - drawn.top), least)
          << name_in(widget) << " in " << file;
      keys.push_back(widget);
    }
    EXPECT_GE(keys.size(), least_keys) << file;
    for (std::size_t a = 0; a < touchable.size(); ++a)
      for (std::size_t b = a + 1; b < touchable.size(); ++b) {
        const auto shown = [](const nlohmann::json& widget) {
          return common(area_of(widget["touch"]), area_of(widget["clip"]));
        };
        const Area both = common(shown(touchable[a]), shown(touchable[b]));
        EXPECT_FALSE(both.right - both.left > kSlack && both.bottom - both.top > kSlack)
            << name_in(touchable[a]) << " and " << name_in(touchable[b]) << " in " << file;
      }
    for (std::size_t a = 0; a < keys.size(); ++a)
      for (std::size_t b = a + 1; b < keys.size(); ++b) {
        const Area one = area_of(keys[a]["drawn"]);
        const Area other = area_of(keys[b]["drawn"]);
        const double across = std::max(other.left - one.right, one.left - other.right);
        const double down = std::max(other.top - one.bottom, one.top - other.bottom);
        EXPECT_GE(std::max(across, down), gap)
            << name_in(keys[a]) << " and " << name_in(keys[b]) << " in " << file;
      }
  }
};

TEST_P(Listed, KeysAreLargeEnoughApartAndNeverOverEachOther) {
  const auto& [tablet, gloves] = GetParam();
  const InventedSite site;
  site.enrol(rated_and_cut());
  const auto list = [&](const std::string& name) {
    return "list " + site.file(name + ".json") + "\n";
  };
  const std::string dress =
      gloves ? "tap \"Tablet\"\ntap \"Keys/For gloves\"\ntap \"Back\"\n" : std::string();
  program::Arguments arguments = site.drive(
      "type \"AB\\n\"\nexpect \"Today\"\n" + dress + "tap \"Today/STAND/2026-stand/Rate\"\n" +
      list("stake") + "tap \"Stake/101\"\n" + list("stand") + "tap \"Single points\"\n" +
      list("tens") + "tap \"Stand/80-90\"\n" + list("fine") + "tap \"Stand/80\"\n" + list("vigor") +
      "tap \"Vigor/4\"\n" + list("stubble") + "tap \"Stubble/4\"\n" + list("height") +
      "tap \"Back\"\ntap \"Today/STAND/cut-1/Weigh\"\ntap \"Understood\"\n"
      "type \"Mower\\n3 ft\\n4 in\\n\"\ntap \"Stake/101\"\n" +
      list("weigh") + "tap \"Harvest/1\"\n" + list("weighed"));
  arguments.size = tablet.size;
  arguments.ppi = tablet.ppi;
  ASSERT_EQ(run(arguments).errors, "");
  for (const char* screen :
       {"stand", "tens", "fine", "vigor", "stubble", "height", "weigh", "weighed"})
    check(site.file(std::string(screen) + ".json"));
}

TEST_P(Listed, PadsOfSeveralNumbersDoToo) {
  const auto& [tablet, gloves] = GetParam();
  const InventedSite site;
  site.enrol(gathered());
  const auto list = [&](const std::string& name) {
    return "list " + site.file(name + ".json") + "\n";
  };
  const std::string dress =
      gloves ? "tap \"Tablet\"\ntap \"Keys/For gloves\"\ntap \"Back\"\n" : std::string();
  // From the frame some chips are out of view on the smallest glass: it comes last.
  program::Arguments arguments = site.drive(
      "type \"AB\\n\"\nexpect \"Today\"\n" + dress +
      "tap \"Today/STAND/2026-more/Rate\"\ntap \"Stake/101\"\n" + list("cover") +
      "tap \"Card/Heading\"\n" + list("visits") + "tap \"Card/Counts\"\n" + list("counts") +
      "tap \"Card/Frame\"\n" + list("frame") + "tap \"Back\"\ntap \"Dry weights\"\n" +
      "tap \"Understood\"\n" + list("dry") + "tap \"Back\"\ntap \"Review\"\n" + list("review"));
  arguments.size = tablet.size;
  arguments.ppi = tablet.ppi;
  ASSERT_EQ(run(arguments).errors, "");
  for (const char* screen : {"cover", "visits", "counts", "frame"})
    check(site.file(std::string(screen) + ".json"));
  for (const char* screen : {"dry", "review"}) check(site.file(std::string(screen) + ".json"), 0);
}

std::string name_of(const testing::TestParamInfo<std::tuple<Tablet, bool>>& given) {
  return std::string(std::get<0>(given.param).name) + (std::get<1>(given.param) ? "_gloves" : "");
}
INSTANTIATE_TEST_SUITE_P(Tablets, Listed,
                         testing::Combine(testing::ValuesIn(kTablets), testing::Bool()), name_of);

}  // namespace
}  // namespace ligule::program_test
