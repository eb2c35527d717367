#include "storage/trial/plan.h"

#include <algorithm>
#include <array>
#include <utility>

#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule {
namespace {

// Written in records and tables; never change a text.
constexpr std::array<std::pair<Endophyte, std::string_view>, 4> kEndophytes{
    {{Endophyte::kNotStated, "not stated"},
     {Endophyte::kNovel, "novel"},
     {Endophyte::kFree, "free"},
     {Endophyte::kToxic, "toxic"}}};
constexpr std::array<std::pair<EntryRole, std::string_view>, 3> kRoles{
    {{EntryRole::kTest, "test"}, {EntryRole::kCheck, "check"}, {EntryRole::kFiller, "filler"}}};
constexpr std::array<std::pair<Job, std::string_view>, 2> kJobs{
    {{Job::kRate, "rate"}, {Job::kHarvest, "harvest"}}};

constexpr std::array<std::pair<SampleOf, std::string_view>, 3> kSamplesOf{
    {{SampleOf::kPlot, "plot"}, {SampleOf::kEntry, "entry"}, {SampleOf::kTrial, "trial"}}};
constexpr std::array<std::pair<BagWeighed, std::string_view>, 4> kBagsWeighed{
    {{BagWeighed::kNotStated, "not stated"},
     {BagWeighed::kOvenDry, "oven_dry"},
     {BagWeighed::kAirDry, "air_dry"},
     {BagWeighed::kWet, "wet"}}};

template <class Table, class Value>
std::string_view name_in(const Table& table, Value value) {
  return std::ranges::find(table, value, &Table::value_type::first)->second;
}

template <class Value, class Table>
Result<Value> value_in(const Table& table, std::string_view text) {
  const auto at = std::ranges::find(table, text, &Table::value_type::second);
  if (at != table.end()) return at->first;
  std::string known;
  for (const auto& [value, name] : table) known += (known.empty() ? "" : ", ") + std::string(name);
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not one of: " + known);
}

}  // namespace

std::string_view name_of(Endophyte endophyte) {
  return name_in(kEndophytes, endophyte);
}
std::string_view name_of(EntryRole role) {
  return name_in(kRoles, role);
}
std::string_view name_of(Job job) {
  return name_in(kJobs, job);
}
std::string_view name_of(SampleOf of) {
  return name_in(kSamplesOf, of);
}
std::string_view name_of(BagWeighed weighed) {
  return name_in(kBagsWeighed, weighed);
}
Result<Endophyte> parse_endophyte(std::string_view text) {
  return value_in<Endophyte>(kEndophytes, text);
}
Result<EntryRole> parse_role(std::string_view text) {
  return value_in<EntryRole>(kRoles, text);
}
Result<Job> parse_job(std::string_view text) {
  return value_in<Job>(kJobs, text);
}
Result<SampleOf> parse_sample_of(std::string_view text) {
  return value_in<SampleOf>(kSamplesOf, text);
}
Result<BagWeighed> parse_bag_weighed(std::string_view text) {
  return value_in<BagWeighed>(kBagsWeighed, text);
}

std::string PlanEntry::label() const {
  switch (endophyte) {
    case Endophyte::kNotStated:
      return variety;
    case Endophyte::kNovel:
      return variety + " (novel" + (strain.empty() ? "" : " " + strain) + ")";
    case Endophyte::kFree:
      return variety + " (endophyte-free)";
    case Endophyte::kToxic:
      return variety + " (toxic" + (strain.empty() ? "" : " " + strain) + ")";
  }
  std::unreachable();
}

Result<Metres> StatedLength::metres() const {
  const auto value = parse_number(text);
  if (!value) return std::unexpected(value.error());
  return length_in(*value, unit);
}

Result<Kilograms> StatedMass::kilograms() const {
  const auto value = parse_number(text);
  if (!value) return std::unexpected(value.error());
  return mass_in(*value, unit);
}

OccasionId Plan::occasion(const PlanOccasion& o) const {
  return o.job == Job::kHarvest ? cutting_id(id(), o.year, o.cutting) : rating_id(id(), o.code);
}

const PlanEntry* Plan::find_entry(std::string_view code) const {
  const auto at = std::ranges::find(entries, code, &PlanEntry::code);
  return at == entries.end() ? nullptr : &*at;
}

const PlanPlot* Plan::find_plot(std::string_view number) const {
  const auto at = std::ranges::find(plots, number, &PlanPlot::number);
  return at == plots.end() ? nullptr : &*at;
}

const PlanPlot* Plan::find_plot(PlotId wanted) const {
  const TrialId trial = id();
  const auto at = std::ranges::find_if(
      plots, [&](const PlanPlot& p) { return plot_id(trial, p.number) == wanted; });
  return at == plots.end() ? nullptr : &*at;
}

const PlanOccasion* Plan::find_occasion(OccasionId wanted) const {
  const auto at =
      std::ranges::find_if(occasions, [&](const PlanOccasion& o) { return occasion(o) == wanted; });
  return at == occasions.end() ? nullptr : &*at;
}

const Scale* Plan::find_score(std::string_view code) const {
  const auto at = std::ranges::find(scores, code, &Scale::code);
  return at == scores.end() ? nullptr : &*at;
}

bool PlanOccasion::is_for(std::string_view entry) const {
  return entries.empty() || std::ranges::find(entries, entry) != entries.end();
}

std::vector<PlanPlot> Plan::along_path() const {
  std::vector<PlanPlot> walked = plots;
  std::ranges::stable_sort(walked, {}, &PlanPlot::path);
  return walked;
}

}  // namespace ligule
