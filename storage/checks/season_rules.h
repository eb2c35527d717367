// Rules that hold a value against what is usual of its species and against the plot's own season.
// Used by rules.cc; whoever judges a value goes through judge().
#pragma once

#include <chrono>

#include "storage/checks/rules.h"

namespace ligule::checks {

// A stand that is rated so many points better than before asks: plants do not come back within a
// season (common practice, no source).
inline constexpr double kMostRise = 20;
// Days between two cuttings of a trial: fewer ask (common practice, no source).
inline constexpr int kLeastDaysBetweenCuts = 20;
// So far a clock may be put right from time to time without anybody being asked (common practice,
// no source).
inline constexpr std::chrono::minutes kClockPutRight{2};

// Every function: the arguments of the rule's text, empty where it has nothing to say.

// Arguments: what was entered with its unit; the lower end; the upper end with its unit.
std::optional<std::vector<std::string>> out_of_limits(const Candidate& candidate,
                                                      const Result<EnteredValue>& value,
                                                      const Plan& plan, const History& history);
// Arguments as above. Of too low a stubble another rule says why.
std::optional<std::vector<std::string>> unusual(const Candidate& candidate,
                                                const Result<EnteredValue>& value, const Plan& plan,
                                                const History& history);
// No arguments: people rate without knowing what others saw. Not in the year of sowing, when plants
// still come up, nor in the year after one that was sown after midsummer.
std::optional<std::vector<std::string>> stand_rose(const Candidate& candidate,
                                                   const Result<EnteredValue>& value,
                                                   const Plan& plan, const History& history);
// No arguments.
std::optional<std::vector<std::string>> stage_went_back(const Candidate& candidate,
                                                        const Result<EnteredValue>& value,
                                                        const Plan& plan, const History& history);
// No arguments.
std::optional<std::vector<std::string>> weight_without_stand(const Candidate& candidate,
                                                             const Result<EnteredValue>& value,
                                                             const Plan& plan,
                                                             const History& history);
// What all bags of the plot hold, a weight that no dry matter makes a usual yield of: not the
// wettest where it is heavy, not the driest where it is light. With both weights of the sample its
// own dry matter counts. Arguments: the nearest yield it may be and the two ends, in ton/acre.
std::optional<std::vector<std::string>> yield_unusual(const Candidate& candidate,
                                                      const Result<EnteredValue>& value,
                                                      const Plan& plan, const History& history);
// What all bags of the plot hold lies outside of what the other plots let one expect there
// (expected_weight.h, season_weight.h). No arguments: whoever reads the scale again must not know
// what is expected.
std::optional<std::vector<std::string>> weight_unexpected(const Candidate& candidate,
                                                          const Result<EnteredValue>& value,
                                                          const Plan& plan, const History& history);
// What was cut there this year, this weight and the plot's other bags included, is more than a
// season gives even with the wettest forage. Arguments: the least it may be, the upper end, in
// ton/acre.
std::optional<std::vector<std::string>> season_yield_unusual(const Candidate& candidate,
                                                             const Result<EnteredValue>& value,
                                                             const Plan& plan,
                                                             const History& history);
// The tablet's clock stands before the time of what it kept last. Arguments: date and hour of that
// record, date and hour now.
std::optional<std::vector<std::string>> clock_went_back(const Candidate& candidate,
                                                        const Result<EnteredValue>& value,
                                                        const Plan& plan, const History& history);
// Arguments: days since the last cutting.
std::optional<std::vector<std::string>> cut_again_soon(const Candidate& candidate,
                                                       const Result<EnteredValue>& value,
                                                       const Plan& plan, const History& history);

// A tare changes what a plot gave: what was asked of that with its gross weight, by these answers,
// is not asked again.
void without_what_was_asked(const std::vector<Answer>& gross, History& history);

}  // namespace ligule::checks
