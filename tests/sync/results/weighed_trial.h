// A small trial with weights, built record by record, for tests of what the results make of them.
#pragma once

#include <gtest/gtest.h>

#include <string>

#include "storage/trial/as_sown.h"
#include "sync/results/trial_facts.h"
#include "sync/results/yields.h"

namespace ligule::results {

// Two entries in two blocks, plots 101 102 / 201 202, swath 20 ft x 3 ft, bag 0.05 kg, cut twice in
// 2026; one rating pass.
class WeighedTrial {
 public:
  WeighedTrial() {
    Plan& plan = facts_.plan;
    plan.codes = {"station", "hill", "fescue26"};
    plan.site_name = "Hill Farm";
    plan.design = "rcb";
    plan.swath_length = {"20", "ft"};
    plan.swath_width = {"3", "ft"};
    plan.bag_tare = {"0.05", "kg"};
    plan.entries = {entry("A", "Amber", Endophyte::kNovel),
                    entry("B", "Birch", Endophyte::kNotStated),
                    entry("C", "Cedar", Endophyte::kNotStated)};
    plan.plots = {{"101", 1, "A", 1, 1, 1},
                  {"102", 1, "B", 1, 2, 2},
                  {"201", 2, "B", 2, 1, 4},
                  {"202", 2, "A", 2, 2, 3}};
    plan.occasions = {occasion("cut-1", Job::kHarvest, 1), occasion("cut-2", Job::kHarvest, 2),
                      occasion("spring", Job::kRate, 0)};
  }

  [[nodiscard]] const TrialFacts& facts() const { return facts_; }
  [[nodiscard]] TrialFacts& facts() { return facts_; }

  [[nodiscard]] Uuid plot(const std::string& number) const {
    return plot_id(facts_.plan.id(), number).uuid;
  }
  [[nodiscard]] static CalendarDate day(unsigned month, unsigned of_month) {
    return date::year(2026) / date::month(month) / date::day(of_month);
  }

  // A reading that stands, about a subject, at an occasion named by its code.
  Record& reading(const Uuid& subject, std::string_view measure, const std::string& occasion,
                  double value, const std::string& unit) {
    Record record;
    record.id.uuid.bytes[15] = static_cast<std::uint8_t>(++records_ & 0xffU);
    record.id.uuid.bytes[14] = static_cast<std::uint8_t>(records_ >> 8U);
    record.kind = kind::kReading;
    record.subject = subject;
    record.measure = measure;
    for (const PlanOccasion& planned : facts_.plan.occasions) {
      if (planned.code == occasion) record.occasion = facts_.plan.occasion(planned);
    }
    record.purpose = Purpose::kSurvey;
    record.state = ValueState::kValue;
    record.entered = std::to_string(value);
    record.value = value;
    record.unit = unit;
    record.at.local_date = day(6, 1);
    facts_.claims.push_back({record, 0});
    return facts_.claims.back().record;
  }

  // Gross weight, sample bag with fresh and dried weight of one plot; returns the bag's id.
  RecordId weigh(const std::string& number, const std::string& occasion, double gross_lb,
                 double fresh_kg, double dry_kg) {
    reading(plot(number), measure::kGrossWeight, occasion, gross_lb, "lb");
    const RecordId bag = number_bag(number, occasion);
    reading(bag.uuid, measure::kSampleFresh, occasion, fresh_kg, "kg");
    reading(bag.uuid, measure::kSampleDry, occasion, dry_kg, "kg");
    return bag;
  }
  RecordId number_bag(const std::string& plot_number, const std::string& occasion, int part = 1) {
    Record& bag = reading(plot(plot_number), measure::kBagNumber, occasion, 0, "");
    bag.entered = "17";
    bag.value.reset();  // it is a text
    bag.part = part;
    facts_.bag_numbers.push_back(bag);
    return bag.id;
  }
  // Every plot alike: 13.8 lb gross on 60 ft2, a quarter of it dry matter.
  void weigh_all(const std::string& occasion) {
    for (const char* number : {"101", "102", "201", "202"}) {
      weigh(number, occasion, 13.8, 0.45, 0.15);
    }
  }

  // The standing claim of a measure about a plot; there must be exactly one.
  ledger::Claim& claim(const Uuid& subject, std::string_view measure) {
    for (ledger::Claim& claim : facts_.claims) {
      if (claim.record.subject == subject && claim.record.measure == measure) return claim;
    }
    return facts_.claims.front();
  }

  void as_sown(const std::string& number, AsSownStatus status, CalendarDate since,
               const std::string& entry = {}) {
    AsSown what{{plot(number)}, status, std::nullopt, since, "seen in the field"};
    if (!entry.empty()) what.holds = entry_id(facts_.plan.id(), entry);
    Record record;
    record.id.uuid.bytes[15] = static_cast<std::uint8_t>(++records_ & 0xffU);
    write_as_sown(what, record);
    facts_.as_sown.push_back(record);
  }

 private:
  static PlanEntry entry(const std::string& code, const std::string& variety, Endophyte endophyte) {
    PlanEntry entry;
    entry.code = code;
    entry.species = "tall_fescue";
    entry.variety = variety;
    entry.endophyte = endophyte;
    return entry;
  }
  static PlanOccasion occasion(const std::string& code, Job job, int cutting) {
    PlanOccasion occasion;
    occasion.code = code;
    occasion.job = job;
    occasion.year = 2026;
    occasion.cutting = cutting;
    return occasion;
  }

  TrialFacts facts_;
  unsigned records_ = 0;
};

// The yield of a plot at a cutting.
inline const PlotYield& row_of(const TrialYields& yields, const std::string& plot,
                               int cutting = 1) {
  for (const PlotYield& row : yields.plots) {
    if (row.plot == plot && row.cutting == cutting) return row;
  }
  ADD_FAILURE() << "no row of plot " << plot;
  return yields.plots.front();
}

}  // namespace ligule::results
