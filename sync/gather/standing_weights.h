// What a ledger holds of one cutting, as far as weights from a file are held against it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/trial/as_sown.h"
#include "storage/trial/plan.h"
#include "storage/trial/quantity.h"
#include "storage/trial/record.h"

namespace ligule::gather {

class StandingWeights {
 public:
  StandingWeights() = default;
  // Ledger and plan must outlive it. Errors: those of reading the ledger.
  static Result<StandingWeights> read(const ledger::Ledger& ledger, const Plan& plan,
                                      const PlanOccasion& cutting);

  // Claims that stand about a plot or a bag: one, or several that were not settled.
  [[nodiscard]] const std::vector<Record>& of(const Uuid& subject, std::string_view measure,
                                              int part) const;
  // Nothing also where several stand.
  [[nodiscard]] std::optional<Kilograms> mass(const Uuid& subject, std::string_view measure,
                                              int part) const;
  // Parts of a plot (its bags) of which a measure stands, in order.
  [[nodiscard]] std::vector<int> parts(const Uuid& subject, std::string_view measure) const;
  // Kilograms in all bags of each plot that was weighed, tares taken off.
  [[nodiscard]] std::map<std::string, Kilograms> forage() const;
  // What was said of the weather last, for the whole occasion (checks/weather.h); empty: nothing.
  [[nodiscard]] std::string weather() const;
  // The newest tare of the cutting that nobody questioned, said of no kind of bag, as a file says
  // none; not that of the plot's own part. Null: there is none.
  [[nodiscard]] const Record* tare(const Uuid& plot, int part) const;
  // Of every trial on the ledger.
  [[nodiscard]] const std::vector<Record>& open_bags() const { return open_bags_; }
  // Of whoever gave a record; empty where nobody did.
  [[nodiscard]] std::string initials(const Record& record) const;

  // The bag that a standing number names: the reading that gave it its number first.
  [[nodiscard]] Result<RecordId> bag_of(const Record& number) const;
  // Whether the samples of two plots go into one bag, by the plan.
  [[nodiscard]] bool share_a_bag(const PlanPlot& a, const PlanPlot& b) const;
  // The bag of that number and day that another plot was given, where this one can be in it.
  [[nodiscard]] Result<std::optional<RecordId>> shared_bag(const PlanPlot& plot,
                                                           const std::string& number,
                                                           CalendarDate day) const;

 private:
  [[nodiscard]] Result<RecordId> first_of(Record record) const;
  // What a plot holds, as far as anybody knows; empty: nobody does.
  [[nodiscard]] std::string entry_in(const PlanPlot& plot) const;

  const ledger::Ledger* ledger_ = nullptr;
  const Plan* plan_ = nullptr;
  SampleOf sample_of_ = SampleOf::kPlot;
  std::map<std::tuple<Uuid, std::string, int>, std::vector<Record>> claims_;
  std::vector<Record> open_bags_;
  std::vector<AsSown> as_sown_;
  std::map<PersonId, std::string> initials_;
};

}  // namespace ligule::gather
