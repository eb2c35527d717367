#include "app/program/list.h"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/app/touch/bench_app.h"

namespace ligule::program {
namespace {

using touch_test::Bench;

TEST(ListJson, GivesLabelKindRectanglesStateAndValue) {
  Bench bench([](touch::Ui& ui) {
    auto group = ui.group("Harvest");
    touch::text(ui, {30, 20, 400, 60}, {.text = "Plot 210"});
    (void)touch::field(ui, {30, 80, 330, 240}, {.label = "Bag weight", .value = "12.4"});
    (void)touch::key(ui, {400, 80, 600, 240}, {.label = "Keep##k", .enabled = false});
  });
  const auto list = nlohmann::json::parse(list_json(bench.seen()));
  ASSERT_EQ(list.size(), 3U);
  EXPECT_EQ(list[0]["kind"], "text");
  EXPECT_EQ(list[0]["label"], "Plot 210");
  EXPECT_TRUE(list[0]["touch"].is_null());
  EXPECT_EQ(list[1]["kind"], "field");
  EXPECT_EQ(list[1]["group"], "Harvest");
  EXPECT_EQ(list[1]["value"], "12.4");
  EXPECT_EQ(list[1]["drawn"],
            nlohmann::json({{"x", 30.0}, {"y", 80.0}, {"width", 300.0}, {"height", 160.0}}));
  EXPECT_EQ(list[1]["enabled"], true);
  EXPECT_EQ(list[2]["label"], "Keep");
  EXPECT_EQ(list[2]["enabled"], false);
  EXPECT_LT(list[2]["touch"]["x"].get<double>(), 400.0);
}

TEST(ListJson, LeavesOutWhatIsScrolledAway) {
  Bench bench([](touch::Ui& ui) {
    auto scroll = ui.scroll("rows", ui.page());
    touch::Cutter rows(scroll.area(), touch::Axis::kDown, ui.gap());
    for (int n = 0; n < 30; ++n) {
      const std::string label = "Row " + std::to_string(n);
      (void)touch::key(ui, rows.take(ui.key()), {.label = label});
    }
  });
  const auto list = nlohmann::json::parse(list_json(bench.seen()));
  EXPECT_GT(list.size(), 2U);
  EXPECT_LT(list.size(), 7U);
}

TEST(ListJson, SurvivesABrokenLetter) {
  touch::Register seen;
  touch::Widget widget;
  widget.label = "Lodged \xFF";
  widget.drawn = {0, 0, 10, 10};
  widget.clip = {0, 0, 10, 10};
  seen.widgets = {widget};
  EXPECT_EQ(nlohmann::json::parse(list_json(seen)).size(), 1U);
}

TEST(WriteList, WritesTheFile) {
  const auto file = std::filesystem::path(LIGULE_BUILD_DIR) / "scratch" / "list.json";
  std::filesystem::create_directories(file.parent_path());
  ASSERT_TRUE(write_list(file, {}).has_value());
  std::ifstream in(file);
  EXPECT_TRUE(nlohmann::json::parse(in).empty());
  EXPECT_EQ(write_list("/no/such/folder/list.json", {}).error().kind, ErrorKind::kIo);
}

}  // namespace
}  // namespace ligule::program
