// The real touch program, killed at random moments of its work: what its screen had shown as kept
// is there, nothing is half there, and the next start goes on by itself at the right plot.
//
// LIGULE_KILLS: how many sessions to kill (50 without it).
#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <iostream>
#include <optional>

#include "storage/trial/number.h"
#include "tests/faults/killed_tablet.h"

namespace ligule::faults {
namespace {

constexpr std::uint64_t kSeed = 20261128;

// What a busy machine may cost: sessions whose driver gave up, and seconds, before ctest's 600.
constexpr int kMostGivenUp = 20;
constexpr double kMostSeconds = 500;

int kills_wanted() {
  const char* const said = std::getenv("LIGULE_KILLS");  // NOLINT(concurrency-mt-unsafe)
  const auto number = said == nullptr ? std::optional<std::int64_t>() : parse_integer(said).value();
  return static_cast<int>(number.value_or(50));
}

// How often this machine was too slow to prove anything, so far in a test.
class Slowness {
 public:
  // Whether the driver gave up.
  bool met(bool gave_up) {
    given_up_ += gave_up ? 1 : 0;
    return gave_up;
  }
  [[nodiscard]] bool too_much() const {
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - began_;
    return given_up_ >= kMostGivenUp || passed.count() > kMostSeconds;
  }
  [[nodiscard]] int given_up() const { return given_up_; }

 private:
  std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
  int given_up_ = 0;
};

constexpr const char* kTooSlow = "SKIPPED: the machine is too slow or too busy for as many kills";

// Where kills fell.
struct Tally {
  int sessions = 0, killed = 0, went_on = 0, between = 0, unseen = 0, late = 0, gave_up = 0;
  std::array<int, kWorks> within{};

  void add(const Session& session) {
    ++sessions;
    killed += session.killed ? 1 : 0;
    gave_up += session.gave_up ? 1 : 0;
    late += session.killed || session.gave_up ? 0 : 1;
    went_on += session.went_on ? 1 : 0;
    if (!session.killed) return;
    unseen += session.unseen ? 1 : 0;
    bool any = false;
    for (std::size_t work = 0; work < kWorks; ++work) {
      if (!session.under_way.at(work) || work == static_cast<std::size_t>(Work::kOther)) continue;
      ++within.at(work);
      any = true;
    }
    between += any ? 0 : 1;
  }
  // A session that was over before its kill proves nothing, and another is drawn, up to three for
  // each kill.
  [[nodiscard]] bool has_more(int wanted) const { return sessions - gave_up < 3 * wanted; }
  // Each work was under way at some kill.
  [[nodiscard]] bool all_hit() const {
    return std::ranges::count(within, 0) == 1 && within.front() == 0;  // of kOther nobody asks
  }
  void print(std::string_view how) const {
    std::cout << sessions << " sessions, " << how << ": " << killed << " killed, " << late
              << " over before, " << gave_up << " given up by the driver; " << went_on
              << " had gone on at the right plot; within a";
    for (std::size_t work = 1; work < kWorks; ++work)
      std::cout << (work == 1 ? " " : ", ") << name_of(static_cast<Work>(work)) << " "
                << within.at(work);
    std::cout << ", between " << between << "; kept and not yet shown " << unseen << "\n";
  }
};

// One after the other on the same ledgers, a new site once all plots are rated.
class Killing {
 public:
  // The session that a draw is measured against.
  Killing() {
    do measured_ = run({});
    while (measured_.gave_up && goes_on());
  }

  [[nodiscard]] const Session& measured() const { return measured_; }
  [[nodiscard]] const std::string& fault() const { return fault_; }
  // Nothing was found wrong, and the machine keeps up.
  [[nodiscard]] bool goes_on() const { return fault_.empty() && !slowness_.too_much(); }
  [[nodiscard]] bool too_slow() const { return fault_.empty() && slowness_.too_much(); }
  // From 0 on, below this.
  [[nodiscard]] std::int64_t draw(std::int64_t below) {
    return std::uniform_int_distribution<std::int64_t>(0, below - 1)(random_);
  }
  // One in eight while it starts, which changes no file for long.
  [[nodiscard]] Ending any_time() {
    std::int64_t calls = 0;
    for (const std::int64_t each : measured_.calls) calls += each;
    if (draw(8) == 0)
      return {.kind = Ending::Kind::kAtStart, .seconds = part(0.4) * measured_.seconds};
    return {.kind = Ending::Kind::kAtAnyTime, .part = part(0.1), .call = 1 + draw(calls)};
  }
  // Before, in the middle of or after one of the calls of this work.
  [[nodiscard]] Ending within(Work work) {
    const std::int64_t calls = measured_.calls.at(static_cast<std::size_t>(work));
    return {.kind = Ending::Kind::kAtCall,
            .call = 1 + draw(calls),
            .work = work,
            .moment = static_cast<Moment>(draw(3))};
  }

  void kill(const Ending& ending, Tally& tally) { tally.add(run(ending)); }
  // What was killed last goes on and ends its day.
  void end() {
    Session last = on_this_site({});
    while (last.gave_up && goes_on()) last = run({});
    EXPECT_TRUE(last.went_on || !goes_on());
  }

 private:
  [[nodiscard]] double part(double most) {
    return std::uniform_real_distribution<double>(0, most)(random_);
  }
  Session run(const Ending& ending) {
    if (!tablet_->goes_on()) tablet_ = std::make_unique<KilledTablet>(real_program(), ++seed_);
    return on_this_site(ending);
  }
  Session on_this_site(const Ending& ending) {
    Session session = tablet_->work(ending);
    ++sessions_;
    slowness_.met(session.gave_up);
    if (fault_.empty() && !session.fault.empty())
      fault_ = "seed " + std::to_string(seed_) + ", session " + std::to_string(sessions_) + ": " +
               session.fault;
    return session;
  }

  std::uint64_t seed_ = kSeed;
  std::mt19937_64 random_{kSeed};
  std::unique_ptr<KilledTablet> tablet_ = std::make_unique<KilledTablet>(real_program(), kSeed);
  Slowness slowness_;
  int sessions_ = 0;
  Session measured_;
  std::string fault_;
};

TEST(Kill, AtAnyTimeLosesNothingThatWasShownAsKept) {
  Killing killing;
  ASSERT_EQ(killing.fault(), "");
  Tally tally;
  const int wanted = kills_wanted() / 2;
  while ((tally.killed < wanted || tally.between == 0) && tally.has_more(wanted) &&
         killing.goes_on())
    killing.kill(killing.any_time(), tally);
  killing.end();
  tally.print("killed at any time");
  ASSERT_EQ(killing.fault(), "");
  if (killing.too_slow()) GTEST_SKIP() << kTooSlow;
  EXPECT_GE(tally.killed, wanted) << "the kills come too late to prove anything";
  EXPECT_GT(tally.between, 0);
}

// Commits, seals and copies in turn, and on until a kill fell within each of them.
TEST(Kill, WithinCommitsSealsAndCopiesLosesNothingThatWasShownAsKept) {
  Killing killing;
  ASSERT_EQ(killing.fault(), "");
  if (killing.too_slow()) GTEST_SKIP() << kTooSlow;
  for (std::size_t work = 1; work < kWorks; ++work)
    ASSERT_GT(killing.measured().calls.at(work), 3) << name_of(static_cast<Work>(work));
  Tally tally;
  const int wanted = kills_wanted() - kills_wanted() / 2;
  while ((tally.killed < wanted || !tally.all_hit()) && tally.has_more(wanted) &&
         killing.goes_on()) {
    const auto turn = static_cast<std::size_t>(tally.sessions) % (kWorks - 1);
    killing.kill(killing.within(static_cast<Work>(1 + turn)), tally);
  }
  killing.end();
  tally.print("killed at a call");
  ASSERT_EQ(killing.fault(), "");
  if (killing.too_slow()) GTEST_SKIP() << kTooSlow;
  EXPECT_GE(tally.killed, wanted);
  for (std::size_t work = 1; work < kWorks; ++work)
    EXPECT_GT(tally.within.at(work), 0) << name_of(static_cast<Work>(work));
}

// The very first start: no ledger, no key, no stream.
TEST(Kill, TheFirstStartIsBegunAnewByTheNext) {
  const auto start = [](const program_test::InventedSite& site, std::int64_t call, Moment moment) {
    const Page page(site.file("page"));
    page->last_call = call;
    page->last_work = static_cast<std::int32_t>(call % 2 == 0 ? Work::kOther : Work::kCommit);
    page->last_moment = static_cast<std::int32_t>(moment);
    const program::Arguments arguments = site.drive("type \"AB\\n\"\nexpect \"Today\"\n");
    const pid_t child = fork();
    if (child == 0) {
      dup2(open(site.file("errors").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600), 2);
      setenv(kPageVariable, site.file("page").c_str(), 1);  // NOLINT(concurrency-mt-unsafe)
      real_program()(arguments);
      _exit(127);
    }
    int status = 0;
    waitpid(child, &status, 0);
    return status;
  };
  int killed = 0;
  Slowness slowness;
  for (int n = 1; n <= kills_wanted() / 2; ++n) {
    const program_test::InventedSite site;
    const int status = start(site, n, static_cast<Moment>(n % 3));
    killed += WIFSIGNALED(status) ? 1 : 0;
    int next = start(site, 0, Moment::kBefore);
    while (next != 0 && slowness.met(tells_of_giving_up(text_of(site.file("errors")))) &&
           !slowness.too_much())
      next = start(site, 0, Moment::kBefore);
    if (slowness.too_much()) GTEST_SKIP() << kTooSlow;
    ASSERT_EQ(next, 0) << "after a kill at call " << n << ": " << text_of(site.file("errors"));
    const auto ledger = program_test::need(ledger::Ledger::open(site.ledger()));
    EXPECT_THAT(program_test::need(ledger.check()), testing::IsEmpty());
    EXPECT_THAT(program_test::need(ledger.of_kind(kind::kPerson)), testing::SizeIs(1));
  }
  std::cout << killed << " first starts killed\n";
  EXPECT_GT(killed, 5);
}

// The harness can fail: a program that says of two acts in three that they are kept before they
// are, killed as it writes some of them.
TEST(Kill, AProgramThatShowsValuesAsKeptTooEarlyIsFoundOut) {
  constexpr std::int64_t kSomeCommits = 100;  // calls: fewer than a session has
  const auto hasty = [](const program::Arguments& arguments) {
    watch_by_page_named();
    int count = 0;
    std::vector<Record> waiting;
    const auto append = [&](ledger::Ledger& ledger, std::vector<Record> records) -> Result<void> {
      waiting.insert(waiting.end(), records.begin(), records.end());
      if (++count % 3 != 0) return {};
      return work::plain_append()(ledger, std::exchange(waiting, {}));
    };
    _exit(static_cast<int>(program::run(arguments, {std::cerr, append})));
  };
  KilledTablet tablet(hasty, kSeed);
  std::mt19937_64 random(kSeed);
  std::uniform_int_distribution<std::int64_t> which(1, kSomeCommits);
  std::string fault;
  int sessions = 0;
  Slowness slowness;
  while (fault.empty() && sessions < 10 && !slowness.too_much()) {
    const Session session =
        tablet.work({.kind = Ending::Kind::kAtCall, .call = which(random), .work = Work::kCommit});
    fault = session.fault;
    if (slowness.met(session.gave_up)) continue;
    ASSERT_TRUE(session.killed) << "no commit was counted: " << fault;
    ++sessions;
  }
  std::cout << "found out after " << sessions << " sessions: " << fault << "\n";
  if (fault.empty() && slowness.too_much()) GTEST_SKIP() << kTooSlow;
  EXPECT_THAT(fault, testing::HasSubstr("shown as kept and"));
}

}  // namespace
}  // namespace ligule::faults
