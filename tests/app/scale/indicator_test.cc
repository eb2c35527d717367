// Lines over a pseudo terminal, from the simulated indicator of fake_scale.h.
#include "app/scale/indicator.h"

#include <gmock/gmock.h>

#include <atomic>
#include <chrono>
#include <functional>
#include <memory>
#include <thread>

#include "tests/app/scale/fake_scale.h"
#include "tests/app/scale/forms.h"

namespace ligule::scale {
namespace {

using ::testing::HasSubstr;
using Clock = std::chrono::steady_clock;

constexpr std::string_view kStill = "S G +   12.345 kg\r\n";

class AtThePort : public ::testing::Test {
 protected:
  Indicator::Parts parts(std::string request = "") {
    Indicator::Parts parts;
    parts.port.path = scale.path();
    parts.port.request = std::move(request);
    parts.form = form_named(LIGULE_SOURCE_ASSETS, "flags_first");
    return parts;
  }
  // Sends again and again, as an indicator that streams does, until it holds.
  bool comes_while_sending(std::string_view line, const std::function<bool()>& what) const {
    return comes([&] {
      scale.send(line);
      return what();
    });
  }
  FakeScale scale;
};

TEST_F(AtThePort, AStreamGivesAStillWeightWithItsRawLine) {
  const Indicator indicator(parts());
  ASSERT_TRUE(
      comes_while_sending(kStill, [&] { return indicator.seen().state == LoadState::kStill; }));
  const Seen seen = indicator.seen();
  EXPECT_TRUE(seen.connected);
  EXPECT_EQ(seen.reading->entered, "12.345");
  EXPECT_EQ(seen.reading->raw, "S G +   12.345 kg");
}

TEST_F(AtThePort, AnIndicatorThatWaitsIsAsked) {
  const Indicator indicator(parts("P\r"));
  EXPECT_EQ(scale.heard(), "P\r");
  ASSERT_TRUE(
      comes_while_sending(kStill, [&] { return indicator.seen().state == LoadState::kStill; }));
}

TEST_F(AtThePort, PartialLinesAndNoiseBecomeNoWeight) {
  const Indicator indicator(parts());
  ASSERT_TRUE(comes([&] { return indicator.seen().connected; }));
  scale.send("345 kg\r\n");
  ASSERT_TRUE(comes([&] { return indicator.seen().line == "345 kg"; }));
  EXPECT_EQ(indicator.seen().state, LoadState::kGarbled);
  EXPECT_FALSE(indicator.seen().reading.has_value());
  scale.send("S G + 1");
  scale.send("2.3");
  scale.send("45 kg\r\n");
  ASSERT_TRUE(comes([&] { return indicator.seen().reading.has_value(); }));
  EXPECT_EQ(indicator.seen().reading->entered, "12.345");
  scale.send("S G + 1\xFE.345 kg\r\n");
  ASSERT_TRUE(comes([&] { return indicator.seen().state == LoadState::kGarbled; }));
}

TEST_F(AtThePort, UnpluggedInMidLineIsSaidAndPluggedInAgainIsFound) {
  const Indicator indicator(parts());
  ASSERT_TRUE(comes_while_sending(kStill, [&] { return indicator.seen().reading.has_value(); }));
  scale.send("S G + 9");
  scale.unplug();
  ASSERT_TRUE(comes([&] { return !indicator.seen().connected; }));
  const Seen gone = indicator.seen();
  EXPECT_EQ(gone.state, LoadState::kSilent);
  EXPECT_FALSE(gone.reading.has_value());
  EXPECT_THAT(one_line(*gone.fault), HasSubstr("the scale does not answer"));
  EXPECT_THAT(one_line(*gone.fault), HasSubstr(scale.path()));
  scale.plug();
  ASSERT_TRUE(comes([&] { return indicator.seen().connected; }));
  // What comes first may be the tail of a line: 9.345 was never on the scale.
  scale.send("9.345 kg\r\n");
  ASSERT_TRUE(comes([&] { return indicator.seen().line == "9.345 kg"; }));
  EXPECT_FALSE(indicator.seen().reading.has_value());
  ASSERT_TRUE(comes_while_sending(kStill, [&] { return indicator.seen().reading.has_value(); }));
  EXPECT_EQ(indicator.seen().reading->entered, "12.345");
}

TEST_F(AtThePort, APortThatIsNotThereIsSaidWithoutWaiting) {
  Indicator::Parts none = parts();
  none.port.path = scale.folder() + "/nothing";
  const auto start = Clock::now();
  const Indicator indicator(none);
  EXPECT_LT(Clock::now() - start,
            std::chrono::milliseconds(900));  // it is looked for again after a second
  EXPECT_TRUE(comes([&] { return indicator.seen().fault.has_value(); }));
  EXPECT_FALSE(indicator.seen().connected);
}

TEST_F(AtThePort, SilenceIsNoticed) {
  std::atomic<int> woken = 0;
  Indicator::Parts with = parts();
  with.wake = [&] { ++woken; };
  const Indicator indicator(with);
  ASSERT_TRUE(
      comes_while_sending(kStill, [&] { return indicator.seen().state == LoadState::kStill; }));
  const int before = woken;
  ASSERT_TRUE(comes([&] { return indicator.seen().state == LoadState::kSilent; }));
  EXPECT_TRUE(comes([&] { return woken > before; }));
}

TEST_F(AtThePort, OneLoadIsTakenOnceAndAShakingOneIsAveraged) {
  Indicator indicator(parts());
  ASSERT_TRUE(
      comes_while_sending(kStill, [&] { return indicator.seen().state == LoadState::kStill; }));
  indicator.taken();
  EXPECT_EQ(indicator.seen().state, LoadState::kNotLifted);
  ASSERT_TRUE(comes_while_sending("S G + 0.000 kg\r\n",
                                  [&] { return indicator.seen().state == LoadState::kEmpty; }));
  ASSERT_TRUE(comes_while_sending("D G + 10.000 kg\r\n",
                                  [&] { return indicator.seen().state == LoadState::kMoving; }));
  indicator.average(300);
  EXPECT_FALSE(indicator.average_end().has_value());
  std::optional<AverageEnd> end;
  ASSERT_TRUE(comes_while_sending("D G + 10.000 kg\r\nD G + 11.000 kg\r\n", [&] {
    end = indicator.average_end();
    return end.has_value();
  }));
  ASSERT_TRUE(end->mean);
  EXPECT_GE(end->mean->readings, 2U);
  EXPECT_EQ(end->mean->highest, "11.000");
  EXPECT_EQ(end->mean->load, Load::kGross);
  EXPECT_FALSE(indicator.average_end().has_value());
}

TEST_F(AtThePort, AveragingEndsWithoutAMeanWhereNothingComes) {
  Indicator indicator(parts());
  ASSERT_TRUE(comes([&] { return indicator.seen().connected; }));
  indicator.average(50);
  std::optional<AverageEnd> end;
  ASSERT_TRUE(comes([&] {
    end = indicator.average_end();
    return end.has_value();
  }));
  EXPECT_FALSE(end->mean);
  indicator.average(60'000);
  scale.unplug();
  ASSERT_TRUE(comes([&] {
    end = indicator.average_end();
    return end.has_value();
  })) << "an unplugged scale ends it at once";
  EXPECT_FALSE(end->mean);
}

// Ten lines a second for an hour, as fast as the line takes them, with a burst of noise in the
// middle: none is lost, and the noise is none.
TEST_F(AtThePort, AnHoursLinesAreReadEveryOne) {
  const Indicator indicator(parts());
  ASSERT_TRUE(comes([&] { return indicator.seen().connected; }));
  scale.send("\r\n");  // what comes first may be the tail of a line
  constexpr int kLines = 36'000;
  for (int n = 0; n < kLines; ++n) {
    if (n == kLines / 2) scale.send(std::string(64UL * 1024, '\x01') + "\r\n");
    const std::string number = std::to_string(1000 + n);
    scale.send("S G + " + number.substr(0, number.size() - 2) + "." +
               number.substr(number.size() - 2) + " kg\r\n");
  }
  EXPECT_TRUE(comes(
      [&] { return indicator.seen().reading && indicator.seen().reading->entered == "369.99"; }));
  EXPECT_EQ(indicator.readings(), kLines);
}

// An adapter that takes nothing: requests pile up until not one byte more fits.
TEST_F(AtThePort, WhereTheOtherEndTakesNothingNobodyWaits) {
  auto indicator = std::make_unique<Indicator>(parts(std::string(256UL * 1024, 'W')));
  EXPECT_TRUE(comes_while_sending(kStill, [&] {
    return indicator->seen().state == LoadState::kStill;
  })) << "lines are read all the same";
  std::atomic<bool> ended = false;
  std::thread ending([&] {
    indicator.reset();
    ended = true;
  });
  const auto start = Clock::now();
  while (!ended && Clock::now() - start < std::chrono::seconds(5))
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  EXPECT_TRUE(ended) << "another port can't be chosen, nor the program ended";
  scale.unplug();  // lets go of what still waits
  ending.join();
}

TEST(Ports, AreListedInOrder) {
  const FakeScale scale;
  EXPECT_THAT(list_ports(scale.folder()), ::testing::ElementsAre(scale.path()));
  EXPECT_THAT(list_ports(scale.folder() + "/none"), ::testing::IsEmpty());
}

}  // namespace
}  // namespace ligule::scale
