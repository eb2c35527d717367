#include "sync/desk/trial_named.h"

#include <algorithm>
#include <cstdlib>
#include <string_view>

#include "storage/trial/number.h"

namespace ligule::desk {
namespace {

constexpr const char* kRating = "--rating";
constexpr const char* kCutting = "--cutting";

// TF26, north/TF26 or ridge/north/TF26.
bool is_named(const TrialCodes& codes, const std::string& name) {
  const std::string site = codes.site + "/" + codes.trial;
  return name == codes.trial || name == site || name == codes.station + "/" + site;
}

void add_to(std::string& list, const std::string& name) {
  list.append(list.empty() ? "" : ", ").append(name);
}

std::string cutting_name(std::int64_t year, std::int64_t number) {
  return std::to_string(year) + "/" + std::to_string(number);
}

Result<PlanOccasion> rating_named(const Plan& plan, const std::string& code) {
  std::string all;
  for (const PlanOccasion& occasion : plan.occasions) {
    if (occasion.job != Job::kRate) continue;
    if (occasion.code == code) return occasion;
    add_to(all, occasion.code);
  }
  return fail(
      ErrorKind::kNotFound, plan.codes.trial + " plans no rating '" + code + "'", kRating,
      all.empty() ? "add the rating to the plan and enrol it as a revision" : "give one of " + all);
}

Result<PlanOccasion> cutting_named(const Plan& plan, const std::string& text) {
  const std::size_t slash = text.find('/');
  const auto year = parse_integer(std::string_view(text).substr(0, slash));
  const auto number = parse_integer(
      slash == std::string::npos ? std::string_view() : std::string_view(text).substr(slash + 1));
  if (!year || !number)
    return fail(ErrorKind::kInvalid, "'" + text + "' is no cutting", kCutting,
                "give its year and number, as 2026/1");
  return cutting_of(plan, *year, *number, kCutting);
}

}  // namespace

Result<PlanOccasion> cutting_of(const Plan& plan, std::int64_t year, std::int64_t number,
                                const char* option) {
  std::string all;
  for (const PlanOccasion& occasion : plan.occasions) {
    if (occasion.job != Job::kHarvest) continue;
    if (occasion.year == year && occasion.cutting == number) return occasion;
    add_to(all, cutting_name(occasion.year, occasion.cutting));
  }
  return fail(ErrorKind::kNotFound,
              plan.codes.trial + " plans no cutting " + cutting_name(year, number), option,
              all.empty() ? "add the cutting to the plan and enrol it as a revision"
                          : "give one of " + all);
}

files::Checked<OpenDesk> open_desk(const std::string& path, Console& console) {
  auto ledger = open_to_write(path, console);
  if (!ledger) return std::unexpected(files::Faults{ledger.error()});
  const auto streams = ledger->streams();
  if (!streams) return std::unexpected(files::Faults{streams.error()});
  const bool demo = std::ranges::any_of(*streams, &ledger::StreamInfo::demo);
  auto definitions = definitions_beside(path, console);
  if (!definitions) return std::unexpected(std::move(definitions).error());
  return OpenDesk{*std::move(ledger), demo, *std::move(definitions)};
}

Result<ledger::KnownPlan> plan_named(const ledger::Ledger& ledger, const std::string& name) {
  const auto plans = ledger.plans();
  if (!plans) return std::unexpected(plans.error());
  std::vector<const ledger::KnownPlan*> found;
  std::string all;
  for (const ledger::KnownPlan& known : *plans) {
    const TrialCodes& codes = known.plan.codes;
    add_to(all, codes.station + "/" + codes.site + "/" + codes.trial);
    if (is_named(codes, name)) found.push_back(&known);
  }
  if (found.size() == 1) return *found.front();
  return fail(
      ErrorKind::kNotFound,
      (found.empty() ? "the ledger holds no trial '" : "several trials are called '") + name + "'",
      "--trial", all.empty() ? "enrol its plan first" : "give one of " + all);
}

std::vector<Option> occasion_options() {
  return {
      {.name = kRating, .value = "CODE", .help = "Rating, by its code in the plan"},
      {.name = kCutting, .value = "YEAR/N", .help = "Or the n-th cutting of a year, as 2026/1"}};
}

Result<std::optional<PlanOccasion>> occasion_given(const Arguments& arguments, const Plan& plan) {
  const auto rating = arguments.find(kRating);
  const auto cutting = arguments.find(kCutting);
  if (rating && cutting)
    return fail(ErrorKind::kInvalid, "one rating or cutting is wanted", "--rating and --cutting",
                "give one of the two");
  if (!rating && !cutting) return std::nullopt;
  auto found = rating ? rating_named(plan, *rating) : cutting_named(plan, *cutting);
  if (!found) return std::unexpected(found.error());
  return *std::move(found);
}

Result<PlanOccasion> nearest_due(const Plan& plan, std::span<const OccasionId> closed,
                                 CalendarDate today) {
  const PlanOccasion* nearest = nullptr;
  int days = 0;
  std::string all;
  for (const PlanOccasion& occasion : plan.occasions) {
    add_to(all, occasion.code);
    const std::optional<CalendarDate> due = occasion.due;
    if (!due || std::ranges::find(closed, plan.occasion(occasion)) != closed.end()) continue;
    const int off = std::abs(days_between(*due, today));
    if (nearest != nullptr && off >= days) continue;
    nearest = &occasion;
    days = off;
  }
  if (nearest != nullptr) return *nearest;
  return fail(ErrorKind::kNotFound,
              "no open rating or cutting of " + plan.codes.trial + " has a day",
              "--rating and --cutting",
              all.empty() ? "add one to the plan" : "say which is wanted: " + all);
}

}  // namespace ligule::desk
