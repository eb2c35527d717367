// What a reader must know of a test before its numbers: where and how it was sown, what was done to
// it, when it was cut, and how much of what the tables show was weighed, by whom and with what.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "storage/trial/scale.h"
#include "sync/results/entry_standing.h"
#include "sync/results/printed_name.h"
#include "sync/results/trial_facts.h"
#include "sync/results/yields.h"

namespace ligule::results {

struct Fact {
  std::string name;   // "Sown"
  std::string value;  // "2024-08-21, drilled in rows"

  bool operator==(const Fact&) const = default;
};

// When a pass of the plan was done.
struct PassDays {
  std::string code;  // of the occasion
  Job job = Job::kRate;
  int year = 0;
  int cutting = 0;
  CalendarDate first{}, last{};  // of what counts, by the wall
};

struct TestFacts {
  std::string test;
  std::string title = {}, site = {}, field = {};  // as the plan has them; may be empty
  std::vector<std::string> species = {};          // English trade names of its entries
  std::optional<CalendarDate> sown = {};
  // The first planned pass of which nothing is recorded, behind all that were; empty: nothing more
  // is planned.
  std::optional<CalendarDate> next_due = {};
  std::vector<Fact> facts = {};
  std::vector<PassDays> passes = {};  // by day
};

// Of the passes of a trial with a survey value: a rating by all its measures, a cutting by its
// weighing (samples are dried days later).
[[nodiscard]] std::vector<PassDays> pass_days(const TrialFacts& trial);

// `yields` are those of the trial, as they are analysed; `test` is what results call it. What the
// plan or the events don't say is told as such where growers ask for it.
[[nodiscard]] TestFacts test_facts(const TrialFacts& trial, const std::string& test,
                                   std::span<const PlotYield> yields,
                                   const Definitions& definitions);

// Of every entry of the plan but fillers and withheld ones, in the order of standing_before().
[[nodiscard]] std::vector<EntryStanding> entry_standings(const TrialFacts& trial,
                                                         const std::string& test,
                                                         const PrintedName& printed = {});

}  // namespace ligule::results
