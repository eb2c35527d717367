// Damage: single bytes, whole pages, a cut end. What is damaged is noticed and never written to,
// what is whole of it comes back exactly, and what is lost comes from season files and copies.
//
// LIGULE_DAMAGES: how many bytes to flip (300 without it), each alone.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>
#include <map>
#include <random>
#include <sstream>

#include "storage/ledger/salvage.h"
#include "storage/trial/number.h"
#include "sync/desk/desk.h"
#include "sync/gather/give_back.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::faults {
namespace {

using ledger::Ledger;
using ledger::Salvaged;
using ledger::sample::need;

constexpr std::size_t kPageBytes = 4096;

std::size_t damages_wanted() {
  const char* const said = std::getenv("LIGULE_DAMAGES");
  const auto number = said == nullptr ? std::optional<std::int64_t>() : parse_integer(said).value();
  return static_cast<std::size_t>(number.value_or(300));
}

using Bodies = std::map<std::pair<StreamId, std::int64_t>, std::string>;

Bodies bodies_of(const Ledger& ledger) {
  Bodies bodies;
  for (const ledger::Span& span : need(ledger.spans()))
    need(ledger.each_record(span.stream, span.first, span.last,
                            [&](std::int64_t seq, std::string_view body, const Digest&) {
                              bodies[{span.stream, seq}] = body;
                              return true;
                            }));
  return bodies;
}

// A tablet's ledger of some days with another tablet's records in it, its season file of two thirds
// of that, and a spare copy of a half.
class Damaged : public testing::Test {
 protected:
  Damaged() {
    Ledger other = ledger::sample::started(folder_.file("other"), 900'000, "South 2");
    for (std::uint64_t n = 0; n < 12; ++n)
      need(other.append({ledger::sample::reading(910'000 + n, "201", "percent_stand", "40")}));
    Ledger ledger = need(Ledger::create(path_));
    need(seal::begin_stream(ledger, *files_, {"North 1", "ligule test", ledger::sample::at(0)}));
    need(ledger.append({ledger::sample::plan_record(10, ledger::sample::plan())}));
    for (std::uint64_t act = 0; act < kActs; ++act) {
      // Every eleventh note is longer than a page.
      const std::string note(act % 11 == 0 ? 5'000 : 9, 'x');
      need(ledger.append({ledger::sample::reading(100 + 2 * act, "101", "percent_stand", "70"),
                          ledger::sample::reading(101 + 2 * act, "102", "note", note)}));
      if (act == kActs / 4) take_in(ledger, other);
      if (act == kActs / 2) need(ledger.backup_to(copy_));
      if (act == 2 * kActs / 3) season_ = seal(ledger);
    }
    truth_ = bodies_of(ledger);
    digest_ = need(ledger.digest());
    claims_ = need(ledger.claims(ledger::sample::trial())).size();
    mine_ = ledger.my_stream()->id;
    ledger.checkpoint().value();
    { const Ledger closed = std::move(ledger); }
    sound_ = ledger::sample::file_bytes(path_);
  }

  static void take_in(Ledger& ledger, const Ledger& other) {
    ledger::StreamInfo stream = *other.my_stream();
    stream.mine = false;
    const auto bodies = ledger::sample::bodies(other, stream.id, 1, 13);
    need(ledger.absorb(stream, 1, {}, bodies));
  }
  std::string seal(Ledger& ledger) {
    const auto key = need(seal::key_of_stream(ledger, *files_));
    return need(seal::write_season_file(ledger, *files_, key, {folder_.file(""), 1, UtcInstant{}}))
        .file.string();
  }

  // What came of one damage.
  enum class Came { kRefused, kFound, kHarmless };
  Came look(const std::string& bytes, const std::string& what);
  void check_salvage(const std::string& what);
  void check_rebuilt(const std::string& what);

  static constexpr std::uint64_t kActs = 90;
  ledger::sample::Folder folder_{true};
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  std::string path_ = folder_.file("north.ligule"), copy_ = folder_.file("copy.ledger");
  std::string season_;
  std::string sound_;
  Bodies truth_;
  Digest digest_;
  std::size_t claims_ = 0;
  StreamId mine_;
  std::map<Came, std::size_t> counts_;
  std::vector<std::string> opened_;  // damage that opening did not notice and the check does
  std::size_t rebuilt_ = 0;
};

Damaged::Came Damaged::look(const std::string& bytes, const std::string& what) {
  for (const char* beside : {"-wal", "-shm"}) std::filesystem::remove(path_ + beside);
  ledger::sample::write_bytes(path_, bytes);
  Came came = Came::kHarmless;
  {
    auto opened = Ledger::open(path_);
    if (!opened) {
      came = Came::kRefused;
      EXPECT_FALSE(opened.error().mend.empty()) << what;
    } else {
      const auto findings = opened->check();
      if (!findings || !findings->empty()) {
        came = Came::kFound;
        opened_.push_back(what + ": " + one_line(findings ? findings->front() : findings.error()));
      } else {
        EXPECT_EQ(bodies_of(*opened), truth_) << what << ": damage that nobody notices";
        EXPECT_EQ(need(opened->digest()), digest_) << what;
        EXPECT_EQ(need(opened->claims(ledger::sample::trial())).size(), claims_) << what;
      }
    }
  }
  if (came == Came::kRefused) {
    EXPECT_EQ(ledger::sample::file_bytes(path_), bytes) << what;
  }
  ++counts_[came];
  if (came != Came::kHarmless) check_salvage(what);
  return came;
}

// Whatever is given back is what was kept, and every record is either whole or lost.
void Damaged::check_salvage(const std::string& what) {
  const auto found = ledger::salvage(path_);
  ASSERT_TRUE(found) << what << ": " << one_line(found.error());
  Bodies whole;
  for (const ledger::WholeRun& run : found->runs) {
    std::int64_t seq = run.span.first;
    for (const std::string& body : run.bodies) whole[{run.span.stream, seq++}] = body;
  }
  for (const auto& [place, body] : whole) {
    const auto kept = truth_.find(place);
    ASSERT_TRUE(kept != truth_.end() && kept->second == body) << what << ": a record was made up";
  }
  std::size_t lost = 0;
  for (const ledger::LostRun& run : found->lost)
    if (run.stream == mine_) lost += static_cast<std::size_t>(run.last - run.first + 1);
  const auto of_mine = [&](const Bodies& bodies) {
    return static_cast<std::size_t>(
        std::ranges::count_if(bodies, [&](const auto& each) { return each.first.first == mine_; }));
  };
  EXPECT_EQ(of_mine(whole) + lost, of_mine(truth_)) << what << ": records nobody tells of";
  if ((counts_[Came::kRefused] + counts_[Came::kFound]) % 25 == 1) check_rebuilt(what);
}

// What is in the damaged file, the season file or the copy is in the ledger that is made of them.
void Damaged::check_rebuilt(const std::string& what) {
  ++rebuilt_;
  const std::string made = folder_.file("made.ligule");
  for (const char* beside : {"", "-wal", "-shm", ".last"}) std::filesystem::remove(made + beside);
  ledger::sample::write_bytes(folder_.file("other.pub"),
                              seal::public_key_text(ledger::sample::start(900'000).public_key));
  std::ostringstream out, err;
  static_cast<void>(
      desk::run({"rebuild", "--ledger", made, "--key", path_ + ".pub", "--key",
                 folder_.file("other.pub"), season_, "--copy", path_, "--copy", copy_},
                out, err, *files_));
  const auto found = need(ledger::salvage(path_));
  const std::vector<gather::GivesBack> files{gather::gives_back(found, *files_, season_),
                                             gather::gives_back(found, *files_, copy_)};
  const auto lost = gather::still_lost(found, files);
  const Bodies held = bodies_of(need(Ledger::open(made, ledger::Access::kReadOnly)));
  for (const auto& [place, body] : truth_) {
    if (place.first != mine_) continue;
    const bool stays = std::ranges::any_of(lost, [&](const ledger::LostRun& run) {
      return run.stream == place.first && run.first <= place.second && place.second <= run.last;
    });
    const auto at = held.find(place);
    if (stays) continue;
    ASSERT_TRUE(at != held.end() && at->second == body)
        << what << ": record " << place.second << "\n"
        << out.str() << err.str();
  }
}

TEST_F(Damaged, EveryDamageIsNoticedAndNeverWrittenToOrDoesNoHarm) {
  std::mt19937_64 random(20261128);
  const std::size_t pages = sound_.size() / kPageBytes;
  ASSERT_GT(pages, 40U);
  const std::size_t flips = damages_wanted();
  for (std::size_t n = 0; n < flips; ++n) {
    // Even steps over the whole file, so that every page is met.
    const std::size_t step = sound_.size() / flips;
    const std::size_t at =
        std::min(n * step + random() % std::max<std::size_t>(step, 1), sound_.size() - 1);
    std::string bytes = sound_;
    bytes[at] = static_cast<char>(static_cast<std::uint8_t>(bytes[at]) ^ (1U << random() % 8));
    look(bytes, "byte " + std::to_string(at));
  }
  for (std::size_t n = 0; n < 30; ++n) {
    const std::size_t size = n < 10 ? n * kPageBytes : 1 + random() % (sound_.size() - 1);
    if (size > 2 * kPageBytes) look(sound_.substr(0, size), "cut to " + std::to_string(size));
  }
  for (std::size_t page = 0; page < pages; ++page) {
    std::string bytes = sound_;
    bytes.replace(page * kPageBytes, kPageBytes, kPageBytes, '\0');
    look(bytes, "page " + std::to_string(page + 1) + " zeroed");
  }
  for (std::size_t n = 0; n < 60; ++n) {
    const std::size_t one = random() % pages;
    const std::size_t other = (one + 1 + random() % (pages - 1)) % pages;
    std::string bytes = sound_;
    bytes.replace(one * kPageBytes, kPageBytes, sound_, other * kPageBytes, kPageBytes);
    bytes.replace(other * kPageBytes, kPageBytes, sound_, one * kPageBytes, kPageBytes);
    look(bytes,
         "pages " + std::to_string(one + 1) + " and " + std::to_string(other + 1) + " exchanged");
  }
  std::cout << flips << " bytes flipped, " << pages
            << " pages zeroed, 60 exchanged, cut 28 times: " << counts_[Came::kRefused]
            << " refused at opening, file untouched; " << counts_[Came::kHarmless]
            << " harmless, every record as it was; rebuilt " << rebuilt_ << " times\n";
  EXPECT_THAT(opened_, testing::IsEmpty()) << "it would have been written to";
  EXPECT_GT(counts_[Came::kRefused], flips / 2);
  EXPECT_GT(rebuilt_, 10U);
}

}  // namespace
}  // namespace ligule::faults
