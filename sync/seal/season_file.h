// Season files: what leaves a tablet at the day's end (FORMAT.md).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"
#include "sync/seal/container.h"
#include "sync/seal/keys.h"
#include "sync/seal/package.h"

namespace ligule::seal {

// --- writing ------------------------------------------------------------------------------------

struct SealOrder {
  files::Path folder;      // must exist
  std::int64_t first = 1;  // the whole stream, so that each file is complete alone
  UtcInstant now;          // by the wall clock; noted in the ledger, never in the file
};

enum class SealOutcome {
  kWritten,     // a file with records that no earlier file holds
  kCopied,      // nothing new since the last file, but this folder had none: the same records again
  kNothingNew,  // nothing new, and the last file is there and whole
};

struct Sealed {
  SealOutcome outcome = SealOutcome::kWritten;
  files::Path file;
  ledger::Span span;
  Digest sha256;  // of the whole file
  std::uint64_t bytes = 0;
};

// Seals first..newest of the ledger's own stream: checks the ledger whole, writes NAME.zip under a
// temporary name, forces it to the disk, drops it from memory, reads it back, verifies all of it,
// gives it its name, and only then notes the seal in the ledger. Adds no record; same records and
// key, same bytes. kNotFound without a stream or with first past the newest record; kConflict when
// the key is not the stream's, or a file of that name with other records is there (it is left as
// it is; the same records that another version sealed are as good); kDamaged when the ledger is not
// whole or the file reads back differently (it is removed); kIo.
[[nodiscard]] Result<Sealed> write_season_file(ledger::Ledger& ledger, files::FileSystem& files,
                                               const SecretKey& key, const SealOrder& order);

// Copies a season file to a second place (a stick, a card), reads the copy back from there and
// verifies it. The same bytes there already are read back and nothing is written; what is no whole
// file is put aside (set_aside()), never overwritten. Errors as copy_durably(), kDamaged when the
// file itself does not hold, and kConflict, naming both, when another season file has that name
// there: it is left as it is.
[[nodiscard]] Result<files::Path> copy_season_file(files::FileSystem& files,
                                                   const files::Path& file,
                                                   const files::Path& folder);

// The bytes of the season file of some rows: records_csv is the header and one line a record, CRLF
// after each. The pure part of sealing. kInvalid when the last row cannot be read or the whole is
// too large; what is written is checked by reading it, not here.
[[nodiscard]] Result<std::string> season_bytes(const StreamTable& table,
                                               std::string_view records_csv, const SecretKey& key);

// --- reading ------------------------------------------------------------------------------------

// What is to be told of single records: the first few, and how many they are. A hostile file may
// have a million of them.
struct Told {
  static constexpr std::size_t kNamed = 5;

  std::vector<Error> first;
  std::int64_t count = 0;

  void add(Error error);
};

// One of the wide tables of a season file.
struct SeasonTable {
  std::string name;
  std::int64_t rows = 0;
  Digest sha256;  // of its bytes

  bool operator==(const SeasonTable&) const = default;
};

// A season file that holds. What it says is true as far as the tablet's key is: whether that key is
// known is a question of trust, which gather answers.
struct SeasonFile {
  std::string name;           // season-...
  ledger::StreamInfo stream;  // stream.public_key signed it
  ledger::Span span;
  CalendarDate last_date{};  // wall date of the last record
  Digest sha256;             // of the whole file
  std::uint64_t bytes = 0;
  std::int64_t unread = 0;          // records of kinds or formats later than this program
  std::vector<std::string> bodies;  // span.first.. in order; none where only checked
  std::vector<SeasonTable> tables;  // by name; none in files of format 1
  int tables_by = 0;                // rules they were made by (wide::kRulesVersion); 0: none
  // Records of known kinds that lack what their kind must say, in order: they are carried, and
  // nothing is concluded from them.
  Told senseless;
  // Records that are believed although something in them cannot be quite so: an offset that no
  // place on Earth has, another date than instant and offset give, a record that replaces itself.
  Told remarks;

  // Lines for a person: what was checked and holds.
  [[nodiscard]] std::vector<std::string> findings() const;
};

// Whether whoever reads a season file wants its records, or only to know that it holds: then they
// take no memory beside the file's own.
enum class Bodies { kKept, kChecked };

// Verifies everything that can be without trust. Each fault names the member or line; file is put
// in front. kInvalid: no season file at all; kNewerVersion: a later format; kDamaged: all else.
[[nodiscard]] files::Checked<SeasonFile> read_season_bytes(std::string_view bytes,
                                                           const std::string& file,
                                                           Bodies bodies = Bodies::kKept);
// The same for a file on disk; also kNotFound and kIo.
[[nodiscard]] files::Checked<SeasonFile> read_season_file(files::FileSystem& files,
                                                          const files::Path& file,
                                                          Bodies bodies = Bodies::kKept);

// The wide tables that this program would make otherwise of the file's records, by name, those that
// only one of the two has as well. Empty optional: they were made by other rules, or there are
// none. They are convenience: where they differ the records are believed.
[[nodiscard]] std::optional<std::vector<std::string>> differing_tables(const SeasonFile& season);

}  // namespace ligule::seal
