// The order in which things arrive does not matter.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "storage/trial/record_line.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

// What a season file brings.
struct Chunk {
  std::string name;
  StreamInfo stream;
  std::int64_t first = 0;
  Digest before;
  std::vector<std::string> bodies;
};

Chunk chunk_of(const Ledger& ledger, StreamId stream, std::int64_t first, std::int64_t last,
               std::string name) {
  Chunk chunk{std::move(name),
              {},
              first,
              need(ledger.digest_at(stream, first - 1)),
              bodies(ledger, stream, first, last)};
  for (const StreamInfo& info : need(ledger.streams())) {
    if (info.id == stream) chunk.stream = info;
  }
  chunk.stream.mine = false;
  return chunk;
}

// Three tablets. B took back an event that A noted. A and B rated the same plot differently (twice:
// two conflicts), B corrected a value of A's that reached it on paper, A was put back from a backup
// and went on as another stream. C's middle never arrives: a gap.
class Order : public testing::Test {
 protected:
  Order() {
    const std::string a_path = folder_.file("a.ledger");
    Ledger a = started(a_path, 1, "tablet A");
    const Record stand = reading(10, "101", "percent_stand", "80");
    const Record vigor = reading(11, "102", "seedling_vigor", "4");
    need(a.append({plan_record(9, plan()), stand, vigor}));
    const Record mowing = event(14, "mowing");
    need(a.append({reading(12, "201", "percent_stand", "55"), mowing, event(15, "spray")}));
    need(a.backup_to(folder_.file("restored.ledger")));
    Ledger restored = need(Ledger::open(folder_.file("restored.ledger")));
    need(restored.start_stream(start(100, "tablet A")));
    need(restored.append({reading(110, "202", "percent_stand", "66")}));
    need(a.append({reading(13, "202", "seedling_vigor", "2")}));

    Ledger b = started(folder_.file("b.ledger"), 200, "tablet B");
    const Record other_stand = reading(210, "101", "percent_stand", "70");
    need(
        b.append({plan_record(209, plan()), other_stand, reading(211, "202", "seedling_vigor", "3"),
                  correction(212, vigor, "5"), event_back(213, mowing)}));

    Ledger c = started(folder_.file("c.ledger"), 300, "tablet C");
    for (std::uint64_t n = 310; n < 318; ++n)
      need(c.append({reading(n, "101", "note", "seen " + std::to_string(n))}));

    chunks_ = {
        chunk_of(a, {id(1)}, 1, 4, "A 1-4"),   chunk_of(a, {id(1)}, 4, 8, "A 4-8"),
        chunk_of(b, {id(200)}, 1, 6, "B 1-6"), chunk_of(c, {id(300)}, 1, 3, "C 1-3"),
        chunk_of(c, {id(300)}, 6, 9, "C 6-9"), chunk_of(restored, {id(100)}, 1, 2, "restored 1-2")};
    fork_ = chunks_[1];
    Record changed = need(parse_record(fork_.bodies[1]));
    changed.id = {id(999)};
    changed.entered = "1";
    fork_.bodies[1] = need(record_body(changed));
    fork_.bodies.resize(2);
  }

  Folder folder_{true};
  std::vector<Chunk> chunks_;
  Chunk fork_;  // of A at record 5
};

std::vector<std::string> shown(const Ledger& ledger) {
  std::vector<std::string> out;
  for (const Claim& claim : need(ledger.claims(trial())))
    out.push_back(need(record_body(claim.record)) + " others " + std::to_string(claim.others));
  for (const TrialEvent& one : need(ledger.events(trial())))
    out.push_back("event " + one.record.entered + (one.taken_back ? " taken back" : ""));
  return out;
}

// Proves: three streams, a fork, a gap, two conflicts, a correction or withdrawal
// before its target and a restored backup give one ledger digest and the same claims in every
// order.
TEST_F(Order, OfArrivalDoesNotMatter) {
  std::vector<std::size_t> order(chunks_.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::set<Digest> digests;
  std::set<std::vector<std::string>> claims;
  std::set<std::size_t> span_counts;
  int orders = 0;
  int forks_refused = 0;
  do {
    const Folder place(true);
    // Nothing of its own: only what arrives counts.
    Ledger desk = need(Ledger::create(place.file("desk.ledger")));
    for (const std::size_t i : order) {
      const Chunk& chunk = chunks_[i];
      const auto absorbed = desk.absorb(chunk.stream, chunk.first, chunk.before, chunk.bodies);
      ASSERT_TRUE(absorbed) << chunk.name << ": " << one_line(absorbed.error());
      if (i != 1) continue;
      // The fork is tried once what it forks from is held, and must leave no trace.
      const auto forked = desk.absorb(fork_.stream, fork_.first, fork_.before, fork_.bodies);
      ASSERT_FALSE(forked);
      EXPECT_EQ(forked.error().kind, ErrorKind::kConflict);
      ++forks_refused;
    }
    digests.insert(need(desk.digest()));
    claims.insert(shown(desk));
    span_counts.insert(need(desk.spans()).size());
    if (orders % 60 == 0) {
      EXPECT_TRUE(need(desk.check()).empty());
    }
    ++orders;
  } while (std::ranges::next_permutation(order).found);
  EXPECT_EQ(orders, 720);
  EXPECT_EQ(forks_refused, 720);
  EXPECT_EQ(digests.size(), 1U);
  EXPECT_EQ(claims.size(), 1U);
  EXPECT_EQ(span_counts, std::set<std::size_t>{5});
  // And they are what they should be: two slots in conflict, the corrected vigor of plot 102.
  const std::vector<std::string>& lines = *claims.begin();
  EXPECT_EQ(std::ranges::count_if(lines, [](const auto& l) { return l.ends_with("others 1"); }), 4);
  EXPECT_EQ(std::ranges::count_if(
                lines, [](const auto& l) { return l.find(",correction,") != std::string::npos; }),
            1);
  EXPECT_THAT(lines, testing::Contains("event mowing taken back"));
  EXPECT_THAT(lines, testing::Contains("event spray"));
}

TEST_F(Order, AReplayOfWhatArrivedGivesTheSame) {
  Ledger desk = need(Ledger::create(folder_.file("desk.ledger")));
  for (auto chunk = chunks_.rbegin(); chunk != chunks_.rend(); ++chunk)
    need(desk.absorb(chunk->stream, chunk->first, chunk->before, chunk->bodies));
  const auto before = shown(desk);
  need(desk.replay());
  EXPECT_EQ(shown(desk), before);
  EXPECT_TRUE(need(desk.check()).empty());
}

}  // namespace
}  // namespace ligule::ledger
