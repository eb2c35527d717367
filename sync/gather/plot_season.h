// What rules look at of a plot's season beside a weight at the desk: its last stand, the strip it
// was cut from, cuttings before. As app/flow/season.h does it on the tablet. For this room only.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "storage/checks/history.h"
#include "storage/ledger/ledger.h"

namespace ligule::gather {

class PlotSeason {
 public:
  PlotSeason() = default;
  // Of one cutting. The plan must outlive it. Errors: those of reading the ledger.
  static Result<PlotSeason> read(const ledger::Ledger& ledger, const Plan& plan,
                                 const PlanOccasion& cutting);

  // Adds what is known to the history of a weight of that plot, weighed on that day; `history` says
  // what day it is. The definitions must outlive the history.
  void add(const PlanPlot& plot, CalendarDate on, const Definitions& definitions,
           checks::History& history) const;
  // What the other plots let one expect of all bags of a plot cut on that day, kilograms of forage.
  // forage: by plot, tares taken off, those of this cutting that are known; its own does not count.
  [[nodiscard]] std::optional<checks::ExpectedWeight> expected(
      const PlanPlot& plot, CalendarDate on, const std::map<std::string, Kilograms>& forage) const;

 private:
  struct Stand {
    double percent = 0;
    Stamp at;
  };
  // The newest rating of the year up to that day, unless something was sown or found out since.
  [[nodiscard]] std::optional<double> stand_on(const PlanPlot& plot, CalendarDate on) const;
  [[nodiscard]] std::optional<CalendarDate> last_cut(CalendarDate on) const;
  // One side of the strip: as it was measured at this plot, else the plan's.
  [[nodiscard]] std::optional<Metres> side(const PlanPlot& plot, const std::string& measure,
                                           const StatedLength& planned) const;

  const Plan* plan_ = nullptr;
  std::map<std::string, std::vector<Stand>> stands_;                      // by plot
  std::map<std::pair<Uuid, std::string>, std::vector<Metres>> measured_;  // sides, what stands
  std::vector<AsSown> as_sown_;
  std::vector<CalendarDate> begun_;                     // days of runs of this cutting
  std::vector<CalendarDate> cut_;                       // of all others of the trial
  std::vector<std::map<std::string, double>> earlier_;  // earlier_cuttings.h
};

}  // namespace ligule::gather
