// Neighbours exchanged in a file of weights.
#include "sync/gather/net_weights.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

namespace ligule::gather {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

// Three blocks of four entries, 2 lb between blocks, a tare of 2 lb in every weight.
class NetWeightsTest : public ::testing::Test {
 protected:
  NetWeightsTest() {
    constexpr std::array<const char*, 4> kEntries{"A", "B", "C", "D"};
    constexpr std::array<double, 4> kNets{10, 17, 14, 11};
    int path = 0;
    for (int block = 1; block <= 3; ++block) {
      for (int column = 1; column <= 4; ++column) {
        // Another order in every block.
        const auto entry = static_cast<std::size_t>((column + block) % 4);
        PlanPlot plot;
        plot.number = std::to_string(100 * block + column);
        plot.block = plot.row = block;
        plot.column = column;
        plot.path = ++path;
        plot.entry = kEntries[entry];
        plan_.plots.push_back(plot);
        gross_[plot.number] = kNets[entry] + 2 * block + 2 + 0.1 * (column % 2);
      }
    }
  }
  std::vector<Error> found() const {
    NetWeights nets;
    const auto give = [&](const std::string& plot, std::string_view measure, double pounds) {
      TakenValue value;
      value.measure = std::string(measure);
      value.value = {std::to_string(pounds), "lb", pounds};
      nets.add(plot, value);
    };
    for (const auto& [plot, pounds] : gross_) {
      give(plot, measure::kGrossWeight, pounds);
      give(plot, measure::kTareWeight, 2);
    }
    return nets.exchanged(plan_, "w.csv");
  }

  Plan plan_;
  std::map<std::string, double> gross_;
};

TEST_F(NetWeightsTest, WeightsThatFitTheirPlotsAreNotNamed) {
  EXPECT_THAT(found(), IsEmpty());
}

TEST_F(NetWeightsTest, NeighboursThatWereExchangedAreNamed) {
  std::swap(gross_.at("202"), gross_.at("203"));
  const auto notices = found();
  ASSERT_THAT(notices, SizeIs(1));
  EXPECT_THAT(one_line(notices.front()), HasSubstr("plots 202 and 203 may be exchanged"));
}

TEST_F(NetWeightsTest, OneBadWeightIsNoExchange) {
  gross_.at("202") *= 2;
  EXPECT_THAT(found(), IsEmpty());
}

TEST_F(NetWeightsTest, WhatIsOnHoldOrNoWeightDoesNotCount) {
  NetWeights nets;
  TakenValue value;
  value.measure = std::string(measure::kGrossWeight);
  value.state = ValueState::kOnHold;
  value.value = {"30", "lb", 30.0};
  nets.add("101", value);
  value.measure = std::string(measure::kBagNumber);
  value.state = ValueState::kValue;
  nets.add("101", value);
  EXPECT_THAT(nets.exchanged(plan_, "w.csv"), IsEmpty());
}

}  // namespace
}  // namespace ligule::gather
