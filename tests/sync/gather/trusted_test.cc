// Keys that were revoked: what is still believed of a lost tablet.
#include "tests/sync/gather/gather_fixture.h"

namespace ligule::gather {
namespace {

using ledger::Ledger;
using ledger::sample::need;
using seal::Season;
using testing::HasSubstr;
using testing::SizeIs;

// A lost tablet: what was believed of it is a stream up to a record with its digest.
class Revoked : public Gathering {
 protected:
  Revoked() {
    season_.add_note("five");
    early_ = write("early.zip", season_.sealed());
    believed_ = believed_of(read(early_));
    season_.add_note("made by whoever found the tablet");
  }
  seal::SeasonFile read(const std::string& file) {
    auto season = seal::read_season_file(*files_, file);
    EXPECT_TRUE(season);
    return season ? *std::move(season) : seal::SeasonFile{};
  }
  void revoke(Ledger& ledger, std::vector<ledger::Believed> believed) {
    need(ledger.trust(
        {season_.key.public_key(), "lost one", ledger::Trust::kRevoked, std::move(believed)}));
  }

  Season season_ = seal::small_season();
  std::string early_;
  ledger::Believed believed_;
};

TEST_F(Revoked, IsTrustedUpToItsLastTrustedRecord) {
  Ledger ledger = desk();
  revoke(ledger, {believed_});
  const Error fault = refused(ledger, write("late.zip", season_.sealed()));
  EXPECT_EQ(fault.kind, ErrorKind::kNotTrusted);
  EXPECT_THAT(fault.what, HasSubstr("no further than record 5"));
  EXPECT_THAT(fault.where, HasSubstr("late.zip"));
  EXPECT_TRUE(take(ledger, early_));
  EXPECT_THAT(need(doubtful(ledger)), SizeIs(0));
  revoke(ledger, {});
  EXPECT_EQ(refused(ledger, early_).kind, ErrorKind::kNotTrusted);
  EXPECT_THAT(need(doubtful(ledger)), SizeIs(1));
}

// Whoever has the key can sign what they like, under numbers that are believed.
TEST_F(Revoked, RecordsWrittenAnewAreRefused) {
  Season forged = seal::small_season();
  forged.add_note("not what the tablet said");
  Ledger ledger = desk();
  revoke(ledger, {believed_});
  EXPECT_THAT(refused(ledger, write("forged.zip", forged.sealed())).what,
              HasSubstr("not the records that lead to record 5"));
  Season shorter;
  shorter.add_reading("15", 15);
  EXPECT_EQ(refused(ledger, write("shorter.zip", shorter.sealed())).kind, ErrorKind::kNotTrusted);
  ASSERT_TRUE(take(ledger, early_));
  EXPECT_EQ(refused(ledger, write("shorter.zip", shorter.sealed())).kind, ErrorKind::kNotTrusted);
}

TEST_F(Revoked, AnotherStreamOfThatKeyIsRefused) {
  Season other(55);
  other.key = seal::test_key();
  other.table.stream.public_key = other.key.public_key();
  other.bodies.clear();
  Record first = other.envelope(kind::kStream);
  first.details = details_text({{"device", other.table.stream.device},
                                {"public_key", seal::hex(other.table.stream.public_key)},
                                {"software", "ligule test"}});
  other.add(first);
  Ledger ledger = desk();
  revoke(ledger, {believed_});
  EXPECT_THAT(refused(ledger, write("other.zip", other.sealed())).what,
              HasSubstr("nothing of this stream is believed"));
}

// An earlier file of it is believed once the ledger holds where it leads to.
TEST_F(Revoked, APartOfWhatIsBelievedNeedsTheRestFirst) {
  const std::string part = write("part.zip", seal::small_season().sealed());
  Ledger ledger = desk();
  revoke(ledger, {believed_});
  EXPECT_THAT(refused(ledger, part).what, HasSubstr("are not held yet"));
  ASSERT_TRUE(take(ledger, early_));
  ASSERT_TRUE(take(ledger, part));
  EXPECT_THAT(need(gaps(ledger)), SizeIs(0));
}

// What a file says of its tablet (name, demonstration) is proven by its first record only.
TEST_F(Revoked, AFileFromTheMiddleNeedsTheBeginningFirst) {
  Season whole = seal::small_season();
  whole.add_note("five");
  const std::string rest = write("rest.zip", whole.sealed_from(5));
  Ledger ledger = desk();
  revoke(ledger, {believed_});
  EXPECT_THAT(refused(ledger, rest).what, HasSubstr("nothing of this stream is held yet"));
  ASSERT_TRUE(take(ledger, early_));
  EXPECT_TRUE(take(ledger, rest));
}

// A gap before what is believed is no forgery, and is not called one.
TEST_F(Revoked, RecordsBeforeAGapAreNotTiedYet) {
  Ledger ledger = desk();
  trust(ledger, season_, "lost one");
  Season two;
  two.add_body(season_.bodies[1]);
  const std::string beginning = write("two.zip", two.sealed());
  ASSERT_TRUE(take(ledger, beginning));
  Season five = seal::small_season();
  five.add_note("five");
  ASSERT_TRUE(take(ledger, write("five.zip", five.sealed_from(5))));
  revoke(ledger, {believed_});
  EXPECT_THAT(refused(ledger, beginning).what, HasSubstr("are not held yet"));
  const auto told = need(doubtful(ledger));
  ASSERT_THAT(told, SizeIs(1));
  EXPECT_TRUE(told[0].untied);
  EXPECT_THAT(told[0].line(), HasSubstr("can't be tied"));
  ASSERT_TRUE(take(ledger, early_));
  EXPECT_THAT(need(doubtful(ledger)), SizeIs(0));
}

TEST_F(Revoked, WhatWasTakenInBeforeStaysAndIsTold) {
  Ledger ledger = desk();
  trust(ledger, season_, "lost one");
  ASSERT_TRUE(take(ledger, write("late.zip", season_.sealed())));
  revoke(ledger, {believed_});
  const auto told = need(doubtful(ledger));
  ASSERT_THAT(told, SizeIs(1));
  EXPECT_EQ(told[0].first, 6);
  EXPECT_EQ(told[0].last, 6);
  EXPECT_THAT(told[0].line(), HasSubstr("records 6 to 6 of North, 1"));
}

}  // namespace
}  // namespace ligule::gather
