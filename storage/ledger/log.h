// The log's rows: streams, records, spans. Private to storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/ledger/connection.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/record_line.h"

namespace ligule::ledger {

// Longest body of a record, in bytes (sync/seal/FORMAT.md 2).
inline constexpr std::size_t kLongestBody = std::size_t{1} << 20U;

struct Head {
  std::int64_t seq = 0;  // 0: the stream has no record
  Digest digest;
};

[[nodiscard]] std::optional<StreamInfo> stream_info(Connection& connection, StreamId stream);
void insert_stream(Connection& connection, const StreamInfo& stream);
[[nodiscard]] Head head_of(Connection& connection, StreamId stream);
// Empty when the record is not held.
[[nodiscard]] std::optional<Digest> digest_of(Connection& connection, StreamId stream,
                                              std::int64_t seq);
// Gives the record's row.
std::int64_t insert_record(Connection& connection, const Envelope& envelope, std::string_view body,
                           const Digest& digest);
void insert_span_start(Connection& connection, StreamId stream, std::int64_t first,
                       const Digest& before);
[[nodiscard]] std::vector<Span> spans_of(Connection& connection,
                                         const std::optional<StreamId>& stream);

// What a record of kind stream says, and back. kInvalid.
[[nodiscard]] Record stream_record(const StreamStart& start,
                                   const std::optional<StreamId>& continues);
[[nodiscard]] Result<StreamInfo> read_stream_record(const Record& record);

}  // namespace ligule::ledger
