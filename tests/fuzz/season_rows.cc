// What a tablet with a slip, or somebody with a tablet's key, could sign: any records, well sealed.
#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/trial/record_line.h"
#include "sync/gather/gather.h"
#include "sync/seal/season_file.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/targets.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::fuzz {
namespace {

using namespace seal;

constexpr std::size_t kMostRows = 60;

// The line as the next of this stream, where it can be taken apart; else as it is.
std::string next_body(const Season& season, std::string_view line) {
  auto cells = split_line(line);
  if (!cells || cells->size() < 2) return std::string(line);
  (*cells)[0] = season.table.stream.id.text();
  (*cells)[1] = std::to_string(season.bodies.size() + 1);
  return join_line(*cells);
}

Season season_of(std::string_view lines) {
  Season season;
  while (!lines.empty() && season.bodies.size() < kMostRows) {
    const std::size_t end = std::min(lines.find('\n'), lines.size());
    season.add_body(next_body(season, lines.substr(0, end)));
    lines.remove_prefix(std::min(end + 1, lines.size()));
  }
  return season;
}

// A desk that trusts the tablet's key and holds the records of one season file.
void judge_gathered(const SeasonFile& season) {
  auto desk = ledger::Ledger::in_memory();
  require(desk.has_value(), "memory holds a ledger");
  const auto trusted = desk->trust({season.stream.public_key, "tablet", ledger::Trust::kTrusted});
  require(trusted.has_value(), "a key can be trusted");
  const UtcInstant now{std::chrono::milliseconds(kTestStart)};
  const auto taken = gather::gather_season(*desk, season, "s.zip", now, ledger::Branch::kAny,
                                           gather::Vouched::kByKey);
  if (!taken) {
    require(!taken.error().empty(), "what is not taken in has a reason");
    const auto streams = desk->streams();
    require(streams.has_value() && streams->empty(), "what is refused leaves no record");
    return;
  }
  require(taken->absorbed.added == static_cast<std::int64_t>(season.bodies.size()),
          "every record of a season file is taken in");
  const auto whole = desk->check();
  require(whole.has_value() && whole->empty(), "a desk's ledger is whole after taking in");
  const auto again = gather::gather_season(*desk, season, "s.zip", now, ledger::Branch::kAny,
                                           gather::Vouched::kByKey);
  require(again.has_value() && again->absorbed.added == 0, "taken in twice is taken in once");
  require(gather::gaps(*desk).has_value(), "gaps can be asked for");
  require(gather::conflicts(*desk).has_value(), "conflicts can be asked for");
}

}  // namespace

void season_rows(std::string_view input) {
  const Season season = season_of(input);
  const auto bytes = season_bytes(season.table, season.records_csv(), season.key);
  if (!bytes) return;  // the last row has no time that could be read
  const auto read = read_season_bytes(*bytes, "s.zip");
  if (!read) {
    require(!read.error().empty(), "a season file that is refused has a fault");
    return;
  }
  require(read->bodies == season.bodies, "a season file gives back the records it was made of");
  require(differing_tables(*read).value_or(std::vector<std::string>{}).empty(),
          "the tables of a file are those that its records make");
  judge_gathered(*read);
}

}  // namespace ligule::fuzz
