// What rules look at of a plot's season beside a weight at the desk: its last stand, the strip it
// was cut from, cuttings before. As app/flow/season.h does it on the tablet. For this room only.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "storage/checks/history.h"
#include "storage/checks/season_weight.h"
#include "storage/ledger/ledger.h"

namespace ligule::gather {

// Weights of one cutting, each held against the others.
class AmongOthers {
 public:
  AmongOthers(std::vector<checks::WeighedPlot> path, std::vector<std::string> numbers,
              checks::ExpectedInSeason expected);
  // Of all bags of a plot together, kilograms of forage; its own weight is not looked at.
  [[nodiscard]] std::optional<checks::ExpectedWeight> expected(const std::string& plot) const;

 private:
  std::vector<checks::WeighedPlot> path_;  // without weights
  std::map<std::string, std::size_t> places_;
  checks::ExpectedInSeason expected_;
};

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
  // What the plots let one expect of each other's bags on that day. forage: by plot, kilograms,
  // tares taken off, those of this cutting that are known; what is odd among all of them is left
  // out, since one slip must not make others look odd.
  [[nodiscard]] AmongOthers among_others(CalendarDate on,
                                         std::map<std::string, Kilograms> forage) const;

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
