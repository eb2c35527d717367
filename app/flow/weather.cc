#include "app/flow/weather.h"

#include <algorithm>
#include <set>
#include <string>
#include <utility>

#include "app/flow/bags.h"
#include "storage/checks/weather.h"

namespace ligule::flow {
namespace {

// The values of one measure in one occasion, one after the other, and what was said of the weather.
class Values {
 public:
  // own: it is about the plot that gets a value now.
  void add(const Cell& cell, bool own) {
    if (!cell.claim) return;
    const Record& record = cell.claim->record;
    hear(record);
    if (own || cell.open()) return;
    const bool asked = std::ranges::any_of(
        record.answers, [](const Answer& answer) { return checks::is_limit(answer.rule); });
    given_.emplace_back(record.at.utc, asked);
  }
  // What was said of the weather, with whatever measure: it is the whole occasion's.
  void hear(const Record& record) {
    const std::string_view said = checks::weather_in(record.answers);
    if (said.empty() || (!said_.empty() && record.at.utc <= said_at_)) return;
    said_ = said;
    said_at_ = record.at.utc;
  }
  void tell(checks::History& history) && {
    std::ranges::stable_sort(given_, std::ranges::greater(),
                             [](const auto& one) { return one.first; });
    given_.resize(std::min(given_.size(), std::size_t{checks::kPlotsLookedAt - 1}));
    history.limits_asked =
        static_cast<int>(std::ranges::count_if(given_, [](const auto& one) { return one.second; }));
    history.weather = said_;
  }

 private:
  std::vector<std::pair<UtcInstant, bool>> given_;  // when, and whether a limit asked
  std::string said_;
  UtcInstant said_at_{};
};

}  // namespace

void add_weather(const Model& model, const Book& book, const PlanPlot& plot,
                 std::string_view measure, checks::History& history) {
  Values values;
  for (const auto& [slot, claim] : book.kept) values.hear(claim.record);
  std::set<Slot> seen;  // a bag may be several plots'
  const auto own = slot_on(model, book, plot, measure);
  for (const PlanPlot& other : book.plots) {
    const auto slot = slot_on(model, book, other, measure);
    if (slot && seen.insert(*slot).second) values.add(cell_at(model, book, *slot), slot == own);
  }
  std::move(values).tell(history);
}

void add_weather(const Model& model, const std::vector<OpenBag>& bags, const OpenBag& bag, bool dry,
                 checks::History& history) {
  Values values;
  for (const OpenBag& other : bags) {
    if (other.occasion != bag.occasion) continue;
    values.add(dry ? dried_cell(model, other) : fresh_cell(model, other), other.bag == bag.bag);
  }
  std::move(values).tell(history);
}

}  // namespace ligule::flow
