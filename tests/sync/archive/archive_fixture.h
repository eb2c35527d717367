// An archive in a database of its own, and seasons to take into it.
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "sync/archive/archive.h"
#include "tests/storage/ledger/sample.h"
#include "tests/sync/archive/postgres.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::archive {

class Archived : public testing::Test {
 protected:
  static seal::SeasonFile read(const std::string& bytes) {
    return seal::read_season_bytes(bytes, "season.zip").value();
  }
  // Everything a ledger's own stream holds, as if it had been sealed.
  static seal::SeasonFile season_of(const ledger::Ledger& ledger) {
    seal::SeasonFile season;
    season.stream = ledger::sample::need(ledger.streams()).front();
    season.stream.mine = false;
    season.span = ledger::sample::need(ledger.spans()).front();
    season.bodies = ledger::sample::bodies(ledger, season.span.stream, 1, season.span.last);
    season.name = "season";
    season.sha256 = season.span.head;
    return season;
  }
  // A season of a tablet whose ledger was made for demonstration.
  static seal::Season demo_season(std::uint8_t fill) {
    seal::Season season(fill);
    season.table.stream.demo = true;
    season.bodies.clear();
    Record first = season.envelope(kind::kStream);
    first.details = details_text({{"demo", "1"},
                                  {"device", season.table.stream.device},
                                  {"public_key", seal::hex(season.table.stream.public_key)},
                                  {"software", "ligule test"}});
    season.add(first);
    return season;
  }

  Archive open(ledger::Access access = ledger::Access::kReadWrite) {
    return ledger::sample::need(Archive::open(database_.url(), access));
  }
  // The digest of a ledger in SQLite that took in the same.
  Digest digest_in_sqlite(const std::vector<seal::SeasonFile>& files) {
    const ledger::sample::Folder folder(true);
    auto ledger = ledger::sample::need(ledger::Ledger::create(folder.file("same.ligule")));
    for (const seal::SeasonFile& file : files) {
      const auto absorbed =
          ledger.absorb(file.stream, file.span.first, file.span.before, file.bodies);
      EXPECT_TRUE(absorbed) << file.name;
    }
    return ledger::sample::need(ledger.digest());
  }
  std::string count(const std::string& table) {
    return Sql(database_.name).run("SELECT count(*) FROM ligule." + table);
  }

  Database database_;
  ledger::sample::Folder folder_{true};
};

}  // namespace ligule::archive
