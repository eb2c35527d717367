// A season of three tablets, five trials and four cuttings, sealed in pieces that overlap, with a
// gap, a fork and two conflicts: what a desk gathers in every order.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include "tests/storage/ledger/sample.h"
#include "tests/storage/trial/sample_plan.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::desk {

inline constexpr int kTrials = 5;
inline constexpr int kCuttings = 4;

inline Plan season_plan(int trial) {
  Plan plan = two_block_plan({"ridge", "home", "TF" + std::to_string(trial)});
  const PlanOccasion cutting = plan.occasions[0];
  std::erase_if(plan.occasions, [](const PlanOccasion& each) { return each.job == Job::kHarvest; });
  for (int n = kCuttings; n >= 1; --n) {
    PlanOccasion each = cutting;
    each.code = "2026-cut-" + std::to_string(n);
    each.cutting = n;
    each.due.reset();
    plan.occasions.insert(plan.occasions.begin(), each);
  }
  std::ranges::sort(plan.occasions, {}, &PlanOccasion::code);
  return plan;
}

// One tablet: its stream, and what makes records of it.
class TabletOf {
 public:
  TabletOf(std::uint8_t key, const std::string& device) : season_(key), ids_(key * 100'000ULL) {
    season_.table.stream.device = device;
    // Begun anew under that name.
    season_.bodies.clear();
    season_.table.span.last = 0;
    Record first = season_.envelope(kind::kStream);
    first.id = {ledger::sample::id(++ids_)};
    first.details = details_text({{"device", device},
                                  {"public_key", seal::hex(season_.table.stream.public_key)},
                                  {"software", "ligule test"}});
    season_.add(first);
    for (int trial = 1; trial <= kTrials; ++trial)
      season_.take(ledger::sample::plan_record(++ids_, season_plan(trial)));
  }

  Record value(const Plan& plan, const PlanOccasion& occasion, const Uuid& subject,
               std::string_view measure, const std::string& entered, const std::string& unit) {
    Record record = ledger::sample::reading(++ids_, "101", measure, entered);
    record.trial = plan.id();
    record.plan = sha256(plan_text(plan)).hex();
    record.subject = subject;
    record.occasion = plan.occasion(occasion);
    record.unit = unit;
    if (measure == measure::kBagNumber) record.value.reset();
    season_.take(record);
    return record;
  }
  // A plot cut, with a sample of 1.1 lb in a bag of 0.1.
  void weigh(const Plan& plan, const PlanOccasion& cutting, const PlanPlot& plot,
             const std::string& pounds, bool dries) {
    const Uuid subject = plan.plot(plot).uuid;
    value(plan, cutting, subject, measure::kGrossWeight, pounds, "lb");
    const Record bag =
        value(plan, cutting, subject, measure::kBagNumber, std::to_string(++bags_), "");
    value(plan, cutting, bag.id.uuid, measure::kSampleFresh, "1.1", "lb");
    if (dries)
      value(plan, cutting, bag.id.uuid, measure::kSampleDry, "0.35", "lb");
    else
      undried_.push_back({plan, cutting, bag.id});
  }
  struct Undried {
    Plan plan;
    PlanOccasion cutting;
    RecordId bag;
  };
  [[nodiscard]] const std::vector<Undried>& undried() const { return undried_; }
  void correct(const Record& target, const std::string& entered) {
    season_.take(ledger::sample::correction(++ids_, target, entered));
  }
  void forget_last() {
    season_.bodies.pop_back();
    ledger::Span& span = season_.table.span;
    span.last = static_cast<std::int64_t>(season_.bodies.size());
    span.head = span.before;
    for (const std::string& body : season_.bodies) span.head = chained(span.head, body);
  }
  [[nodiscard]] seal::Season& season() { return season_; }

 private:
  seal::Season season_;
  std::uint64_t ids_;
  int bags_ = 0;
  std::vector<Undried> undried_;
};

inline std::string pounds(int trial, int cutting, std::size_t plot) {
  return std::to_string(20 + trial * 3 + cutting * 5 + static_cast<int>(plot) * 2) + "." +
         std::to_string((trial + cutting) % 10);
}

// A weighs the first block, B the second, C rates stands and dries what B brought in.
class SeasonOfThree {
 public:
  SeasonOfThree() {
    for (int trial = 1; trial <= kTrials; ++trial) rate(trial);
    for (int cutting = 1; cutting <= kCuttings; ++cutting) {
      for (int trial = 1; trial <= kTrials; ++trial) cut(trial, cutting);
      if (cutting == 2) end_of_june();
    }
    for (const TabletOf::Undried& bag : b_.undried())
      c_.value(bag.plan, bag.cutting, bag.bag.uuid, measure::kSampleDry, "0.33", "lb");
    // C's ledger was copied, and both went on from here.
    c_.season().add_note("weighed on the copy");
    const std::string copy = c_.season().sealed();
    c_.forget_last();
    c_.season().add_note("the oven was full");
    const std::int64_t overlap = ended_june_a_ - 40;
    const std::int64_t lost = ended_june_b_ + 25;
    files_ = {{"a-june", june_a_},         {"a-rest", a_.season().sealed_from(overlap)},
              {"b-june", june_b_},         {"b-rest", b_.season().sealed_from(lost + 1)},
              {"c", c_.season().sealed()}, {"c-copy", copy}};
    missing_ = b_.season().sealed();
    gap_ = "records " + std::to_string(ended_june_b_ + 1) + " to " + std::to_string(lost);
  }
  // Names and bytes. Of c and c-copy, the two branches of a fork, c is to be kept.
  [[nodiscard]] const std::vector<std::pair<std::string, std::string>>& files() const {
    return files_;
  }
  // The file that closes the gap.
  [[nodiscard]] const std::string& missing() const { return missing_; }
  [[nodiscard]] const std::string& gap() const { return gap_; }
  [[nodiscard]] std::vector<ledger::PublicKey> keys() {
    return {a_.season().key.public_key(), b_.season().key.public_key(),
            c_.season().key.public_key()};
  }

 private:
  void rate(int trial) {
    const Plan plan = season_plan(trial);
    const auto rating = std::ranges::find(plan.occasions, Job::kRate, &PlanOccasion::job);
    for (const PlanPlot& plot : plan.plots) {
      const Record stand =
          c_.value(plan, *rating, plan.plot(plot).uuid, "percent_stand", "85", "%");
      if (plot.number == "102") c_.correct(stand, "90");
      // Two plots are rated by A as well, and otherwise: the two conflicts.
      if ((trial == 1 && plot.number == "101") || (trial == 4 && plot.number == "202"))
        a_.value(plan, *rating, plan.plot(plot).uuid, "percent_stand", "70", "%");
    }
  }
  void cut(int trial, int cutting) {
    const Plan plan = season_plan(trial);
    const auto occasion = std::ranges::find_if(plan.occasions, [&](const PlanOccasion& each) {
      return each.job == Job::kHarvest && each.cutting == cutting;
    });
    for (std::size_t n = 0; n < plan.plots.size(); ++n) {
      const PlanPlot& plot = plan.plots[n];
      TabletOf& tablet = plot.block == 1 ? a_ : b_;
      tablet.weigh(plan, *occasion, plot, pounds(trial, cutting, n), plot.block == 1);
    }
  }
  void end_of_june() {
    june_a_ = a_.season().sealed();
    june_b_ = b_.season().sealed();
    ended_june_a_ = a_.season().table.span.last;
    ended_june_b_ = b_.season().table.span.last;
  }

  TabletOf a_{3, "North 1"}, b_{5, "North 2"}, c_{7, "Drying room"};
  std::string june_a_, june_b_, missing_, gap_;
  std::int64_t ended_june_a_ = 0, ended_june_b_ = 0;
  std::vector<std::pair<std::string, std::string>> files_;
};

// All 720 orders of the six files take minutes: LIGULE_ORDERS=720 (tests/run.sh full) tries them,
// else every sixteenth. Gives how far apart those lie that are tried.
inline int step_of_orders() {
  const char* const wish = std::getenv("LIGULE_ORDERS");  // NOLINT(concurrency-mt-unsafe)
  const int orders = wish == nullptr ? 45 : std::max(1, std::atoi(wish));
  return std::max(1, 720 / orders);
}

}  // namespace ligule::desk
