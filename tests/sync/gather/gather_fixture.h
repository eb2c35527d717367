// A desk's ledger, and season files to gather into it.
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <memory>
#include <string>

#include "sync/gather/gather.h"
#include "sync/gather/trusted.h"
#include "tests/storage/ledger/sample.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::gather {

class Gathering : public testing::Test {
 protected:
  std::string write(const std::string& name, const std::string& bytes) {
    const std::string path = folder_.file(name);
    ledger::sample::write_bytes(path, bytes);
    return path;
  }
  ledger::Ledger desk(const std::string& name = "desk.ligule") {
    return ledger::sample::need(ledger::Ledger::create(folder_.file(name)));
  }
  void trust(ledger::Ledger& ledger, const seal::Season& season, const std::string& label) {
    ledger::sample::need(ledger.trust({season.key.public_key(), label, ledger::Trust::kTrusted}));
  }
  files::Checked<Gathered> take(ledger::Ledger& ledger, const std::string& file) {
    return gather_file(ledger, *files_, file, UtcInstant{});
  }
  // The one fault of a file that must be refused, leaving the ledger as it was.
  Error refused(ledger::Ledger& ledger, const std::string& file) {
    const Digest before = ledger::sample::need(ledger.digest());
    const auto taken = take(ledger, file);
    EXPECT_EQ(ledger::sample::need(ledger.digest()), before);
    if (!taken) return taken.error().front();
    ADD_FAILURE() << file << " was taken";
    return {};
  }

  ledger::sample::Folder folder_{true};
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
};

}  // namespace ligule::gather
