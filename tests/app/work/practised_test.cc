#include "app/work/practised.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;
using ::testing::IsEmpty;
using ::testing::UnorderedElementsAre;

TEST(Practised, CountsEachSetOfTheDayOnce) {
  const Folder folder(true);
  ledger::Ledger ledger = started(folder.file("a.ledger"), 1);
  const CalendarDate today = at(0).local_date;
  need(ledger.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80")}));
  EXPECT_THAT(need(load_practised(ledger, today)), IsEmpty());
  const auto answer = [](std::uint64_t n, std::uint64_t set, int part, const char* who) {
    Record record = reading(n, "101", "percent_stand", "60");
    record.subject = id(set);
    record.part = part;
    record.person = person_id(who);
    record.purpose = Purpose::kPractice;
    return record;
  };
  need(ledger.append({answer(20, 500, 1, "AB"), answer(21, 500, 2, "AB"), answer(22, 501, 1, "AB"),
                      answer(23, 502, 1, "CD")}));
  EXPECT_THAT(
      need(load_practised(ledger, today)),
      UnorderedElementsAre(std::pair(person_id("AB"), today), std::pair(person_id("AB"), today),
                           std::pair(person_id("CD"), today)));
  const CalendarDate later{date::sys_days{today} + date::days{1}};
  EXPECT_THAT(need(load_practised(ledger, later)), IsEmpty());
}

}  // namespace
}  // namespace ligule::work
