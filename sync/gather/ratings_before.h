// What a plot was rated before, as the tablet holds a rating against it (app/flow/season.cc). For
// this room only.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "storage/checks/history.h"
#include "storage/ledger/ledger.h"

namespace ligule::gather {

class RatingsBefore {
 public:
  RatingsBefore() = default;
  // Of one rating, as of a day. The plan must outlive it. Errors: those of reading the ledger.
  static Result<RatingsBefore> read(const ledger::Ledger& ledger, const Plan& plan,
                                    const PlanOccasion& rating, CalendarDate on);

  // Adds it to the history of a value that was given to that plot on that day; the history's own
  // day becomes that one, since what was right then is judged as of then.
  void add(const PlanPlot& plot, const std::string& species, const Definitions& definitions,
           checks::History& history) const;
  // The newest statement of each plot up to that day.
  [[nodiscard]] const std::vector<AsSown>& as_sown() const { return as_sown_; }

 private:
  // A rating that still says something of the plot on that day.
  [[nodiscard]] std::optional<RatedBefore::Value> counting(
      const std::optional<RatedBefore::Value>& value, PlotId plot) const;

  const Plan* plan_ = nullptr;
  CalendarDate on_{};
  std::map<std::string, RatedBefore> before_;  // by plot
  std::vector<AsSown> as_sown_;
  std::optional<CalendarDate> last_cut_;  // cut, clipped, mown or grazed, up to that day
};

}  // namespace ligule::gather
