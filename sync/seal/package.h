// The Data Package inside a season file: stream.csv, records.csv and the datapackage.json that
// describes them (FORMAT.md 4; Data Package standard 2.0 with Table Schemas).
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

// datapackage.json. created is the last record's instant. Part of the format: no byte of it may
// change for files of format 1.
[[nodiscard]] std::string data_package(const StreamTable& table, UtcInstant created,
                                       std::string_view stream_csv, std::string_view records_csv);

}  // namespace ligule::seal
