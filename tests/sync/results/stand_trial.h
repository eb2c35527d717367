// A trial whose stands people rated over the years, for tests of what is left of them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {

// The weighed trial's plots 101 (A) 102 (B) / 201 (B) 202 (A), with passes of your own.
class StandTrial {
 public:
  StandTrial() {
    add_scale("percent_stand", ScaleKind::kPercent, Direction::kHighIsBest, "%");
    add_scale("frequency_grid", ScaleKind::kCells, Direction::kHighIsBest, "%");
    add_scale("grazing_preference", ScaleKind::kScore, Direction::kNone, "");
    add_scale("percent_removed", ScaleKind::kPercent, Direction::kNone, "%");
  }
  [[nodiscard]] TrialFacts& facts() { return trial_.facts(); }
  [[nodiscard]] const TrialFacts& facts() const { return trial_.facts(); }

  PlanOccasion& add_pass(const std::string& code, int year, const std::string& hours = {}) {
    PlanOccasion pass;
    pass.code = code;
    pass.year = year;
    pass.hours_after_turn_in = hours;
    return facts().plan.occasions.emplace_back(pass);
  }
  Record& rate(const std::string& plot, const std::string& pass, double value, CalendarDate on,
               const std::string& measure = "percent_stand") {
    Record& record = trial_.reading(trial_.plot(plot), measure, pass, value,
                                    facts().scales[measure].units.empty() ? "" : "%");
    record.definition = measure;
    record.at.local_date = on;
    return record;
  }
  // Of plots 101, 102, 201, 202; none where there is no value.
  void rate_all(const std::string& pass, const std::vector<std::optional<double>>& values,
                CalendarDate on, const std::string& measure = "percent_stand") {
    const std::vector<std::string> plots = {"101", "102", "201", "202"};
    for (std::size_t n = 0; n < values.size(); ++n)
      if (values[n]) rate(plots.at(n), pass, *values[n], on, measure);
  }
  void as_sown(const std::string& plot, AsSownStatus status, CalendarDate since,
               const std::string& entry = {}) {
    trial_.as_sown(plot, status, since, entry);
  }

 private:
  void add_scale(const std::string& code, ScaleKind kind, Direction direction,
                 const std::string& unit) {
    Scale& scale = facts().scales[code];
    scale.code = code;
    scale.kind = kind;
    scale.direction = direction;
    if (!unit.empty()) scale.units = {unit};
  }

  WeighedTrial trial_;
};

}  // namespace ligule::results
