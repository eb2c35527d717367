// A trial that people rated one after the other, for tests of what the results say of them.
#pragma once

#include <string>
#include <vector>

#include "storage/trial/details.h"
#include "sync/results/raters.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {

// Plots 1 to n by blocks of `per_block`, entries A B C in turn; rated on a score of 1 to 10 unless
// another scale is put in.
class RatedTrial {
 public:
  RatedTrial(int plots, int per_block) {
    Plan& plan = trial_.facts().plan;
    plan.plots.clear();
    for (int n = 1; n <= plots; ++n)
      plan.plots.push_back({std::to_string(n), 1 + (n - 1) / per_block,
                            plan.entries[static_cast<std::size_t>(n % 3)].code, 1, n, n});
    Scale scale;
    scale.code = "vigor";
    scale.kind = ScaleKind::kScore;
    for (int step = 1; step <= 10; ++step)
      scale.steps.push_back({std::to_string(step), static_cast<double>(step), ""});
    trial_.facts().scales["vigor"] = scale;
    Scale percent;
    percent.code = "percent_stand";
    percent.kind = ScaleKind::kPercent;
    percent.units = {"%"};
    percent.minimum = 0;
    percent.maximum = 100;
    percent.step = 5;
    trial_.facts().scales["percent_stand"] = percent;
    for (const char* initials : {"AB", "CD", "EF"}) people_[person_id(initials)] = initials;
  }

  [[nodiscard]] TrialFacts& facts() { return trial_.facts(); }
  [[nodiscard]] Uuid plot(int number) const { return trial_.plot(std::to_string(number)); }

  Record& rate(int plot_number, Purpose purpose, const std::string& initials, double value,
               const std::string& measure = "vigor") {
    return rate_subject(plot(plot_number), purpose, initials, value, measure);
  }
  // One value a plot, from plot 1 on.
  void rate_all(Purpose purpose, const std::string& initials, const std::vector<double>& values,
                const std::string& measure = "vigor") {
    int number = 0;
    for (const double value : values) rate(++number, purpose, initials, value, measure);
  }
  // A drawn stand of the set that `set` numbers.
  Record& practise(std::uint8_t set, int part, const std::string& initials, int drawn,
                   double given) {
    Uuid subject;
    subject.bytes[0] = set;
    Record& record = rate_subject(subject, Purpose::kPractice, initials, given, "percent_stand");
    record.part = part;
    record.details = details_text({{"drawn", std::to_string(drawn)}, {"sowing", "drilled"}});
    return record;
  }
  [[nodiscard]] RaterFigures figures() const { return raters_of(trial_.facts(), "T", people_); }

 private:
  Record& rate_subject(const Uuid& subject, Purpose purpose, const std::string& initials,
                       double value, const std::string& measure) {
    Record& record = trial_.reading(subject, measure, "spring", value, "");
    record.purpose = purpose;
    record.person = person_id(initials);
    record.definition = measure;
    return record;
  }

  WeighedTrial trial_;
  People people_;
};

}  // namespace ligule::results
