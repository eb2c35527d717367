// Bringing season files of any number of tablets together in one ledger.
//
// Any order, any overlap, any repetition: the ledger holds the same records in the end. Each file
// is taken in as one transaction, or refused whole.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"
#include "sync/gather/trusted.h"
#include "sync/seal/season_file.h"

namespace ligule::gather {

// "record 5", "records 5 to 9".
[[nodiscard]] std::string records_text(std::int64_t first, std::int64_t last);

struct Gathered {
  std::string name;    // of the season file
  std::string device;  // as the tablet calls itself
  std::string label;   // what the desk calls its key
  ledger::Span span;   // what the file holds
  ledger::Absorbed absorbed;
  std::int64_t unread = 0;     // records carried that this program cannot read
  std::int64_t senseless = 0;  // that lack what their kind must say: nothing is concluded from them
  std::int64_t remarks = 0;    // believed, although something in them cannot be quite so
};

// Verifies a season file and takes its records in. Faults, each naming the file: those of
// seal::read_season_file(); kNotTrusted when nobody has vouched for the key or it was revoked
// and the file is not of what is believed of it (trusted.h); kConflict when the ledger holds other
// records under the same numbers (a copied ledger), the stream under another key, or where another
// branch was chosen; kRefused when records made for demonstration would be mixed with real ones;
// kIo. The ledger is as it was then.
[[nodiscard]] files::Checked<Gathered> gather_file(ledger::Ledger& ledger, files::FileSystem& files,
                                                   const files::Path& file, UtcInstant now,
                                                   ledger::Branch branch = ledger::Branch::kAny);

// The same of a file that was read already; `file` names it in errors. It is not trusted by that.
[[nodiscard]] files::Checked<Gathered> gather_season(ledger::Ledger& ledger,
                                                     const seal::SeasonFile& season,
                                                     const std::string& file, UtcInstant now,
                                                     ledger::Branch branch, Vouched vouched);

// Takes in the records of another ledger file: a tablet's own, or a copy of it from a card. Nobody
// signed it; whoever names it vouches that it is what the tablet wrote. So what no season file
// holds is not lost: a tablet's last day, or what a lost key can sign no more. Each run of records
// is one transaction; those of streams whose key is not trusted here are left out (kNotTrusted), as
// gather_file() would refuse them. Gives what was taken, and the faults beside it.
struct GatheredLedger {
  std::vector<Gathered> taken;  // one a run of records
  files::Faults refused;
};
// kDamaged: a run whose records are not those its digests say.
[[nodiscard]] Result<GatheredLedger> gather_ledger(ledger::Ledger& ledger, const std::string& file,
                                                   Vouched vouched = Vouched::kByKey);

// Records seq first..last of a stream that no gathered file has brought, between others that are
// held. last 0: nothing of a stream is held that another one went on from.
struct Gap {
  StreamId stream;
  std::string device;
  std::int64_t first = 0;
  std::int64_t last = 0;

  // "records 1 to 2 of North 1, stream ..., are in no file gathered so far"
  [[nodiscard]] std::string line() const;
};
[[nodiscard]] Result<std::vector<Gap>> gaps(const ledger::Ledger& ledger);
// The same of what any store holds: its streams, and its spans sorted by stream then first.
[[nodiscard]] std::vector<Gap> gaps(std::span<const ledger::StreamInfo> streams,
                                    std::span<const ledger::Span> spans);

// One of the values that stand against each other.
struct Contender {
  std::string state;  // as in the record: "value", "missing" ...
  std::string entered;
  std::string unit;
  std::string person;  // initials; the id where no record tells them
  std::string device;
  Stamp at;
  bool weeds_only = false;  // of a gross weight: it says that nothing that was sown is in it

  // "85 %", "20.5 lb (on hold)", "(missing)"
  [[nodiscard]] std::string value() const;
  // "85 % by AB on North 1, 2026-05-04 08:12"
  [[nodiscard]] std::string line() const;
};

// A plot (or bag) with several values for one measure of one rating or cutting.
struct Conflict {
  std::string trial;     // code
  std::string about;     // "plot 204", "bag 12"
  std::string occasion;  // code of the rating or cutting
  std::string measure;   // code
  int part = 1;
  std::vector<Contender> contenders;

  // One line: what, and each value with who, when and on which tablet.
  [[nodiscard]] std::string line() const;
};
// Ordered by trial, then as the ledger orders claims.
[[nodiscard]] Result<std::vector<Conflict>> conflicts(const ledger::Ledger& ledger);

}  // namespace ligule::gather
