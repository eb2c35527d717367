// A tablet whose values are to be slid: what the tests of Slide share.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "storage/trial/composition.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {

// What stands in an occasion by plot, measure and part, a bag's values under its plot: read from
// the records alone, as the desk would.
using Standing = std::map<std::tuple<std::string, std::string, int>, std::string>;

inline std::string said(const Record& record) {
  return std::string(name_of(*record.state)) + " " + record.entered + record.unit;
}

class SlideFixture : public ::testing::Test {
 protected:
  static OccasionId occasion(std::string_view code) {
    const Plan plan = grass_plan();
    return plan.occasion(*std::ranges::find(plan.occasions, code, &PlanOccasion::code));
  }
  void review(std::string_view code) {
    tablet.look_over(grass_plan(), code);
    tablet.tap(ShowSlide{});
  }
  SlideView view() const { return std::get<SlideView>(tablet.review().page); }
  const Book& book() const { return std::get<Review>(tablet.model.screen).book; }
  void ask(const std::string& from, const std::string& to, int by) {
    if (view().choosing_to) tablet.tap(ChooseSlideEnd{false});
    tablet.tap(ChooseSlidePlot{from});
    tablet.tap(ChooseSlideEnd{true});
    tablet.tap(ChooseSlidePlot{to});
    const int more = by - view().by;
    for (int n = 0; n < std::abs(more); ++n) tablet.tap(SlideBy{more > 0 ? 1 : -1});
  }
  void slide(const std::string& from, const std::string& to, int by) {
    ask(from, to, by);
    tablet.tap(DoSlide{});
    tablet.settle();
  }
  Standing standing(std::string_view code) const {
    const Plan plan = grass_plan();
    const auto claims = tablet.claims(occasion(code));
    std::map<Uuid, std::string> plots;
    std::map<Uuid, std::string> parts;  // before the measure of a value in a part's bag
    for (const KnownClaim& claim : claims) {
      if (!numbers_a_bag(claim.record.measure)) continue;
      plots[claim.first.uuid] = plan.find_plot(PlotId{*claim.record.subject})->number;
      if (claim.record.measure == measure::kPartBag)
        parts[claim.first.uuid] = "part" + std::to_string(claim.record.part) + "/";
    }
    Standing found;
    for (const KnownClaim& claim : claims) {
      const Record& record = claim.record;
      const PlanPlot* const plot = plan.find_plot(PlotId{*record.subject});
      const std::string number = plot != nullptr ? plot->number : plots.at(*record.subject);
      const auto part = parts.find(*record.subject);
      const std::string measure = (part == parts.end() ? "" : part->second) + record.measure;
      const auto added = found.emplace(std::tuple(number, measure, record.part), said(record));
      EXPECT_TRUE(added.second) << "two values stand on " << number << " " << record.measure;
    }
    return found;
  }
  // Stand of the plots 101 to 203 in the rating that asks for nothing else.
  void rate(const std::vector<std::string>& values) {
    tablet.open(grass_plan(), "late");
    const std::vector<std::string> plots{"101", "102", "103", "201", "202", "203"};
    for (std::size_t n = 0; n < values.size(); ++n) {
      if (values[n].empty()) continue;
      tablet.tap(GoToPlot{plots[n]});
      if (values[n] == "later")
        tablet.tap(PutOff{});
      else
        tablet.choose("percent_stand", values[n]);
      if (tablet.question() == "check.stand_rose") tablet.answer("measured_so");
      tablet.settle();
    }
  }
  std::string stand(const std::string& plot) const {
    const auto all = standing("late");
    const auto at = all.find({plot, "percent_stand", 1});
    return at == all.end() ? "" : at->second;
  }
  std::vector<Record> new_records(std::size_t since) const {
    return {tablet.ledger.begin() + static_cast<std::ptrdiff_t>(since), tablet.ledger.end()};
  }

  Tablet tablet;
};

}  // namespace ligule::flow
