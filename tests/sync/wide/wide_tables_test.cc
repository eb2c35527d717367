// All wide tables of a ledger, and their form.
#include "sync/wide/wide_tables.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"

namespace ligule::wide {
namespace {

using ledger::Ledger;
using ledger::sample::need;
using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> names_of(const std::vector<WideTable>& tables) {
  std::vector<std::string> names;
  for (const WideTable& table : tables) names.push_back(table.name);
  return names;
}

TEST(WideTables, AreThoseThatHaveRows) {
  const ledger::sample::Folder folder(true);
  Ledger ledger = ledger::sample::started(folder.file("a.ligule"), 1);
  EXPECT_TRUE(need(wide_tables(ledger)).empty());
  need(ledger.append({ledger::sample::plan_record(10, ledger::sample::plan()),
                      ledger::sample::reading(11, "101", "percent_stand", "85")}));
  EXPECT_THAT(names_of(need(wide_tables(ledger))),
              ElementsAre("entries", "occasions", "plots", "ratings", "trials"));
}

TEST(WideTables, AreNoneOfPlansBeyondAllMeasure) {
  const ledger::sample::Folder folder(true);
  Ledger ledger = ledger::sample::started(folder.file("a.ligule"), 1);
  Plan plan = ledger::sample::plan();
  const PlanPlot plot = plan.plots.front();
  const PlanOccasion occasion = plan.occasions.front();
  plan.plots.assign(1001, plot);
  plan.occasions.assign(1000, occasion);
  need(ledger.append({ledger::sample::plan_record(10, plan)}));
  EXPECT_TRUE(need(wide_tables(ledger)).empty());
}

TEST(WideTables, AreRowsOfCsvWithoutControlCharacters) {
  WideTable table{.name = "t",
                  .description = "d",
                  .columns = {{"a", files::CellType::kText, false, "x"},
                              {"b", files::CellType::kText, false, "y"}},
                  .primary_key = {}};
  table.add({"one, two", "say \"no\""});
  table.add({"line\nbreak", ""});
  EXPECT_EQ(csv_text(table), "a,b\r\n\"one, two\",\"say \"\"no\"\"\"\r\nline break,\r\n");
}

}  // namespace
}  // namespace ligule::wide
