// Sealing from a real ledger: what is written, what is left alone, and what a failing disk leaves.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/files/no_threads.h"
#include "tests/storage/ledger/sample.h"
#include "tests/sync/seal/sealed_again.h"

namespace ligule::seal {
namespace {

using ledger::Ledger;
using ledger::sample::need;
using testing::HasSubstr;
using testing::SizeIs;

class Sealing : public testing::Test {
 protected:
  Sealing() { need(begin_stream(ledger_, *files_, beginning_)); }

  void record(std::uint64_t n, const char* plot, const char* entered) {
    need(ledger_.append({ledger::sample::reading(n, plot, "percent_stand", entered)}));
  }
  void record_some() {
    need(ledger_.append({ledger::sample::plan_record(10, ledger::sample::plan())}));
    record(11, "101", "85");
    record(12, "102", "70");
  }
  files::Path folder(const char* name) {
    need(files_->make_folders(folder_ / name));
    return folder_ / name;
  }
  Result<Sealed> seal(const files::Path& to, std::int64_t first = 1, std::int64_t at = 0) {
    const auto key = key_of_stream(ledger_, *files_);
    if (!key) return std::unexpected(key.error());
    return write_season_file(ledger_, *files_, *key,
                             {to, first, UtcInstant(std::chrono::seconds(at))});
  }
  Result<ledger::StreamInfo> read_back_stream(const Sealed& sealed) {
    const auto season = read_season_file(*files_, sealed.file);
    if (!season) return std::unexpected(season.error().front());
    return season->stream;
  }
  std::string bytes_of_file(const files::Path& file) {
    return need(files_->read(file, kMaxFileBytes));
  }

  files::TestFolder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Beginning beginning_{"North 1", "ligule test", ledger::sample::at(0)};
  std::string path_ = (folder_ / "north.ligule").string();
  Ledger ledger_ = need(Ledger::create(path_));
};

TEST_F(Sealing, IsDoneAndReadWhereNoThreadCanBeHad) {
  record_some();
  Season large;  // enough to be read by two threads
  for (int n = 0; n < 2; ++n) large.add_note(std::string(std::size_t{1'000'000}, 'x'));
  const std::string bytes = large.sealed();
  const files::Path out = folder("out");
  const files::NoThreads none;
  EXPECT_EQ(need(seal(out)).outcome, SealOutcome::kWritten);
  EXPECT_TRUE(read_season_bytes(bytes, "large.zip"));
}

TEST_F(Sealing, WritesAFileThatHoldsAndNotesTheSeal) {
  record_some();
  const Sealed sealed = need(seal(folder("out"), 1, 77));
  EXPECT_EQ(sealed.outcome, SealOutcome::kWritten);
  EXPECT_EQ(sealed.span.last, 4);
  const auto season = read_season_file(*files_, sealed.file);
  ASSERT_TRUE(season) << one_line(season.error().front());
  EXPECT_EQ(season->span, sealed.span);
  EXPECT_EQ(season->sha256, sealed.sha256);
  EXPECT_EQ(season->bodies,
            ledger::sample::bodies(ledger_, sealed.span.stream, 1, sealed.span.last));
  const auto seals = need(ledger_.seals());
  ASSERT_THAT(seals, SizeIs(1));
  EXPECT_EQ(seals[0].file_sha256, sealed.sha256);
  EXPECT_EQ(seals[0].at, UtcInstant(std::chrono::seconds(77)));
  EXPECT_EQ(seals[0].file_name, sealed.file.filename().string());
  EXPECT_EQ(need(ledger_.spans())[0].last, 4) << "sealing adds no record";
}

TEST_F(Sealing, SameRecordsGiveSameBytesAtAnotherTimeAndMask) {
  record_some();
  const mode_t before = umask(0077);
  const Sealed first = need(seal(folder("a"), 1, 1000));
  umask(0);
  const Sealed second = need(seal(folder("b"), 1, 2000000));
  umask(before);
  EXPECT_EQ(second.outcome, SealOutcome::kCopied);
  EXPECT_EQ(bytes_of_file(first.file), bytes_of_file(second.file));
  EXPECT_EQ(first.file.filename(), second.file.filename());
}

TEST_F(Sealing, WithNothingNewLeavesTheLastFileAsItIs) {
  record_some();
  const Sealed first = need(seal(folder("out")));
  const auto written = std::filesystem::last_write_time(first.file);
  const Sealed second = need(seal(folder("out")));
  EXPECT_EQ(second.outcome, SealOutcome::kNothingNew);
  EXPECT_EQ(second.file, first.file);
  EXPECT_EQ(std::filesystem::last_write_time(first.file), written);
  EXPECT_THAT(need(ledger_.seals()), SizeIs(1));
}

// The rows that a file of records first..last holds.
std::string rows_of(const Ledger& ledger, const ledger::Span& span) {
  std::string rows = records_header();
  for (const std::string& body : ledger::sample::bodies(ledger, span.stream, span.first, span.last))
    rows += body + "\r\n";
  return rows;
}

// What another version sealed of the same records has other bytes, and is as good.
TEST_F(Sealing, AFileOfAnotherVersionIsLeftAndCounts) {
  record_some();
  const Sealed first = need(seal(folder("out")));
  const auto stream = need(read_back_stream(first));
  const std::string old = sealed_of_old({stream, first.span}, rows_of(ledger_, first.span),
                                        need(key_of_stream(ledger_, *files_)));
  ASSERT_NE(old, bytes_of_file(first.file));
  ledger::sample::write_bytes(first.file.string(), old);
  const Sealed again = need(seal(folder("out")));
  EXPECT_EQ(again.outcome, SealOutcome::kNothingNew);
  EXPECT_EQ(again.sha256, sha256(old));
  EXPECT_EQ(bytes_of_file(first.file), old);
  // The copy on a stick may be of either.
  const files::Path copy = folder("stick") / first.file.filename();
  const Sealed now = need(seal(folder("now")));
  ledger::sample::write_bytes(copy.string(), old);
  EXPECT_EQ(need(copy_season_file(*files_, now.file, folder("stick"))), copy);
  EXPECT_EQ(bytes_of_file(copy), old);
}

// Records from the middle of a stream say nothing of its key: a stranger may have signed them.
TEST_F(Sealing, AFileThatAStrangerSignedIsNeverTakenForOurs) {
  record_some();
  const Sealed ours = need(seal(folder("out"), 3));
  auto stream = need(read_back_stream(ours));
  stream.public_key = test_key(99).public_key();
  const std::string strange =
      sealed_of_old({stream, ours.span}, rows_of(ledger_, ours.span), test_key(99));
  ASSERT_TRUE(read_season_bytes(strange, "s.zip")) << "it holds by itself";
  ledger::sample::write_bytes(ours.file.string(), strange);
  const auto sealed = seal(folder("out"), 3);
  ASSERT_FALSE(sealed);
  EXPECT_EQ(sealed.error().kind, ErrorKind::kConflict);
  EXPECT_EQ(bytes_of_file(ours.file), strange);
  const Sealed elsewhere = need(seal(folder("elsewhere"), 3));
  const auto copied = copy_season_file(*files_, elsewhere.file, folder("out"));
  ASSERT_FALSE(copied);
  EXPECT_EQ(copied.error().kind, ErrorKind::kConflict);
}

TEST_F(Sealing, ANewRecordMakesANewFileBesideTheOld) {
  record_some();
  const Sealed first = need(seal(folder("out")));
  record(13, "201", "60");
  const Sealed second = need(seal(folder("out")));
  EXPECT_EQ(second.outcome, SealOutcome::kWritten);
  EXPECT_NE(second.file, first.file);
  EXPECT_TRUE(std::filesystem::exists(first.file));
  EXPECT_THAT(need(ledger_.seals()), SizeIs(2));
}

TEST_F(Sealing, APartBeginsAtTheRecordAsked) {
  record_some();
  const Sealed part = need(seal(folder("out"), 3));
  const auto season = read_season_file(*files_, part.file);
  ASSERT_TRUE(season) << one_line(season.error().front());
  EXPECT_EQ(season->span.first, 3);
  EXPECT_EQ(season->span.before, need(ledger_.digest_at(part.span.stream, 2)));
  EXPECT_THAT(season->bodies, SizeIs(2));
}

TEST_F(Sealing, RefusesToBeginWhereNoRecordIs) {
  record_some();
  for (const std::int64_t first : {std::int64_t{0}, std::int64_t{5}}) {
    const auto sealed = seal(folder("out"), first);
    ASSERT_FALSE(sealed);
    EXPECT_EQ(sealed.error().kind, ErrorKind::kNotFound);
    EXPECT_THAT(sealed.error().mend, HasSubstr("newest record is 4"));
  }
}

TEST_F(Sealing, NeedsTheStreamsOwnKey) {
  const auto sealed =
      write_season_file(ledger_, *files_, test_key(), {folder("out"), 1, UtcInstant{}});
  ASSERT_FALSE(sealed);
  EXPECT_EQ(sealed.error().kind, ErrorKind::kConflict);
  std::filesystem::remove(path_ + ".key");
  EXPECT_EQ(key_of_stream(ledger_, *files_).error().kind, ErrorKind::kNotFound);
  need(keep_secret_key(*files_, path_, test_key()));
  EXPECT_EQ(key_of_stream(ledger_, *files_).error().kind, ErrorKind::kConflict);
}

// A tablet whose key was lost, spoilt or exchanged goes on: with a new key and stream, under its
// name, and nothing that lay in the key's place is lost.
TEST_F(Sealing, GoesOnWithANewKeyWhereItsOwnIsLost) {
  const auto first = *ledger_.my_stream();
  const auto begin_again = [&] {
    return need(begin_stream(ledger_, *files_, {"Other", "ligule test", ledger::sample::at(9)}));
  };
  std::filesystem::remove(path_ + ".key");
  const auto second = begin_again();
  EXPECT_NE(second.id, first.id);
  EXPECT_EQ(second.continues, first.id);
  EXPECT_EQ(second.device, first.device);
  EXPECT_NE(second.public_key, first.public_key);
  EXPECT_EQ(need(key_of_stream(ledger_, *files_)).public_key(), second.public_key);
  EXPECT_EQ(need(load_public_key(*files_, path_ + ".pub")), second.public_key);
  EXPECT_EQ(need(load_public_key(*files_, path_ + ".pub.odd-1")), first.public_key);
  EXPECT_EQ(begin_again().id, second.id) << "once";

  ledger::sample::write_bytes(path_ + ".key", "spoilt");
  const auto third = begin_again();
  EXPECT_EQ(third.continues, second.id);
  EXPECT_EQ(need(files_->read(path_ + ".key.odd-1", 100)), "spoilt");

  std::filesystem::remove(path_ + ".key");
  need(keep_secret_key(*files_, path_, test_key()));
  EXPECT_EQ(begin_again().continues, third.id);
  EXPECT_TRUE(std::filesystem::exists(path_ + ".key.odd-2")) << "another tablet's key is kept";
  need(ledger_.append({ledger::sample::plan_record(500, ledger::sample::plan())}));
  EXPECT_EQ(need(ledger_.check()).size(), 0U);
  const auto key = need(key_of_stream(ledger_, *files_));
  EXPECT_TRUE(write_season_file(ledger_, *files_, key, {folder("out"), 1, UtcInstant{}}));
}

TEST_F(Sealing, AKeyOfItsOwnThatComesBackIsUsedAgain) {
  const std::string kept = path_ + ".kept";
  std::filesystem::rename(path_ + ".key", kept);
  const auto first = *ledger_.my_stream();
  const auto second =
      need(begin_stream(ledger_, *files_, {"x", "ligule test", ledger::sample::at(9)}));
  ASSERT_NE(second.public_key, first.public_key);
  std::filesystem::rename(kept, path_ + ".key");
  const auto third =
      need(begin_stream(ledger_, *files_, {"x", "ligule test", ledger::sample::at(9)}));
  EXPECT_NE(third.id, first.id) << "a stream that ended is not gone on with";
  EXPECT_EQ(third.public_key, first.public_key) << "desks know it";
}

TEST_F(Sealing, ALedgerNamedByALinkHasOneKey) {
  const std::string link = path_ + ".link";
  std::filesystem::create_symlink(path_, link);
  Ledger by_link = need(Ledger::open(link));
  EXPECT_EQ(need(begin_stream(by_link, *files_, beginning_)), *ledger_.my_stream());
  EXPECT_FALSE(std::filesystem::exists(link + ".key"));
}

// Nothing is begun where the key is there and can't be read: it may come back.
TEST_F(Sealing, WaitsForAKeyThatCannotBeRead) {
  const auto first = *ledger_.my_stream();
  std::filesystem::remove(path_ + ".key");
  std::filesystem::create_directory(path_ + ".key");
  const auto begun = begin_stream(ledger_, *files_, beginning_);
  ASSERT_FALSE(begun);
  EXPECT_EQ(begun.error().kind, ErrorKind::kIo);
  EXPECT_EQ(ledger_.my_stream()->id, first.id);
}

TEST_F(Sealing, ALedgerWithoutAStreamHasNothingToSeal) {
  Ledger empty = need(Ledger::create((folder_ / "empty.ligule").string()));
  const auto sealed = write_season_file(empty, *files_, test_key(), {folder("out"), 1, {}});
  ASSERT_FALSE(sealed);
  EXPECT_EQ(sealed.error().kind, ErrorKind::kNotFound);
  EXPECT_EQ(key_of_stream(empty, *files_).error().kind, ErrorKind::kNotFound);
}

TEST_F(Sealing, NeverReplacesAFileOfOtherContents) {
  record_some();
  const Sealed sealed = need(seal(folder("out")));
  ledger::sample::write_bytes(sealed.file.string(), "something else");
  const auto again = seal(folder("out"));
  ASSERT_FALSE(again);
  EXPECT_EQ(again.error().kind, ErrorKind::kConflict);
  EXPECT_EQ(bytes_of_file(sealed.file), "something else");
}

TEST_F(Sealing, ADamagedLedgerIsNotSealed) {
  record_some();
  ASSERT_EQ(ledger::sample::raw_sql(path_, "DROP TRIGGER record_no_update"), "");
  ASSERT_EQ(ledger::sample::raw_sql(
                path_, "UPDATE record SET body=replace(body,',85,,85,',',95,,95,') WHERE seq=3"),
            "");
  const auto sealed = seal(folder("out"));
  ASSERT_FALSE(sealed);
  EXPECT_EQ(sealed.error().kind, ErrorKind::kDamaged);
  EXPECT_TRUE(std::filesystem::is_empty(folder("out")));
}

// Every act on a file fails in turn: the seal is then not noted, nothing stands under the final
// name but a whole file, and the next try succeeds.
TEST_F(Sealing, WhenTheDiskFailsNothingHalfIsLeft) {
  record_some();
  const auto key = need(key_of_stream(ledger_, *files_));
  files::FaultyFileSystem faulty(*files_);
  std::size_t failed = 0;
  for (std::size_t act = 1;; ++act) {
    const files::Path to = folder(("out" + std::to_string(act)).c_str());
    faulty.fail_at(act);
    const auto sealed = write_season_file(ledger_, faulty, key, {to, 1, UtcInstant{}});
    if (sealed) break;
    ++failed;
    EXPECT_EQ(sealed.error().kind, ErrorKind::kIo) << one_line(sealed.error());
    EXPECT_THAT(need(ledger_.seals()), SizeIs(0)) << "act " << act;
    EXPECT_TRUE(std::filesystem::is_empty(to)) << "act " << act;
  }
  EXPECT_GE(failed, 4U);  // look, write, read back, rename
  EXPECT_THAT(need(ledger_.seals()), SizeIs(1));
}

TEST_F(Sealing, AWornOutStickIsNoticedAndNamed) {
  record_some();
  const auto key = need(key_of_stream(ledger_, *files_));
  const Sealed good = need(seal(folder("good")));
  files::FaultyFileSystem worn(*files_);
  files::Path part = folder("stick") / good.file.filename();
  part += ".part";
  worn.read_differently(part);
  const auto sealed = write_season_file(ledger_, worn, key, {folder("stick"), 1, UtcInstant{}});
  ASSERT_FALSE(sealed);
  EXPECT_EQ(sealed.error().kind, ErrorKind::kDamaged);
  EXPECT_TRUE(std::filesystem::is_empty(folder("stick")));
}

TEST_F(Sealing, CopiesAreReadBackFromTheSecondPlace) {
  record_some();
  const Sealed sealed = need(seal(folder("out")));
  const files::Path copy = need(copy_season_file(*files_, sealed.file, folder("stick")));
  EXPECT_EQ(bytes_of_file(copy), bytes_of_file(sealed.file));
  files::FaultyFileSystem worn(*files_);
  worn.read_differently(folder("worn") / sealed.file.filename());
  EXPECT_EQ(copy_season_file(worn, sealed.file, folder("worn")).error().kind, ErrorKind::kDamaged);
  EXPECT_TRUE(std::filesystem::is_empty(folder("worn")));
  ledger::sample::write_bytes(sealed.file.string(), "PK\x03\x04 spoiled");
  EXPECT_EQ(copy_season_file(*files_, sealed.file, folder("third")).error().kind,
            ErrorKind::kDamaged);
}

std::string of_a_later_format(const std::string& sealed) {
  auto members = need(read_container(sealed, "s.zip"));
  std::string info(members[0].bytes);
  info.replace(info.find("Format: 2"), 9, "Format: 9");
  members[0].bytes = info;
  return need(container_bytes(members));
}

// Proves: another season file of that name is left where it lies and told with both names, also one
// of a later version; a torn copy is put aside and written anew; the same bytes are not written
// again.
TEST_F(Sealing, ACopyNeverReplacesAnotherSeasonFile) {
  record_some();
  const Sealed sealed = need(seal(folder("out")));
  const files::Path at = folder("stick") / sealed.file.filename();
  const std::string other =
      bytes_of_file(files::Path(LIGULE_TEST_DATA) / "sync/seal/data/format1.zip");
  ledger::sample::write_bytes(at.string(), other);
  const auto copied = copy_season_file(*files_, sealed.file, folder("stick"));
  ASSERT_FALSE(copied);
  EXPECT_EQ(copied.error().kind, ErrorKind::kConflict);
  EXPECT_EQ(copied.error().where, at.string());
  EXPECT_EQ(copied.error().mend, "move it away, then copy " + sealed.file.string() + " again");
  EXPECT_EQ(bytes_of_file(at), other);

  const std::string later = of_a_later_format(bytes_of_file(sealed.file));
  ledger::sample::write_bytes(at.string(), later);
  EXPECT_EQ(copy_season_file(*files_, sealed.file, folder("stick")).error().kind,
            ErrorKind::kConflict);
  EXPECT_EQ(bytes_of_file(at), later);

  const std::string torn = bytes_of_file(sealed.file).substr(0, 200);
  ledger::sample::write_bytes(at.string(), torn);
  EXPECT_TRUE(copy_season_file(*files_, sealed.file, folder("stick")));
  EXPECT_EQ(bytes_of_file(at), bytes_of_file(sealed.file));
  EXPECT_EQ(bytes_of_file(at.string() + ".odd-1"), torn);

  const auto written = std::filesystem::last_write_time(at);
  std::filesystem::last_write_time(at, written - std::chrono::hours(1));
  EXPECT_TRUE(copy_season_file(*files_, sealed.file, folder("stick"))) << "it is there already";
  EXPECT_EQ(std::filesystem::last_write_time(at), written - std::chrono::hours(1));
}

TEST_F(Sealing, AStreamThatIsThereIsLeftAsItIs) {
  const auto before = ledger_.my_stream();
  const auto again =
      need(begin_stream(ledger_, *files_, {"Other", "ligule-desk test", ledger::sample::at(9)}));
  EXPECT_EQ(again, before);
  EXPECT_EQ(need(ledger_.spans())[0].last, 1) << "of one version both programs are one";
}

TEST_F(Sealing, AnotherVersionOfTheSoftwareLeavesATrace) {
  const auto before = ledger_.my_stream();
  for (int start = 0; start < 2; ++start) {
    EXPECT_EQ(need(begin_stream(ledger_, *files_, {"Other", "ligule 2", ledger::sample::at(9)})),
              before);
    EXPECT_EQ(need(ledger_.software_told()), "ligule 2");
    EXPECT_EQ(need(ledger_.spans())[0].last, 2) << "said once";
  }
  need(begin_stream(ledger_, *files_, {"Other", "ligule 1", ledger::sample::at(19)}));
  EXPECT_EQ(need(ledger_.software_told()), "ligule 1") << "back to the version before";
  const auto told = need(ledger_.of_kind(kind::kSoftware));
  ASSERT_THAT(told, SizeIs(2));
  EXPECT_EQ(told[0].details, R"({"software":"ligule 2"})");
  EXPECT_EQ(told[0].person, std::nullopt);
}

TEST_F(Sealing, ARestoredCopyBeginsAStreamThatContinuesTheOld) {
  record_some();
  const std::string copy = (folder_ / "copy.ligule").string();
  need(ledger_.backup_to(copy));
  Ledger restored = need(Ledger::open(copy));
  ASSERT_FALSE(restored.my_stream());
  const auto stream = need(begin_stream(restored, *files_, beginning_));
  EXPECT_EQ(stream.continues, ledger_.my_stream()->id);
  EXPECT_NE(stream.public_key, ledger_.my_stream()->public_key) << "the key lies beside a ledger";
  const auto key = need(key_of_stream(restored, *files_));
  const Sealed sealed =
      need(write_season_file(restored, *files_, key, {folder("out"), 1, UtcInstant{}}));
  const auto season = read_season_file(*files_, sealed.file);
  ASSERT_TRUE(season) << one_line(season.error().front());
  EXPECT_EQ(season->stream.continues, stream.continues);
}

TEST_F(Sealing, DemonstrationsComeOutTheSameAndAreMarked) {
  Beginning demo{"Demo", "ligule test", ledger::sample::at(0), true};
  std::vector<ledger::StreamInfo> streams;
  for (const char* name : {"d1.ligule", "d2.ligule"}) {
    Ledger made = need(Ledger::create((folder_ / name).string()));
    streams.push_back(need(begin_stream(made, *files_, demo)));
  }
  EXPECT_EQ(streams[0], streams[1]);
  EXPECT_TRUE(streams[0].demo);
  Ledger other = need(Ledger::create((folder_ / "d3.ligule").string()));
  demo.device = "Demo 2";
  const auto third = need(begin_stream(other, *files_, demo));
  EXPECT_NE(third.id, streams[0].id);
  EXPECT_NE(third.public_key, streams[0].public_key);
}

}  // namespace
}  // namespace ligule::seal
