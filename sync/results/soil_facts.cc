#include "sync/results/soil_facts.h"

#include <algorithm>
#include <string>
#include <utility>

#include "storage/checks/soil_verdict.h"

namespace ligule::results {
namespace {

// Of which sample a value is: "2024-08-02, 6 in deep, Valley laboratory".
std::string sample_told(const SoilTest& test) {
  std::string told = test.sampled ? format_date(*test.sampled) : "day not stated";
  if (!test.depth.empty()) told += ", " + test.depth + " " + test.depth_unit + " deep";
  if (!test.lab.empty()) told += ", " + test.lab;
  return told;
}

// pH, P, K, as laboratories print them: a ledger keeps them by the alphabet.
std::vector<SoilTest> in_order_of(const SoilTables& tables, std::vector<SoilTest> soil) {
  std::ranges::stable_sort(soil, {}, [&](const SoilTest& test) {
    return std::ranges::find(tables.properties, test.property, &SoilProperty::code) -
           tables.properties.begin();
  });
  return soil;
}

std::string soil_test_told(const Plan& plan, const SoilTables& tables) {
  std::vector<std::pair<std::string, std::string>> samples;  // each as it first stands
  for (const SoilTest& test : in_order_of(tables, plan.soil)) {
    const std::string sample = sample_told(test);
    auto at = std::ranges::find(samples, sample, &std::pair<std::string, std::string>::first);
    if (at == samples.end()) at = samples.insert(at, {sample, ""});
    if (!at->second.empty()) at->second += ", ";
    at->second += checks::soil_value_told(test, tables, /*conversion=*/false);
  }
  std::string told;
  for (const auto& [sample, values] : samples) {
    if (!told.empty()) told += "; ";
    told.append(sample).append(": ").append(values);
  }
  return told;
}

}  // namespace

std::vector<Fact> soil_facts(const Plan& plan, const SoilTables& tables,
                             const Definitions& definitions) {
  std::vector<Fact> facts;
  if (plan.soil.empty()) return facts;
  facts.push_back({std::string(kSoilTestFact), soil_test_told(plan, tables)});
  std::string judged;
  for (const checks::SoilVerdict& verdict : checks::soil_verdicts(plan, tables, definitions))
    judged.append(verdict.line()).append("; ");
  if (judged.empty()) return facts;
  judged.replace(judged.size() - 2, 2, ". ").append(checks::kNoFertilizerAmounts);
  facts.push_back({std::string(kSoilJudgedFact), std::move(judged)});
  return facts;
}

}  // namespace ligule::results
