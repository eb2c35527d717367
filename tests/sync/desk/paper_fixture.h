// A desk's ledger with a trial that is rated in every way a sheet can hold, and what is typed.
#pragma once

#include <utility>

#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {

// Two entries of tall fescue in two blocks, sown in the spring of 2024 and rated in 2025.
inline Plan paper_plan() {
  using date::year;
  Plan plan = two_block_plan({"ridge", "north", "PS24"});
  plan.sown = year{2024} / 4 / 10;
  plan.occasions = {
      {"2025-april", Job::kRate, 2025, 0, {"percent_stand", "maturity"}, year{2025} / 4 / 2},
      {"2025-cut-1", Job::kHarvest, 2025, 1, {"gross_weight", "bag_number"}, year{2025} / 6 / 3},
      {"2025-frame", Job::kRate, 2025, 0, {"frequency_grid", "stage_counts"}, std::nullopt},
      {"2025-heading", Job::kRate, 2025, 0, {"heading_date"}, std::nullopt},
      {"2025-may",
       Job::kRate,
       2025,
       0,
       {"note", "percent_stand", "maturity", "plant_height_canopy", "ground_cover"},
       year{2025} / 5 / 20},
      {"2025-stubble", Job::kRate, 2025, 0, {"stubble_height"}, std::nullopt}};
  return plan;
}

class PaperCommand : public TakeInCommand {
 protected:
  PaperCommand() { enrol(paper_plan(), {}); }

  // Options of one run: those given stand for the usual ones, an empty value leaves one out.
  Ran from_paper(const std::map<std::string, std::string>& given = {},
                 const std::vector<std::string>& more = {}, const std::string& typed = {}) {
    std::map<std::string, std::string> options{{"--ledger", ledger_},
                                               {"--trial", "PS24"},
                                               {"--rating", "2025-april"},
                                               {"--rater", "KV"},
                                               {"--date", "2025-04-03"}};
    for (const auto& [name, value] : given) options[name] = value;
    std::vector<std::string> arguments{"from-paper"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    for (const auto& [name, value] : options) {
      if (value.empty()) continue;
      arguments.push_back(name);
      arguments.push_back(value);
    }
    std::istringstream in(typed);
    std::ostringstream out, err;
    const int exit = run(arguments, out, err, *files_, in);
    return {exit, out.str(), err.str()};
  }
  Ran from_table(const std::string& csv, const std::map<std::string, std::string>& given = {},
                 std::vector<std::string> more = {}) {
    more.insert(more.begin(), write(csv, "sheet.csv"));
    return from_paper(given, more);
  }

  static TrialId paper_trial() { return trial_id({"ridge", "north", "PS24"}); }
  static OccasionId occasion(const std::string& code) {
    const Plan plan = paper_plan();
    for (const PlanOccasion& each : plan.occasions)
      if (each.code == code) return plan.occasion(each);
    return {};
  }
  // What stands for a plot, "85 %", parts of an act one after the other.
  std::vector<std::string> values(const std::string& rating, const std::string& plot,
                                  std::string_view measure) {
    std::vector<std::string> found;
    const auto claims = opened().claims(paper_trial(), occasion(rating)).value();
    for (const ledger::Claim& claim : claims) {
      const Record& record = claim.record;
      if (record.subject != plot_id(paper_trial(), plot).uuid || record.measure != measure)
        continue;
      found.push_back(record.entered + (record.unit.empty() ? "" : " " + record.unit));
    }
    return found;
  }
  std::vector<Record> records(const std::string& rating) {
    std::vector<Record> found;
    const auto claims = opened().claims(paper_trial(), occasion(rating)).value();
    found.reserve(claims.size());
    for (const ledger::Claim& claim : claims) found.push_back(claim.record);
    return found;
  }
  // A value as a tablet would have given it, or what else somebody said.
  RecordId tablet_says(const std::string& rating, const std::string& plot,
                       const std::string& measure, ValueState state, const std::string& entered,
                       std::optional<double> value, const std::string& on = "2025-04-02") {
    Record record = said_on(kind::kReading, on);
    record.subject = plot_id(paper_trial(), plot).uuid;
    record.measure = measure;
    record.occasion = occasion(rating);
    record.purpose = Purpose::kSurvey;
    record.state = state;
    record.entered = entered;
    record.value = value;
    record.source = Source::kTapped;
    const auto definitions = files::load_definitions(*files_, files::find_assets(*files_).value());
    const Scale* const scale = definitions.value().scale_for(measure, "tall_fescue");
    record.definition = sha256(scale_text(*scale)).hex();
    if (!entered.empty() && !scale->units.empty()) record.unit = scale->units.front();
    return keep(std::move(record));
  }
  Record said_on(std::string_view kind, const std::string& on) {
    Record record;
    record.id = RecordId{ledger::sample::id(++next_id_)};
    record.kind = kind;
    const auto day = date::sys_days(parse_date(on).value());
    record.at = stamp_at(UtcInstant(day) + std::chrono::hours(14), std::chrono::hours(-4));
    record.person = person_id("AB");
    record.trial = paper_trial();
    record.plan = opened().plan(paper_trial()).value().digest;
    return record;
  }
  RecordId keep(Record record) {
    const RecordId id = record.id;
    auto ledger = opened();
    const auto kept = ledger.append({std::move(record)});
    EXPECT_TRUE(kept) << kept.error().what;
    return id;
  }

  std::uint64_t next_id_ = 7000;
};

}  // namespace ligule::desk
