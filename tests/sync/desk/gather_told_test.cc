// What gather tells of the records it takes in: those of later kinds, those that lack what their
// kind must say, those in which something cannot be quite so.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/sync/desk/season_fixture.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::desk {
namespace {

using testing::HasSubstr;
using testing::Not;

class GatherTold : public SeasonCommands {
 protected:
  Ran gathered(const seal::Season& season) {
    const std::string line = seal::key_line(season.key.public_key(), season.table.stream.device);
    EXPECT_EQ(desk({"trust", "--ledger", office_, "--text", line}).exit, 0);
    const std::string file = out_ + ".zip";
    std::ofstream(file, std::ios::binary) << season.sealed();
    return desk({"gather", "--ledger", office_, file});
  }
};

TEST_F(GatherTold, NothingOfAnOrdinaryFile) {
  const Ran ran = gathered(seal::small_season());
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("4 new"));
  EXPECT_THAT(ran.out, Not(HasSubstr("carried")));
  EXPECT_THAT(ran.out, Not(HasSubstr("believed")));
}

TEST_F(GatherTold, RecordsOfLaterKindsAndThoseThatSayNothing) {
  seal::Season season = seal::small_season();
  season.add(season.envelope("soil_core"));
  season.add(season.envelope(kind::kPerson));
  season.add_note("last");
  const Ran ran = gathered(season);
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("1 record of a later kind: carried"));
  EXPECT_THAT(ran.out, HasSubstr("1 record carried for nothing"));
}

TEST_F(GatherTold, RecordsThatCannotBeQuiteSo) {
  seal::Season season = seal::small_season();
  for (int n = 0; n < 2; ++n) {
    Record odd = season.envelope(kind::kEvent);
    odd.entered = "note";
    odd.at.local_date = CalendarDate(date::sys_days(odd.at.local_date) + date::days(40));
    season.add(odd);
  }
  season.add_note("last");
  const Ran ran = gathered(season);
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("2 records believed, although a date"));
}

}  // namespace
}  // namespace ligule::desk
