#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/record_line.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using testing::HasSubstr;

class Absorb : public testing::Test {
 protected:
  Absorb() {
    std::vector<Record> drafts;
    for (std::uint64_t n = 10; n < 19; ++n)
      drafts.push_back(reading(n, "101", "note", std::to_string(n)));
    need(tablet_.append(drafts));
    stream_ = need(tablet_.streams()).at(0);
    stream_.mine = false;
    all_ = bodies(tablet_, stream_.id, 1, 10);
  }
  [[nodiscard]] Digest before(std::int64_t first) const {
    return need(tablet_.digest_at(stream_.id, first - 1));
  }
  Result<Absorbed> take(std::int64_t first, std::int64_t last) {
    return desk_.absorb(stream_, first, before(first),
                        std::span(all_).subspan(static_cast<std::size_t>(first - 1),
                                                static_cast<std::size_t>(last - first + 1)));
  }
  // The error of something that must be refused; the ledger must be as before.
  template <class Call>
  std::string refusal(Call call) {
    const Digest digest = need(desk_.digest());
    const auto streams = need(desk_.streams());
    const std::string line = error_line(call());
    EXPECT_EQ(need(desk_.digest()), digest);
    EXPECT_EQ(need(desk_.streams()), streams);
    return line;
  }

  Folder folder_{true};
  Ledger tablet_ = started(folder_.file("tablet.ledger"), 1, "tablet 1");
  Ledger desk_ = started(folder_.file("desk.ledger"), 1'000'000, "desk");
  StreamInfo stream_;
  std::vector<std::string> all_;
};

TEST_F(Absorb, TakesInAWholeStream) {
  const Absorbed absorbed = need(take(1, 10));
  EXPECT_EQ(absorbed.added, 10);
  EXPECT_EQ(absorbed.known, 0);
  ASSERT_EQ(absorbed.spans.size(), 1U);
  EXPECT_EQ(absorbed.spans[0], need(tablet_.spans())[0]);
  EXPECT_EQ(bodies(desk_, stream_.id, 1, 10), all_);
  EXPECT_EQ(need(desk_.claims(trial())).size(), need(tablet_.claims(trial())).size());
  EXPECT_TRUE(need(desk_.check()).empty());
}

TEST_F(Absorb, AgainAddsNothing) {
  need(take(1, 10));
  const Digest digest = need(desk_.digest());
  const Absorbed again = need(take(3, 8));
  EXPECT_EQ(again.added, 0);
  EXPECT_EQ(again.known, 6);
  EXPECT_EQ(need(desk_.digest()), digest);
}

// Proves: what keeps records from being replaced is there after many came in at once, and after
// many were refused, letter for letter.
TEST_F(Absorb, ManyAtOnceLeaveEveryGuardInPlace) {
  const std::string path = folder_.file("desk.ledger");
  const std::string schema =
      "SELECT group_concat(type||name||coalesce(sql,'')) FROM (SELECT * FROM sqlite_schema"
      " ORDER BY type, name)";
  const std::string before_it = raw_value(path, schema);
  std::vector<Record> drafts;
  for (std::uint64_t n = 100; n < 1'400; ++n)
    drafts.push_back(reading(n, "101", "note", std::to_string(n)));
  need(tablet_.append(drafts));
  all_ = bodies(tablet_, stream_.id, 1, 1'310);
  const std::string last = std::exchange(all_.back(), "no record");
  EXPECT_THAT(refusal([&] { return desk_.absorb(stream_, 1, {}, all_); }),
              HasSubstr("record 1310"));
  EXPECT_EQ(raw_value(path, schema), before_it);
  all_.back() = last;
  EXPECT_EQ(need(desk_.absorb(stream_, 1, {}, all_)).added, 1'310);
  EXPECT_EQ(raw_value(path, schema), before_it);
  EXPECT_TRUE(need(desk_.check()).empty());
  // One that has a record's id already is refused without the guard too.
  auto other = started(folder_.file("other.ledger"), 2, "tablet 2");
  std::vector<Record> others;
  for (std::uint64_t n = 2'000; n < 3'100; ++n)
    others.push_back(reading(n, "101", "note", std::to_string(n)));
  others.push_back(reading(1'399, "101", "note", "other"));
  need(other.append(others));
  StreamInfo second = need(other.streams()).at(0);
  second.mine = false;
  const auto theirs = bodies(other, second.id, 1, 1'102);
  EXPECT_THAT(refusal([&] { return desk_.absorb(second, 1, {}, theirs); }),
              HasSubstr("is held by another record"));
  EXPECT_EQ(raw_value(path, schema), before_it);
  EXPECT_THAT(raw_sql(path,
                      "INSERT OR REPLACE INTO record(row,stream,seq,id,kind,format,body,"
                      "digest) SELECT NULL,stream,9999,id,kind,1,'x',digest FROM record"
                      " WHERE seq=1310"),
              HasSubstr("never replaced"));
}

TEST_F(Absorb, AGapIsListedAndClosesWhenItsRecordsCome) {
  need(take(8, 10));
  Absorbed absorbed = need(take(1, 3));
  ASSERT_EQ(absorbed.spans.size(), 2U);
  EXPECT_EQ(absorbed.spans[0].last, 3);
  EXPECT_EQ(absorbed.spans[1].first, 8);
  EXPECT_EQ(absorbed.spans[1].before, before(8));
  EXPECT_TRUE(need(desk_.check()).empty());
  absorbed = need(take(5, 6));
  EXPECT_EQ(absorbed.spans.size(), 3U);
  absorbed = need(take(3, 9));
  EXPECT_EQ(absorbed.added, 2);
  ASSERT_EQ(absorbed.spans.size(), 1U);
  EXPECT_EQ(absorbed.spans[0], need(tablet_.spans())[0]);
  EXPECT_TRUE(need(desk_.check()).empty());
}

TEST_F(Absorb, RunsThatOverlapBecomeOne) {
  need(take(4, 7));
  const Absorbed absorbed = need(take(2, 5));
  EXPECT_EQ(absorbed.added, 2);
  EXPECT_EQ(absorbed.known, 2);
  ASSERT_EQ(absorbed.spans.size(), 1U);
  EXPECT_EQ(absorbed.spans[0].first, 2);
  EXPECT_EQ(absorbed.spans[0].last, 7);
}

// The tablet's file as it was copied and went on by itself: same stream, other records.
class ForkedAbsorb : public Absorb {
 protected:
  ForkedAbsorb() {
    std::filesystem::copy_file(folder_.file("desk.ledger"), folder_.file("unused.ledger"));
    forked_ = all_;
    Digest digest = before(9);
    for (std::size_t i = 8; i < 10; ++i) {
      Record record = need(parse_record(all_[i]));
      record.id = {id(500 + i)};
      record.entered = "other";
      forked_[i] = need(record_body(record));
      digest = chained(digest, forked_[i]);
    }
  }
  std::vector<std::string> forked_;
};

TEST_F(ForkedAbsorb, AForkIsRefusedByName) {
  need(take(1, 10));
  const std::string line = refusal([&] { return desk_.absorb(stream_, 1, {}, forked_); });
  EXPECT_THAT(line, HasSubstr("conflict: "));
  EXPECT_THAT(line, HasSubstr("of tablet 1 forks at record 9"));
}

TEST_F(ForkedAbsorb, AForkIsSeenWhereRunsMeetToo) {
  need(take(9, 10));
  // What lies before leads to another digest than the one the held run stands on.
  std::vector<std::string> head(all_.begin(), all_.begin() + 8);
  Record record = need(parse_record(head[7]));
  record.entered = "other";
  head[7] = need(record_body(record));
  EXPECT_THAT(refusal([&] { return desk_.absorb(stream_, 1, {}, head); }),
              HasSubstr("forks at record 8"));
  need(take(1, 8));
  // And what follows stands on another digest than the one held.
  Ledger other = started(folder_.file("other.ledger"), 2'000'000, "desk 2");
  need(other.absorb(stream_, 1, {}, std::span(all_).first(8)));
  const std::vector<std::string> tail(all_.begin() + 8, all_.end());
  const auto refused = other.absorb(stream_, 9, sha256("elsewhere"), tail);
  EXPECT_THAT(error_line(refused), HasSubstr("forks at record 8"));
  EXPECT_EQ(need(other.spans()).back().last, 1);
}

TEST_F(Absorb, TheSameRunOnAnotherDigestIsAFork) {
  const std::vector<std::string> tail(all_.begin() + 4, all_.begin() + 6);
  need(take(5, 6));
  EXPECT_THAT(refusal([&] { return desk_.absorb(stream_, 5, sha256("x"), tail); }),
              HasSubstr("forks at record 5"));
}

TEST_F(Absorb, BodiesThatAreNotWhatTheirPlaceSaysAreRefused) {
  const auto with = [&](std::size_t at, const std::string& body) {
    auto spoiled = all_;
    spoiled[at] = body;
    return refusal([&] { return desk_.absorb(stream_, 1, {}, spoiled); });
  };
  EXPECT_THAT(with(3, "nonsense"), HasSubstr("invalid: stream"));
  EXPECT_THAT(with(3, all_[3] + ","), HasSubstr("29 columns"));
  EXPECT_THAT(with(3, all_[4]), HasSubstr("not numbered one after another"));
  EXPECT_THAT(with(3, std::string((std::size_t{1} << 20U) + 1, 'x')), HasSubstr("1 MiB"));
  EXPECT_THAT(with(0, all_[1]), HasSubstr("numbered"));
  Record other_stream = need(parse_record(all_[3]));
  other_stream.stream = {id(77)};
  EXPECT_THAT(with(3, need(record_body(other_stream))), HasSubstr("another stream"));
  Record second_start = need(parse_record(all_[3]));
  second_start.kind = kind::kStream;
  EXPECT_THAT(with(3, need(record_body(second_start))), HasSubstr("once only"));
  Record other_start = need(parse_record(all_[0]));
  other_start.details = "{\"device\":\"x\"}";
  EXPECT_THAT(with(0, need(record_body(other_start))), HasSubstr("describes another stream"));
  Record same_id = need(parse_record(all_[3]));
  same_id.id = need(parse_record(all_[2])).id;
  EXPECT_THAT(with(3, need(record_body(same_id))), HasSubstr("conflict"));
}

TEST_F(Absorb, NothingAndAWrongBeginningAreRefused) {
  EXPECT_THAT(refusal([&] { return desk_.absorb(stream_, 1, {}, {}); }), HasSubstr("no records"));
  EXPECT_THAT(refusal([&] { return desk_.absorb(stream_, 0, {}, all_); }), HasSubstr("no records"));
  EXPECT_THAT(refusal([&] { return desk_.absorb(stream_, 1, sha256("x"), all_); }),
              HasSubstr("32 zero bytes"));
}

TEST_F(Absorb, AStreamHeldOfAnotherDeviceIsAConflict) {
  need(take(1, 5));
  StreamInfo other = stream_;
  other.device = "tablet 2";
  EXPECT_THAT(refusal([&] { return desk_.absorb(other, 1, {}, all_); }), HasSubstr("conflict"));
}

TEST_F(Absorb, ALedgersOwnStreamIsKnownButNeverAddedTo) {
  EXPECT_EQ(need(tablet_.absorb(stream_, 1, {}, all_)).known, 10);
  Record next = need(parse_record(all_[9]));
  next.seq = 11;
  next.id = {id(600)};
  auto more = all_;
  more.push_back(need(record_body(next)));
  const auto refused = tablet_.absorb(stream_, 1, {}, more);
  EXPECT_THAT(error_line(refused), HasSubstr("conflict: "));
  EXPECT_THAT(error_line(refused), HasSubstr("record 11 is not in it"));
  EXPECT_EQ(need(tablet_.spans())[0].last, 10);
}

// Proves: records of a newer kind or format are carried unread.
TEST_F(Absorb, UnknownKindsAndNewerFormatsAreCarriedUnread) {
  Record unknown = need(parse_record(all_[3]));
  unknown.kind = "drone_flight";
  all_[3] = need(record_body(unknown));
  const Record later = need(parse_record(all_[4]));
  all_[4] = later.stream.text() + ",5," + later.id.text() + ",reading,2,whatever,it,says";
  Record senseless = need(parse_record(all_[5]));
  senseless.subject.reset();
  all_[5] = need(record_body(senseless));
  const Absorbed absorbed = need(desk_.absorb(stream_, 1, {}, all_));
  EXPECT_EQ(absorbed.added, 10);
  EXPECT_EQ(bodies(desk_, stream_.id, 1, 10), all_);
  EXPECT_EQ(need(desk_.claims(trial())).size(), 6U);
  EXPECT_TRUE(need(desk_.of_kind("drone_flight")).empty());
  EXPECT_FALSE(need(desk_.find(later.id)));
  EXPECT_TRUE(need(desk_.find(unknown.id)));
  need(desk_.replay());
  EXPECT_EQ(need(desk_.claims(trial())).size(), 6U);
  EXPECT_TRUE(need(desk_.check()).empty());
}

TEST_F(Absorb, PlansRevisedApartHaveOneInForceWhateverCameFirst) {
  Plan left = plan();
  left.parent = sha256(plan_text(plan())).hex();
  left.reason = "left";
  Plan right = left;
  right.reason = "right";
  Ledger other = started(folder_.file("other.ledger"), 2'000'000, "tablet 2");
  need(other.append({plan_record(2'000'010, plan()), plan_record(2'000'020, right)}));
  need(tablet_.append({plan_record(30, plan()), plan_record(31, left)}));
  StreamInfo theirs = need(other.streams()).at(0);
  theirs.mine = false;
  const auto their_bodies = bodies(other, theirs.id, 1, 9);
  Ledger second = started(folder_.file("desk2.ledger"), 3'000'000, "desk 2");
  all_ = bodies(tablet_, stream_.id, 1, 99);
  need(desk_.absorb(stream_, 1, {}, all_));
  need(desk_.absorb(theirs, 1, {}, their_bodies));
  need(second.absorb(theirs, 1, {}, their_bodies));
  need(second.absorb(stream_, 1, {}, all_));
  EXPECT_EQ(need(desk_.plan(trial())).plan, right);  // recorded last
  EXPECT_EQ(need(second.plan(trial())).plan, right);
  EXPECT_EQ(need(desk_.plans()).size(), 1U);
}

}  // namespace
}  // namespace ligule::ledger
