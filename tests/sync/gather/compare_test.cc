#include "sync/gather/compare.h"

#include "tests/sync/gather/gather_fixture.h"

namespace ligule::gather {
namespace {

using ledger::Ledger;
using ledger::sample::need;
using seal::Season;
using testing::ElementsAre;
using testing::IsEmpty;

class Comparing : public Gathering {
 protected:
  Ledger holding(const std::string& name, const Season& season, std::int64_t first = 1) {
    Ledger ledger = desk(name);
    trust(ledger, season, "N");
    EXPECT_TRUE(take(ledger, write(name + ".zip", season.sealed_from(first))));
    return ledger;
  }
};

TEST_F(Comparing, EqualLedgersDifferNowhere) {
  const Season season = seal::small_season();
  EXPECT_THAT(need(differences(holding("a", season), holding("b", season))), IsEmpty());
}

TEST_F(Comparing, WhatOneLacksIsNamedByItsRun) {
  Season season = seal::small_season();
  const Ledger a = holding("a", season);
  season.add_note("five");
  const Ledger b = holding("b", season, 2);
  EXPECT_THAT(need(differences(a, b)),
              ElementsAre("record 1 of North, 1 is in " + a.path() + " and not in " + b.path(),
                          "record 5 of North, 1 is in " + b.path() + " and not in " + a.path()));
}

TEST_F(Comparing, TheFirstRecordThatIsAnotherIsNamedOnce) {
  Season one = seal::small_season();
  Season other = seal::small_season();
  one.add_note("here");
  other.add_note("there");
  one.add_note("later");
  other.add_note("later");
  const Ledger a = holding("a", one);
  const Ledger b = holding("b", other);
  EXPECT_THAT(need(differences(a, b)),
              ElementsAre("record 5 of North, 1 is another in " + b.path()));
}

}  // namespace
}  // namespace ligule::gather
