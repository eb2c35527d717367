#include "tests/bench/filled_ledger.h"

#include <vector>

#include "storage/files/file_system.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"
#include "sync/seal/begin.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::bench {
namespace {

constexpr int kEntries = 24;
constexpr int kBlocks = 4;
constexpr int kRatings = 40;
const std::vector<std::string> rated_measures{"percent_stand", "seedling_vigor", "lodging"};

ledger::Ledger begun(const std::string& path) {
  auto ledger = ledger::sample::need(ledger::Ledger::create(path));
  const auto files = files::real_file_system();
  ledger::sample::need(seal::begin_stream(
      ledger, *files, {"field tablet", "ligule bench", ledger::sample::at(0), true}));
  return ledger;
}

}  // namespace

Plan plan_of(int number) {
  Plan plan;
  plan.codes = {"north", "home", "TF" + std::to_string(number)};
  plan.title = "A trial";
  plan.site_name = "Home";
  plan.zone = "America/New_York";
  plan.field = "Field " + std::to_string(number);
  plan.sown = date::year{2024} / 9 / 10;
  plan.design = "rcb";
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"5", "ft"};
  plan.swath_length = {"20", "ft"};
  plan.swath_width = {"3", "ft"};
  for (int entry = 1; entry <= kEntries; ++entry) {
    PlanEntry made;
    made.code = "E" + std::to_string(entry);
    made.species = "tall_fescue";
    made.variety = "Ridge " + std::to_string(entry);
    plan.entries.push_back(made);
  }
  for (int block = 1; block <= kBlocks; ++block)
    for (int place = 1; place <= kEntries; ++place) {
      const int entry = (place * 7 + block * 5) % kEntries + 1;
      plan.plots.push_back({std::to_string(block * 100 + place), block, "E" + std::to_string(entry),
                            block, place, (block - 1) * kEntries + place});
    }
  for (int rating = 1; rating <= kRatings; ++rating) {
    PlanOccasion occasion;
    occasion.code = "look" + std::to_string(rating);
    occasion.year = 2026;
    occasion.measures = rated_measures;
    plan.occasions.push_back(std::move(occasion));
  }
  for (int cutting = 1; cutting <= 2; ++cutting) {
    PlanOccasion occasion;
    occasion.code = "cut" + std::to_string(cutting);
    occasion.job = Job::kHarvest;
    occasion.year = 2026;
    occasion.cutting = cutting;
    occasion.measures = {"gross_weight"};
    plan.occasions.push_back(std::move(occasion));
  }
  return plan;
}

std::string pounds(const PlanPlot& plot) {
  const int entry = std::stoi(plot.entry.substr(1));
  return format_fixed(30 + (entry * 13 % 17) * 0.9 + plot.block * 1.3 + plot.column * 0.1, 1);
}

FilledLedger::FilledLedger(const std::string& path, int records) : ledger_(begun(path)) {
  for (int trial = 1; written_ < records; ++trial) {
    const Plan plan = plan_of(trial);
    ledger::sample::need(ledger_.append({ledger::sample::plan_record(next_++, plan)}));
    fill(plan, records);
    trials_ = trial;
  }
}

Record FilledLedger::reading(const Plan& plan, const std::string& digest,
                             const PlanOccasion& occasion, const PlanPlot& plot,
                             const std::string& measure, const std::string& entered) {
  Record record = ledger::sample::reading(next_++, plot.number, measure, entered);
  record.trial = plan.id();
  record.plan = digest;
  record.subject = plan.plot(plot).uuid;
  record.occasion = plan.occasion(occasion);
  if (measure == measure::kGrossWeight) record.unit = "lb";
  return record;
}

void FilledLedger::fill(const Plan& plan, int records) {
  const std::string digest = sha256(plan_text(plan)).hex();
  for (const PlanOccasion& occasion : plan.occasions) {
    if (&occasion == &open_rating(plan) || &occasion == &open_cutting(plan)) continue;
    if (written_ >= records) return;
    std::vector<Record> batch;
    batch.reserve(plan.plots.size() * occasion.measures.size());
    for (const PlanPlot& plot : plan.plots)
      for (const std::string& measure : occasion.measures)
        batch.push_back(reading(plan, digest, occasion, plot, measure,
                                occasion.job == Job::kHarvest ? pounds(plot)
                                : measure == "percent_stand"  ? std::to_string(60 + plot.column)
                                                              : "4"));
    written_ += static_cast<int>(batch.size());
    ledger::sample::need(ledger_.append(std::move(batch)));
  }
}

}  // namespace ligule::bench
