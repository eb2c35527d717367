// Rows of a ledger that stand somewhere in the bytes of a damaged database file or its log.
//
// They are found by their shape, wherever in a page they lie, by the published file format alone
// (sqlite.org/fileformat2.html, sections 1.6, 2.1, 4): a damaged root, index or page header hides
// no row, and nothing of SQLite runs on strange bytes. What is found proves nothing by itself:
// pages keep old bytes, and damage may look like a row. Pure; private to storage/ledger.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "storage/ledger/ledger.h"

namespace ligule::ledger {

struct FoundRecord {
  StreamId stream;  // as its columns say, like seq
  std::int64_t seq = 0;
  std::string body;
  Digest digest;
};

// Where a run of records begins, and the digest before it.
struct FoundStart {
  StreamId stream;
  std::int64_t first = 0;
  Digest before;
};

struct FoundRows {
  std::vector<FoundRecord> records;
  std::vector<FoundStart> starts;
  std::vector<StreamInfo> streams;
};

// file: the database; log: its write-ahead log, empty without one. A row may be found several
// times. Of rows four times the bytes that are searched are kept at most: no ledger has more, and a
// file that is made to fill memory can't. Whatever the log's head says, all its frames are
// searched.
[[nodiscard]] FoundRows found_rows(std::string_view file, std::string_view log);

}  // namespace ligule::ledger
