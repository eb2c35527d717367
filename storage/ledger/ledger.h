// The ledger: one SQLite file that keeps every record for good.
//
// The log (tables stream, record) is the truth: appended, never changed, never migrated. All else
// that can be asked here (plans, claims, what a plot holds) is a projection of it that can be made
// anew. A Record given out has its time put right (shifts.h), a body never. Owned by one thread at
// a time; others may read by connections of their own. Errors: kIo when the machine could not do it
// (nothing was kept), kDamaged, kNewerVersion, kConflict, kInvalid as each says. Nothing throws.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/ledger/digest.h"
#include "storage/trial/as_sown.h"
#include "storage/trial/error.h"
#include "storage/trial/plan.h"
#include "storage/trial/record.h"
#include "storage/trial/scale.h"
#include "storage/trial/sown_together.h"
#include "storage/trial/trial_event.h"

namespace ligule::ledger {

using PublicKey = std::array<std::uint8_t, 32>;

// How a ledger's own stream begins.
struct StreamStart {
  StreamId id;
  RecordId record;     // id of the stream's first record
  std::string device;  // name a person gave the tablet
  PublicKey public_key{};
  std::string software;  // name and version
  bool demo = false;
  Stamp at;
  bool instead = false;  // of the stream the ledger writes, which ends: its key is lost
};

// In the details of a stream's first record and of kind software: its name and version.
inline constexpr std::string_view kSoftware = "software";
// In the details of a stream's first record: it took the place of one whose key was lost.
inline constexpr std::string_view kInstead = "instead";

struct StreamInfo {
  StreamId id;
  std::string device;
  PublicKey public_key{};
  std::optional<StreamId> continues;
  bool demo = false;
  bool mine = false;  // written by this ledger file

  bool operator==(const StreamInfo&) const = default;
};

// A run of records first..last of one stream without a gap, and the chain's digests at its ends.
struct Span {
  StreamId stream;
  std::int64_t first = 0;
  std::int64_t last = 0;
  Digest before;  // digest of first - 1; zero for first == 1
  Digest head;    // digest of last

  bool operator==(const Span&) const = default;
};

// SHA-256 over spans that are merged and sorted by stream then first (sync/seal/FORMAT.md 1): equal
// for equal sets of records, whatever holds them.
[[nodiscard]] Digest digest_of_spans(std::span<const Span> spans);

struct KnownPlan {
  Plan plan;
  std::string digest;  // hex

  bool operator==(const KnownPlan&) const = default;
};

// A standing claim of a slot. others: how many other standing claims of the slot differ from it in
// state or value; above 0 the slot is in conflict.
struct Claim {
  Record record;
  int others = 0;
};

// What came into the log after a row of it.
struct Changed {
  std::int64_t row = 0;  // the newest there is
  // Trials that a newcomer is about, or replaces something of; none: it may be any, since a
  // newcomer changes times or names no trial of what it is about, there are too many to look at, or
  // there is no such row.
  std::optional<std::set<TrialId>> trials;
};

struct Seal {
  StreamId stream;
  std::int64_t first = 0;
  std::int64_t last = 0;
  UtcInstant at;  // by the wall clock; stays in the ledger
  std::string file_name;
  Digest file_sha256;
};

// A copy of a season file on a stick or card, read back there.
struct SealCopy {
  std::string file_name;
  std::string place;
  UtcInstant at;
};

// Records of a stream up to `last`, whose digest is `head`: what leads there by the chain.
struct Believed {
  StreamId stream;
  std::int64_t last = 0;
  Digest head;

  bool operator==(const Believed&) const = default;
};

enum class Trust { kTrusted, kRevoked };
struct TrustedKey {
  PublicKey key{};
  std::string label;
  Trust status = Trust::kTrusted;
  std::vector<Believed> believed = {};  // of a revoked key: all that is still believed, by stream
};

// Of a stream that forked (one ledger was copied and both went on): whether the records taken in
// are those of the branch to be kept.
enum class Branch { kAny, kChosen };

struct Absorbed {
  std::int64_t added = 0;   // records new to this ledger
  std::int64_t known = 0;   // records it already held
  std::vector<Span> spans;  // of that stream afterwards: more than one means a gap
};

enum class Access { kReadWrite, kReadOnly };

class Ledger {
 public:
  // Creates the file (0600; its folder must exist) with an empty log. kConflict when something is
  // already there.
  [[nodiscard]] static Result<Ledger> create(const std::string& path);
  // Opens and checks application id, version, pragmas (read back) and a quick check of the pages.
  // kNotFound, kInvalid for a file of another kind, kNewerVersion, kDamaged (such a file is never
  // written to).
  [[nodiscard]] static Result<Ledger> open(const std::string& path,
                                           Access access = Access::kReadWrite);
  // An empty ledger that stands in memory only and is gone with the object: for asking what some
  // records say by themselves. It writes no stream of its own; absorb() fills it.
  [[nodiscard]] static Result<Ledger> in_memory();
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;
  Ledger(const Ledger&) = delete;
  Ledger& operator=(const Ledger&) = delete;
  ~Ledger();

  [[nodiscard]] const std::string& path() const;

  // --- writing
  // -----------------------------------------------------------------------------------------------------
  // The stream this file writes to; empty for a new file and for one that was copied or restored
  // (noticed by the file's own identity, by the disk it lies on and by the mark backup_to()
  // leaves): then start_stream() comes first.
  [[nodiscard]] std::optional<StreamInfo> my_stream() const;
  // Begins a stream; continues the stream this file wrote before, if any. Refused (kConflict) while
  // my_stream() holds, unless the new one is begun instead of it.
  [[nodiscard]] Result<StreamInfo> start_stream(const StreamStart& start);

  // Appends as one transaction, all or nothing, in order; fills stream and seq of each draft and
  // gives the records as kept. Returns only after the commit is durable. kConflict for an id that
  // another record has, kInvalid for a record that can't be written down, kNotFound without a
  // stream of its own.
  [[nodiscard]] Result<std::vector<Record>> append(std::vector<Record> drafts);

  // Whether a plan may be enrolled: true when it is new or a revision of what is held, false when
  // exactly this plan is held already (nothing to do). kConflict for another plan under the same
  // codes that does not name the held plan as its parent; kRefused for one that adds what was sown
  // later (storage/trial/sown_together.h). append() asks the same of a plan's record, by its day
  // and reason; absorb() does not: what other ledgers hold arrives whole. before: revisions of the
  // same trial that would be enrolled first, in that order.
  [[nodiscard]] Result<bool> can_enrol(const Plan& plan, const Enrolment& enrolment,
                                       std::span<const Plan> before = {}) const;

  // Takes in records first.. of another stream (bodies in order, the digest before them), checks
  // the chain, adds what is new, in one transaction. kConflict names a fork; kInvalid a body that
  // is not canonical or not consecutive. Records of unknown kinds or newer formats are kept unread.
  // Branch::kChosen says that these are of the branch to be kept; from then on the stream is held
  // in one run from its first record on, and what does not meet it is refused (kConflict).
  [[nodiscard]] Result<Absorbed> absorb(const StreamInfo& stream, std::int64_t first,
                                        const Digest& before, std::span<const std::string> bodies,
                                        Branch branch = Branch::kAny);

  // --- the log
  // -----------------------------------------------------------------------------------------------------
  [[nodiscard]] Result<std::vector<StreamInfo>> streams() const;
  // Merged, sorted by stream then first.
  [[nodiscard]] Result<std::vector<Span>> spans() const;
  // SHA-256 over the merged spans (sync/seal/FORMAT.md 1): equal for equal sets of records.
  [[nodiscard]] Result<Digest> digest() const;
  // Calls visit with (seq, body, digest) in order of seq; stops early when it returns false.
  [[nodiscard]] Result<void> each_record(
      StreamId stream, std::int64_t first, std::int64_t last,
      const std::function<bool(std::int64_t, std::string_view, const Digest&)>& visit) const;
  // The digest after a record; zero for seq 0. kNotFound.
  [[nodiscard]] Result<Digest> digest_at(StreamId stream, std::int64_t seq) const;
  // The newest id of a record of this ledger's own streams, to continue the id sequence after.
  [[nodiscard]] Result<std::optional<RecordId>> newest_id() const;

  // --- projections
  // -------------------------------------------------------------------------------------------------
  // The plan in force of each trial (the revision nobody names as parent), by site, field, trial
  // code.
  [[nodiscard]] Result<std::vector<KnownPlan>> plans() const;
  [[nodiscard]] Result<KnownPlan> plan(TrialId trial) const;                // kNotFound
  [[nodiscard]] Result<Plan> plan_revision(std::string_view digest) const;  // kNotFound
  [[nodiscard]] Result<std::optional<Scale>> definition(std::string_view digest) const;
  // The digest of the limits that this ledger's own stream was last told of (kind limits); empty:
  // none.
  [[nodiscard]] Result<std::string> limits_told() const;
  // Name and version of the software that this ledger's own stream was last told of; empty: none.
  [[nodiscard]] Result<std::string> software_told() const;
  // Standing claims of a trial, of one occasion or all, ordered by subject, measure, occasion,
  // part; every purpose.
  [[nodiscard]] Result<std::vector<Claim>> claims(TrialId trial,
                                                  std::optional<OccasionId> occasion = {}) const;
  // Rows only grow; 0 stands before the first one.
  [[nodiscard]] Result<Changed> changed_since(std::int64_t row) const;
  // Every record about a subject (plot or bag), in the order they were recorded (by utc, then id).
  [[nodiscard]] Result<std::vector<Record>> history(const Uuid& subject) const;
  [[nodiscard]] Result<std::optional<Record>> find(RecordId id) const;
  // Newest statement of each plot that has one, by `since` then utc.
  [[nodiscard]] Result<std::vector<AsSown>> as_sown(TrialId trial) const;
  // Records of a kind, all trials or one, in order of utc then id.
  [[nodiscard]] Result<std::vector<Record>> of_kind(std::string_view kind,
                                                    std::optional<TrialId> trial = {}) const;
  // What happened to a trial, in order of utc then id, with what was taken back; what the program
  // notes itself (names_shown) too.
  [[nodiscard]] Result<std::vector<TrialEvent>> events(TrialId trial) const;
  // Bag_number claims whose bag has no standing sample_dry value yet, in any trial: the bags still
  // open.
  [[nodiscard]] Result<std::vector<Record>> open_bags() const;
  // Drops every projection and replays the log; the result is the same as before.
  [[nodiscard]] Result<void> replay();

  // --- leaving and arriving
  // ----------------------------------------------------------------------------------------
  [[nodiscard]] Result<void> note_seal(const Seal& seal);
  [[nodiscard]] Result<std::vector<Seal>> seals() const;
  [[nodiscard]] Result<void> note_copy(const SealCopy& copy);
  [[nodiscard]] Result<std::vector<SealCopy>> copies() const;  // oldest first
  [[nodiscard]] Result<void> trust(const TrustedKey& key);  // adds, or changes a known key's status
  [[nodiscard]] Result<std::vector<TrustedKey>> trusted_keys() const;
  [[nodiscard]] Result<void> note_gathered(const Digest& file, std::string_view name,
                                           const Span& span, UtcInstant at);

  // --- care
  // --------------------------------------------------------------------------------------------------------
  // Full integrity check, every chain walked, projections compared with a replay. Empty when whole;
  // else one Error (kDamaged) per finding.
  [[nodiscard]] Result<std::vector<Error>> check() const;
  // The same of what is there, whatever more it once held (an older file that was put back): for
  // whoever concludes something from a ledger that is opened to read. kDamaged, the first finding.
  [[nodiscard]] Result<void> check_what_is_held() const;
  // Copies one moment of the live file to a new one by SQLite's backup, whoever writes meanwhile:
  // synced, read back, opened, and only then given its name; marked as a copy, with no log beside
  // it. kConflict when something is there, kDamaged when it reads back differently, kIo.
  [[nodiscard]] Result<void> backup_to(const std::string& path) const;
  // Moves the write-ahead log into the file and reads the result; when idle, on seal and on close.
  [[nodiscard]] Result<void> checkpoint();

 private:
  struct Database;
  explicit Ledger(std::unique_ptr<Database> database);
  std::unique_ptr<Database> database_;
};

}  // namespace ligule::ledger
