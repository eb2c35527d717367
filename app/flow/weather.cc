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
  void add(const KnownClaim* claim, bool own) {
    if (claim == nullptr) return;
    const Record& record = claim->record;
    heard_.hear(record);
    if (own || is_to_come(record)) return;
    const bool asked = std::ranges::any_of(
        record.answers, [](const Answer& answer) { return checks::is_limit(answer.rule); });
    given_.emplace_back(record.at.utc, asked);
  }
  // Said with whatever measure: it is the whole occasion's.
  void hear(const Record& record) { heard_.hear(record); }
  void tell(checks::History& history) && {
    std::ranges::stable_sort(given_, std::ranges::greater(),
                             [](const auto& one) { return one.first; });
    given_.resize(std::min(given_.size(), std::size_t{checks::kPlotsLookedAt - 1}));
    history.limits_asked =
        static_cast<int>(std::ranges::count_if(given_, [](const auto& one) { return one.second; }));
    history.weather = heard_.said();
  }

 private:
  std::vector<std::pair<UtcInstant, bool>> given_;  // when, and whether a limit asked
  checks::WeatherHeard heard_;
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
    if (!slot || !seen.insert(*slot).second) continue;
    std::optional<KnownClaim> under_way;
    values.add(claim_at(model, book, *slot, under_way), slot == own);
  }
  std::move(values).tell(history);
}

void add_weather(const Model& model, const std::vector<OpenBag>& bags, const OpenBag& bag, bool dry,
                 checks::History& history) {
  Values values;
  for (const OpenBag& other : bags) {
    if (other.occasion != bag.occasion) continue;
    const Cell cell = dry ? dried_cell(model, other) : fresh_cell(model, other);
    values.add(cell.claim ? &*cell.claim : nullptr, other.bag == bag.bag);
  }
  std::move(values).tell(history);
  // What was said since they were loaded is newer than what their cutting said before.
  if (history.weather.empty()) history.weather = bag.weather;
}

}  // namespace ligule::flow
