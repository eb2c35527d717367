// The trial, and the rating or cutting of it, that options name: for commands about one of them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "storage/ledger/ledger.h"
#include "sync/desk/ledgers.h"

namespace ligule::desk {

// What is at hand for judging values of a ledger.
struct OpenDesk {
  ledger::Ledger ledger;
  bool demo = false;
  Definitions definitions;  // those that hold for this ledger
};
[[nodiscard]] files::Checked<OpenDesk> open_desk(const std::string& path, Console& console);

// TF26, north/TF26 or ridge/north/TF26. kNotFound: none or several are called so; all are named.
[[nodiscard]] Result<ledger::KnownPlan> plan_named(const ledger::Ledger& ledger,
                                                   const std::string& name);

// The n-th cutting of a year. kNotFound tells which the plan has; option: what named it.
[[nodiscard]] Result<PlanOccasion> cutting_of(const Plan& plan, std::int64_t year,
                                              std::int64_t number, const char* option);

// The options of one occasion: --rating CODE, --cutting YEAR/N.
[[nodiscard]] std::vector<Option> occasion_options();
// The occasion they name; nothing where neither is given. kInvalid: both are, or no year and
// number; kNotFound: the plan has no such one, and which it has.
[[nodiscard]] Result<std::optional<PlanOccasion>> occasion_given(const Arguments& arguments,
                                                                 const Plan& plan);
// The one whose day is nearest, of those that nobody closed. kNotFound: none has a day.
[[nodiscard]] Result<PlanOccasion> nearest_due(const Plan& plan, std::span<const OccasionId> closed,
                                               CalendarDate today);

}  // namespace ligule::desk
