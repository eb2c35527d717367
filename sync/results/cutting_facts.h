// What a reader asks of a test's cuttings besides their days: how high the bar was, how far the
// plants were at the first one of a year, and how much seed they came from.
#pragma once

#include <span>
#include <string>

#include "sync/results/test_facts.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// Stubble as the harvest runs state it, each height once; empty where none does.
[[nodiscard]] std::string stubble_told(const TrialFacts& trial);

// "2026: boot to anthers, mostly head out (12 of 48 plots), 20–21 May": the stages that plots were
// judged at while the first cutting that the plan has of the year was done, or at most a week
// before; years apart by "; ". Empty where none was judged then, or that cutting was not weighed.
// `passes` are those of the trial.
[[nodiscard]] std::string stage_at_first_cutting_told(const TrialFacts& trial,
                                                      std::span<const PassDays> passes);

// "14 lb/acre of pure live seed", "12 to 20 lb/acre ..., by entry"; empty where the plan states
// none.
[[nodiscard]] std::string sowing_rate_told(const Plan& plan);

}  // namespace ligule::results
