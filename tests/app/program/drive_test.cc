#include "app/program/drive.h"

#include <gmock/gmock.h>

#include <filesystem>

#include "tests/app/touch/bench_app.h"

namespace ligule::program {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using touch_test::Bench;

// A small screen with one of everything a drive file can meet.
struct DayScreen {
  std::string log;
  std::string weight;
  std::int64_t tapped_at = -1;
  platform::Clock* clock = nullptr;
  touch_test::DrawApp* app = nullptr;
  bool panel = false;

  void draw(touch::Ui& ui) {
    const auto note = [&](bool tapped, std::string_view what) {
      if (!tapped) return;
      log += std::string(what) + ";";
      tapped_at = clock->utc_ms();
    };
    touch::Cutter down(ui.page(), touch::Axis::kDown, ui.gap());
    touch::Cutter top(down.take(ui.key()), touch::Axis::kAcross, ui.gap());
    note(touch::key(ui, top.take(ui.key()), {.label = "Keep"}), "keep");
    note(touch::key(ui, top.take(ui.key()), {.label = "Off", .enabled = false}), "off");
    if (touch::key(ui, top.take(ui.key()), {.label = "Stall"})) app->pending = true;
    if (touch::key(ui, top.take(ui.key()), {.label = "Ask"})) panel = true;
    for (const char* name : {"North", "Creek"}) {
      auto group = ui.group(name);
      note(touch::key(ui, top.take(ui.key()), {.label = "Go"}), name);
    }
    for (const auto& press : ui.typed())
      weight += press.key == platform::HardKey::kEnter ? "<enter>" : press.text;
    touch::text(ui, down.take(ui.mm(8)), {.text = weight});
    auto scroll = ui.scroll("rows", down.take_rest());
    touch::Cutter rows(scroll.area(), touch::Axis::kDown, ui.gap());
    for (int n = 0; n < 12; ++n) {
      const std::string label = "Row " + std::to_string(n);
      note(touch::key(ui, rows.take(ui.key()), {.label = label}), label);
    }
  }
};

class DriveTest : public testing::Test {
 protected:
  DriveTest() {
    screen_.clock = &bench_.clock;
    screen_.app = bench_.app.get();
  }
  Result<void> play(const std::string& source) {
    const auto actions = parse_drive(source, "day.drive");
    EXPECT_TRUE(actions.has_value());
    Driver driver(*bench_.window, *bench_.loop, bench_.clock,
                  [this]() -> const touch::Register& { return bench_.seen(); });
    return driver.play(*actions, "day.drive");
  }
  static std::filesystem::path scratch(const std::string& name) {
    const auto folder = std::filesystem::path(LIGULE_BUILD_DIR) / "scratch";
    std::filesystem::create_directories(folder);
    std::filesystem::remove(folder / name);
    return folder / name;
  }
  void draw(touch::Ui& ui) {
    screen_.draw(ui);
    if (!screen_.panel) return;
    const std::array answers{touch::Key{.label = "Yes"}};
    if (touch::question(ui, {.title = "Sure?", .text = "Odd.", .answers = answers}))
      screen_.panel = false;
  }

  DayScreen screen_;
  Bench bench_{[this](touch::Ui& ui) {
    if (screen_.clock == nullptr) screen_.clock = &bench_.clock;
    draw(ui);
  }};
};

TEST_F(DriveTest, TapsTypesAndExpects) {
  const auto played = play("tap \"Keep\"\ntype \"12.4\\n\"\nexpect \"12.4<enter>\"\n");
  ASSERT_TRUE(played.has_value()) << one_line(played.error());
  EXPECT_EQ(screen_.log, "keep;");
}

TEST_F(DriveTest, GroupNarrowsAnAmbiguousLabel) {
  ASSERT_TRUE(play("tap \"Creek/Go\"").has_value());
  EXPECT_EQ(screen_.log, "Creek;");
  const auto played = play("tap \"Keep\"\ntap \"Go\"");
  ASSERT_FALSE(played.has_value());
  EXPECT_EQ(played.error().kind, ErrorKind::kRefused);
  EXPECT_EQ(played.error().where, "day.drive line 2");
  EXPECT_THAT(played.error().what,
              AllOf(HasSubstr("2 keys"), HasSubstr("\"North/Go\""), HasSubstr("\"Creek/Go\"")));
}

TEST_F(DriveTest, UnknownLabelSaysWhatIsVisible) {
  const auto played = play("tap \"Weigh\"");
  ASSERT_FALSE(played.has_value());
  EXPECT_EQ(played.error().where, "day.drive line 1");
  EXPECT_THAT(played.error().what, HasSubstr("\"Weigh\""));
  EXPECT_THAT(played.error().mend,
              AllOf(HasSubstr("\"Keep\""), HasSubstr("\"Off\" (not enabled)")));
}

TEST_F(DriveTest, SaysWhyAKeyThatExistsCannotBeTapped) {
  EXPECT_THAT(play("tap \"Off\"").error().what, HasSubstr("not enabled"));
  EXPECT_THAT(play("tap \"Row 9\"").error().what, HasSubstr("out of view"));
  EXPECT_THAT(play("tap \"Ask\"\ntap \"Keep\"").error().what, HasSubstr("under a panel"));
}

TEST_F(DriveTest, SwipeBringsRowsIntoView) {
  const auto played = play("swipe up\nswipe up\nswipe up\nswipe up\nswipe up\ntap \"Row 11\"");
  ASSERT_TRUE(played.has_value()) << one_line(played.error());
  EXPECT_EQ(screen_.log, "Row 11;");
}

TEST_F(DriveTest, SwipeThatNothingFollowsFails) {
  const auto played = play("swipe left");
  ASSERT_FALSE(played.has_value());
  EXPECT_THAT(played.error().what, HasSubstr("follows a stroke"));
}

TEST_F(DriveTest, ExpectFailsWithWhatIsThere) {
  const auto played = play("expect \"Harvest\"");
  ASSERT_FALSE(played.has_value());
  EXPECT_THAT(played.error().what, HasSubstr("does not show \"Harvest\""));
  EXPECT_FALSE(play("expect \"Row 9\"").has_value());  // out of its clip
}

// Proves: time moves only by `wait` and 2 s an action.
TEST_F(DriveTest, TimeMovesByWaitAndTwoSecondsAnAction) {
  ASSERT_TRUE(play("tap \"Keep\"\n").has_value());
  EXPECT_EQ(screen_.tapped_at, 0);
  EXPECT_EQ(bench_.clock.utc_ms(), 2000);
  ASSERT_TRUE(play("wait 60000\nexpect \"Row 0\"\ntap \"Keep\"\n").has_value());
  EXPECT_EQ(screen_.tapped_at, 64'000);
  EXPECT_EQ(bench_.clock.utc_ms(), 66'000);
}

// Proves: a panel that came up while time passed is read before it is answered.
TEST_F(DriveTest, ReadsAPanelThatCameByItself) {
  screen_.panel = true;
  bench_.app->changed = true;
  ASSERT_TRUE(play("tap \"Sure?/Yes\"\n").has_value());
  EXPECT_FALSE(screen_.panel);
  EXPECT_EQ(bench_.clock.steady_ms(), touch::kUnreadMs + 2000);
  // One that stands already costs no more.
  screen_.panel = true;
  bench_.app->changed = true;
  ASSERT_TRUE(play("expect \"Odd.\"\nwait 1000\ntap \"Sure?/Yes\"\n").has_value());
  EXPECT_FALSE(screen_.panel);
  EXPECT_EQ(bench_.clock.steady_ms(), touch::kUnreadMs + 2000 + 5000);
}

TEST_F(DriveTest, QuitEndsThePlay) {
  ASSERT_TRUE(play("quit\ntap \"Nothing\"").has_value());
}

TEST_F(DriveTest, ShotWritesThePictureOfTheScreen) {
  const auto file = scratch("day.png");
  ASSERT_TRUE(play("shot \"" + file.string() + "\"").has_value());
  const auto picture = platform::read_png(file);
  ASSERT_TRUE(picture.has_value());
  EXPECT_EQ(picture->size, (platform::Size{1280, 800}));
  // Paper in the corner, and not only paper.
  EXPECT_EQ(picture->rgb[0], 0xF4);
  EXPECT_GT(std::ranges::count(picture->rgb, 0x14), 1000);
}

TEST_F(DriveTest, ShotAndListWithoutAFolderAreIoErrors) {
  for (const char* line : {"shot /no/such/folder/a.png", "list /no/such/folder/a.json"}) {
    const auto played = play(line);
    ASSERT_FALSE(played.has_value());
    EXPECT_EQ(played.error().kind, ErrorKind::kIo);
    EXPECT_THAT(played.error().where, HasSubstr("day.drive line 1"));
  }
}

TEST_F(DriveTest, EffectThatNeverComesBackEndsThePlay) {
  const auto played = play("tap \"Stall\"\ntap \"Keep\"");
  ASSERT_FALSE(played.has_value());
  EXPECT_EQ(played.error().where, "day.drive line 1");
  EXPECT_THAT(played.error().what, HasSubstr("still at work"));
}

TEST(DriveWithoutText, TypeFails) {
  Bench bench([](touch::Ui& ui) { touch::text(ui, ui.page(), {.text = "Plot"}); });
  Driver driver(*bench.window, *bench.loop, bench.clock,
                [&]() -> const touch::Register& { return bench.seen(); });
  const auto actions = parse_drive("type \"5\"", "day.drive");
  const auto played = driver.play(*actions, "day.drive");
  ASSERT_FALSE(played.has_value());
  EXPECT_THAT(played.error().what, HasSubstr("takes text"));
}

TEST(DriveOnTheMachinesClock, WaitReallyWaits) {
  Bench bench([](touch::Ui& ui) { touch::text(ui, ui.page(), {.text = "Plot"}); });
  platform::RealClock clock;
  Driver driver(*bench.window, *bench.loop, clock,
                [&]() -> const touch::Register& { return bench.seen(); });
  const auto before = clock.steady_ms();
  ASSERT_TRUE(driver.play(*parse_drive("wait 120", "day.drive"), "day.drive").has_value());
  EXPECT_GE(clock.steady_ms() - before, 120);
}

}  // namespace
}  // namespace ligule::program
