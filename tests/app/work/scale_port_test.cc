// The scale's port as flow sees it, over a pseudo terminal.
#include "app/work/scale_port.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>

#include "tests/app/scale/fake_scale.h"
#include "tests/app/scale/forms.h"

namespace ligule::work {
namespace {

using flow::LoadState;
using scale::comes;
using scale::FakeScale;

class Port : public testing::Test {
 protected:
  flow::ScaleChoice choice(std::string form = "flags_first") const {
    flow::ScaleChoice choice;
    choice.port = indicator.path();
    choice.form = std::move(form);
    return choice;
  }
  // Sends the line again and again until the port tells of such a state; what it told last.
  bool tells(std::string_view line, LoadState state) {
    return comes([&] {
      indicator.send(line);
      listen();
      return last.seen.state == state;
    });
  }
  void listen() {
    if (auto told = port.told()) last = *std::move(told);
  }

  FakeScale indicator;
  std::atomic<int> woken = 0;
  ScalePort port{{scale::form_named(LIGULE_SOURCE_ASSETS, "flags_first"),
                  scale::form_named(LIGULE_SOURCE_ASSETS, "asked")},
                 [this] { ++woken; }};
  flow::LoadTold last;
};

TEST_F(Port, TellsNothingUntilOneIsChosen) {
  EXPECT_FALSE(port.in_use());
  EXPECT_FALSE(port.told());
  port.average();
  port.taken(true);
  EXPECT_FALSE(port.told());
}

TEST_F(Port, TellsOfALoadOnceItsLinesSaySo) {
  port.use(choice());
  EXPECT_TRUE(port.in_use());
  ASSERT_TRUE(tells("S N +   12.345 kg\r\n", LoadState::kStill));
  EXPECT_EQ(last.seen.entered, "12.345");
  EXPECT_EQ(last.seen.unit, "kg");
  EXPECT_TRUE(last.seen.net);
  EXPECT_EQ(last.seen.raw, "S N +   12.345 kg");
  EXPECT_GT(woken, 0);
  port.taken(true);
  ASSERT_TRUE(tells("S N +   12.345 kg\r\n", LoadState::kNotLifted));
  port.taken(false);
  ASSERT_TRUE(tells("S N +   12.345 kg\r\n", LoadState::kStill));
}

TEST_F(Port, EveryStateHasItsName) {
  port.use(choice());
  for (const auto& [line, state] : {std::pair{"D G + 12.345 kg\r\n", LoadState::kMoving},
                                    {"OL\r\n", LoadState::kOverload},
                                    {"UL\r\n", LoadState::kUnderload},
                                    {"S G - 0.500 kg\r\n", LoadState::kNegative},
                                    {"S G + 0.004 kg\r\n", LoadState::kEmpty},
                                    {"what?\r\n", LoadState::kGarbled}})
    EXPECT_TRUE(tells(line, state)) << line;
  EXPECT_EQ(last.seen.raw, "what?");
  EXPECT_EQ(last.seen.entered, "") << "no number of an earlier line";
}

TEST_F(Port, AnUnpluggedScaleShowsNoOldNumber) {
  port.use(choice());
  ASSERT_TRUE(tells("S G +   12.345 kg\r\n", LoadState::kStill));
  indicator.unplug();
  ASSERT_TRUE(comes([&] {
    listen();
    return last.seen.state == LoadState::kSilent;
  }));
  EXPECT_EQ(last.seen.entered, "");
  ASSERT_TRUE(comes([&] {
    listen();
    return last.seen.fault.has_value();
  }));
}

TEST_F(Port, AnotherChoiceLetsTheOldOneGo) {
  port.use(choice());
  ASSERT_TRUE(tells("S G +   12.345 kg\r\n", LoadState::kStill));
  port.use({});
  EXPECT_FALSE(port.in_use());
  listen();
  EXPECT_EQ(last.seen, flow::LoadSeen{});
}

TEST_F(Port, AFormThatWantsToBeAskedIsAsked) {
  port.use(choice("asked"));
  EXPECT_EQ(indicator.heard().substr(0, 3), "W\r\n");
}

TEST_F(Port, AnUnknownFormIsReadAsTheFirst) {
  port.use(choice("nobody's"));
  EXPECT_TRUE(tells("S G +   12.345 kg\r\n", LoadState::kStill));
}

TEST_F(Port, AveragingGivesTheMeanWithItsSpread) {
  port.use(choice());
  ASSERT_TRUE(tells("D G + 10.000 kg\r\n", LoadState::kMoving));
  port.average();
  std::optional<flow::AverageEnded> end;
  ASSERT_TRUE(comes([&] {
    indicator.send("D G + 10.000 kg\r\nD G + 11.000 kg\r\n");
    if (auto told = port.told(); told && told->average) end = told->average;
    return end.has_value();
  }));
  ASSERT_TRUE(end->mean);
  EXPECT_EQ(end->mean->lowest, "10.000");
  EXPECT_EQ(end->mean->highest, "11.000");
  EXPECT_EQ(end->mean->unit, "kg");
  EXPECT_FALSE(end->mean->net);
  EXPECT_GE(end->mean->readings, 2U);
}

TEST(PortsFolder, IsTheSystemsUnlessNamed) {
  EXPECT_EQ(ports_folder(), "/dev/serial/by-id");
  setenv("LIGULE_PORTS", "/tmp/ports", 1);  // NOLINT(concurrency-mt-unsafe): one thread
  EXPECT_EQ(ports_folder(), "/tmp/ports");
  unsetenv("LIGULE_PORTS");  // NOLINT(concurrency-mt-unsafe)
}

TEST(FormNames, AreThoseOfTheFile) {
  const auto names = form_names({scale::form_named(LIGULE_SOURCE_ASSETS, "flag_last")});
  ASSERT_EQ(names.size(), 1U);
  EXPECT_EQ(names.front().code, "flag_last");
  EXPECT_TRUE(names.front().names.contains("es"));
}

}  // namespace
}  // namespace ligule::work
