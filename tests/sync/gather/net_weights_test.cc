// Neighbours exchanged in a file of weights, and runs of plots that stand one place off.
#include "sync/gather/net_weights.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "storage/checks/lane_shift.h"

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

// Four blocks of twelve entries that lie up to 11 lb apart, plots of one up to 1 lb.
class ShiftedWeights : public ::testing::Test {
 protected:
  static constexpr std::size_t kEntries = 12;

  ShiftedWeights() {
    for (std::size_t at = 0; at < 4 * kEntries; ++at) {
      const std::size_t block = at / kEntries + 1;
      const std::size_t column = at % kEntries + 1;
      const std::size_t entry = (5 * column + 3 * block + column * block) % kEntries;
      PlanPlot plot;
      plot.number = std::to_string(100 * block + column);
      plot.block = plot.row = static_cast<int>(block);
      plot.column = static_cast<int>(column);
      plot.path = static_cast<int>(at + 1);
      plot.entry = "E" + std::to_string(entry);
      plan_.plots.push_back(plot);
      nets_.emplace_back(20 + static_cast<double>(entry * 7 % kEntries) +
                         std::sin(3.0 * static_cast<double>(at)));
    }
  }
  // From `first` on so many weights are those of the next plot; the last of them has none left.
  void pass_over(std::size_t first, std::size_t plots) {
    for (std::size_t at = first; at < first + plots; ++at) nets_[at] = nets_[at + 1];
    nets_[first + plots].reset();
  }
  // The other way round: the first of them has none.
  void count_twice(std::size_t first, std::size_t plots) {
    for (std::size_t at = first + plots; at > first; --at) nets_[at] = nets_[at - 1];
    nets_[first].reset();
  }
  std::vector<Error> found() const {
    NetWeights nets;
    for (std::size_t at = 0; at < nets_.size(); ++at) {
      if (!nets_[at]) continue;
      TakenValue value;
      value.measure = std::string(measure::kGrossWeight);
      value.value = {std::to_string(*nets_[at]), "lb", *nets_[at]};
      nets.add(plan_.plots[at].number, value);
    }
    return nets.shifted(plan_, cutting_, "w.csv");
  }
  // The only notice.
  std::string told() const {
    const auto notices = found();
    return notices.size() == 1 ? one_line(notices.front())
                               : std::to_string(notices.size()) + " notices";
  }
  double evidence() const {
    std::vector<checks::LanePlot> lane;
    for (std::size_t at = 0; at < nets_.size(); ++at)
      lane.push_back({plan_.plots[at].block, plan_.plots[at].entry, nets_[at]});
    const auto likeliest = checks::likeliest_lane_shift(lane);
    return likeliest ? likeliest->evidence : 0;
  }

  Plan plan_;
  PlanOccasion cutting_;
  std::vector<std::optional<double>> nets_;
};

TEST_F(ShiftedWeights, WeightsOfTheirOwnPlotsAreNotNamed) {
  EXPECT_THAT(found(), IsEmpty());
}

// Its ends are a plot or two uncertain (checks/lane_shift.h): it was 203 to 306.
TEST_F(ShiftedWeights, ARunThatFitsBetterOnePlotOnIsNamed) {
  pass_over(14, 16);
  EXPECT_EQ(told(),
            "w.csv: the weights of plots 205 to 306 fit better one plot further on along the path "
            "(was a plot passed over? Look at where they were written down first)");
}

TEST_F(ShiftedWeights, ARunThatFitsBetterOnePlotBackIsNamed) {
  count_twice(14, 16);
  EXPECT_EQ(told(),
            "w.csv: the weights of plots 204 to 307 fit better one plot back along the path (was a "
            "plot counted twice? Look at where they were written down first)");
}

// Proves: it tells where the tablet's rule does, and one plot less, which says too little, is let
// be.
TEST_F(ShiftedWeights, ItTellsFromTheTabletsEvidenceOn) {
  const std::vector<std::optional<double>> sound = nets_;
  std::size_t shortest = 0;
  for (std::size_t plots = 16; plots > 0; --plots) {
    nets_ = sound;
    pass_over(14, plots);
    if (found().empty()) break;
    EXPECT_GE(evidence(), checks::kLeastShiftEvidence) << plots;
    shortest = plots;
  }
  ASSERT_GT(shortest, 1U);
  EXPECT_LT(shortest, 16U);
  EXPECT_LT(evidence(), checks::kLeastShiftEvidence);
  EXPECT_GT(evidence(), 0) << "just not";
}

TEST_F(ShiftedWeights, PlotsThatTheCuttingDoesNotCutAreNoPartOfTheWay) {
  pass_over(14, 16);
  for (const char* const entry :
       {"E0", "E1", "E2", "E3", "E4", "E5", "E6", "E7", "E8", "E9", "E10", "E11"})
    cutting_.entries.emplace_back(entry);
  ASSERT_THAT(found(), SizeIs(1));
  // Borders between all plots, which nobody weighs.
  Plan bordered = plan_;
  bordered.plots.clear();
  for (const PlanPlot& plot : plan_.plots) {
    PlanPlot border = plot;
    border.number = "B" + plot.number;
    border.entry = "border";
    border.path = static_cast<int>(bordered.plots.size()) + 1;
    bordered.plots.push_back(border);
    bordered.plots.push_back(plot);
    bordered.plots.back().path = border.path + 1;
  }
  const auto before = found();
  plan_ = bordered;
  std::vector<std::optional<double>> nets;
  for (const auto& net : nets_) {
    nets.emplace_back();
    nets.push_back(net);
  }
  nets_ = nets;
  ASSERT_THAT(found(), SizeIs(1));
  EXPECT_EQ(one_line(found().front()), one_line(before.front()));
}

}  // namespace
}  // namespace ligule::gather
