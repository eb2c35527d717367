// A tablet on the Trials screen.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "app/flow/trials.h"
#include "storage/trial/details.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {

class OnTrials : public ::testing::Test {
 protected:
  OnTrials() {
    tablet.tap(ShowTrials{});
    tablet.settle();
  }
  void open(const Plan& plan = grass_plan()) {
    tablet.tap(ShowTrial{plan.id()});
    tablet.settle();
  }
  template <class Page>
  Page page() {
    const View view = view_of(tablet.model);
    const auto* const trials = std::get_if<TrialsView>(&view);
    const auto* const found = trials == nullptr ? nullptr : std::get_if<Page>(&trials->page);
    if (found == nullptr) ADD_FAILURE() << "another page";
    return found == nullptr ? Page{} : *found;
  }
  TrialPageView tab(TrialTab tab) {
    tablet.tap(ShowTrialTab{tab});
    return page<TrialPageView>();
  }
  // Persons and occasions of the records that say names were shown.
  std::vector<std::pair<PersonId, std::string>> shown() {
    std::vector<std::pair<PersonId, std::string>> to;
    for (const Record& record : tablet.ledger) {
      if (record.entered != "names_shown") continue;
      to.emplace_back(*record.person, parse_details(record.details)->at("occasion"));
    }
    return to;
  }
  static std::string occasion(std::size_t n) {
    return grass_plan().occasion(grass_plan().occasions[n]).text();
  }
  // A year in which nothing of the plans is due any more.
  void later_year() {
    Tablet next(date::year{2027} / date::month{5} / date::day{4});
    std::swap(tablet, next);
    tablet.tap(ShowTrials{});
    tablet.settle();
  }
  [[nodiscard]] const Record& last() const { return tablet.ledger.back(); }

  Tablet tablet;
};

}  // namespace ligule::flow
