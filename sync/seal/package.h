// The two tables that every season file holds, stream.csv and records.csv, as text (FORMAT.md 4).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "storage/ledger/ledger.h"

namespace ligule::seal {

// What stream.csv says: whose records these are, and where in the stream they stand.
struct StreamTable {
  ledger::StreamInfo stream;  // mine is not kept
  ledger::Span span;

  bool operator==(const StreamTable&) const = default;
};

// "season-<stream>-<first>-<last>".
[[nodiscard]] std::string season_name(const ledger::Span& span);

// The two lines of stream.csv, and back. kDamaged names column and what is wrong with it.
[[nodiscard]] std::string stream_csv(const StreamTable& table);
[[nodiscard]] Result<StreamTable> parse_stream_csv(std::string_view text);

// The header line of records.csv with its line end.
[[nodiscard]] std::string records_header();

}  // namespace ligule::seal
