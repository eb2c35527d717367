#include <algorithm>
#include <utility>

#include "storage/ledger/sense.h"
#include "storage/trial/details.h"
#include "storage/trial/record_line.h"
#include "sync/seal/bag.h"
#include "sync/seal/encoding.h"
#include "sync/seal/package_columns.h"
#include "sync/seal/season_file.h"
#include "sync/seal/season_layout.h"
#include "sync/seal/signature.h"

namespace ligule::seal {
namespace {

constexpr std::size_t kMaxBodyBytes = std::size_t{1} << 20;
// What stands beside the records is small: nobody is to read a hundred megabytes of manifest. The
// device's name in stream.csv stands in a record too, more shortly.
constexpr std::size_t kMaxStreamBytes = kMaxBodyBytes + 4096;
constexpr std::size_t kMaxTagBytes = std::size_t{64} << 10;
constexpr std::size_t kMaxFaults = 20;
constexpr std::string_view kMend = "take the file from the tablet again";

// An error as it may be shown: a part of what it quotes may be a megabyte.
std::string shortened(std::string_view what) {
  constexpr std::size_t kShown = 300;
  return what.size() <= kShown ? std::string(what) : cleaned(what.substr(0, kShown)) + " ...";
}

std::size_t most_bytes_of(std::string_view member) {
  if (member == "data/records.csv") return kMaxFileBytes;
  return member == "data/stream.csv" ? kMaxStreamBytes : kMaxTagBytes;
}

// Whether an id is of version 7 and the variant that goes with it (RFC 9562 sections 4.1, 4.2).
bool made_when_it_happened(const RecordId& id) {
  return id.uuid.bytes[6] >> 4U == 7 && id.uuid.bytes[8] >> 6U == 2;
}

// What cannot be quite so in a record that nothing is wrong with otherwise.
std::optional<std::string> remark_on(const Record& record) {
  // No place on Earth is or was further from UTC than 16 hours; 18 is what common time-zone
  // programs take (common practice, no source).
  constexpr std::chrono::minutes kFurthest{18 * 60};
  if (record.at.offset > kFurthest || record.at.offset < -kFurthest)
    return "the local time is " + std::to_string(record.at.offset.count()) + " minutes from UTC";
  if (stamp_at(record.at.utc, record.at.offset).local_date != record.at.local_date)
    return "the date on the wall is " + format_date(record.at.local_date) +
           ", by the clock it is " +
           format_date(stamp_at(record.at.utc, record.at.offset).local_date);
  if (std::ranges::find(record.targets, record.id) != record.targets.end())
    return "the record replaces itself";
  return std::nullopt;
}

// Verifies one file, stage by stage; a stage that finds faults is the last one, because the next
// would only repeat them in other words.
class Verification {
 public:
  Verification(std::string_view bytes, const std::string& file) : bytes_(bytes), file_(file) {}

  files::Checked<SeasonFile> run() {
    using Stage = void (Verification::*)();
    constexpr std::array<Stage, 8> kStages{
        &Verification::open_container, &Verification::check_version,
        &Verification::check_members,  &Verification::check_manifests,
        &Verification::read_stream,    &Verification::check_signature_file,
        &Verification::read_rows,      &Verification::check_descriptions};
    for (const Stage stage : kStages) {
      (this->*stage)();
      if (!faults_.empty()) return std::unexpected(std::move(faults_));
    }
    season_.sha256 = sha256(bytes_);
    season_.bytes = bytes_.size();
    return std::move(season_);
  }

 private:
  void bad(std::string_view what, std::string_view place) {
    if (faults_.size() >= kMaxFaults) return;
    faults_.push_back({ErrorKind::kDamaged, shortened(what), file_ + ", " + std::string(place),
                       std::string(kMend)});
  }
  void absorb(const Error& error, std::string_view place) {
    bad(error.where.empty() ? error.what : error.where + ": " + error.what, place);
  }
  // A member's bytes by its path in the bag; all ten are there once check_members() is through.
  [[nodiscard]] const Member& member(std::string_view path) const {
    return *std::ranges::find(bag_, path, &Member::name);
  }

  void open_container() {
    auto members = read_container(bytes_, file_);
    if (!members) {
      faults_.push_back(members.error());
      return;
    }
    bag_ = std::move(*members);
  }

  // First of all, so that a file of a later version is called that and not damaged.
  void check_version() {
    const auto info = std::ranges::find_if(
        bag_, [](const Member& m) { return m.name.ends_with("/bag-info.txt"); });
    if (info == bag_.end()) return bad("it is not there", "bag-info.txt");
    constexpr std::string_view kLabel = "\nLigule-Season-Format: ";
    const std::size_t at = info->bytes.find(kLabel);
    if (at == std::string_view::npos) {
      return bad("it names no season file format", "bag-info.txt");
    }
    const std::string_view rest = info->bytes.substr(at + kLabel.size());
    const std::string_view version = rest.substr(0, rest.find('\n'));
    if (version == "1") return;
    faults_.push_back({ErrorKind::kNewerVersion,
                       "it is a season file of format " + cleaned(version.substr(0, 20)), file_,
                       "read it with a newer version of the program"});
  }

  void check_members() {
    const std::string_view first = bag_.front().name;
    season_.name = first.substr(0, first.find('/'));
    for (Member& found : bag_) {
      if (!found.name.starts_with(season_.name + "/")) {
        return bad("it lies in another folder", found.name);
      }
      found.name.erase(0, season_.name.size() + 1);
    }
    for (const std::string_view wanted : kSeasonMembers) {
      if (std::ranges::find(bag_, wanted, &Member::name) == bag_.end()) {
        bad("it is not there", wanted);
      }
    }
    for (const Member& found : bag_) {
      if (std::ranges::find(kSeasonMembers, found.name) == kSeasonMembers.end()) {
        bad("it does not belong there", found.name);
      } else if (found.bytes.size() > most_bytes_of(found.name)) {
        bad("it is larger than it can be", found.name);
      }
    }
    if (faults_.empty() && !std::ranges::equal(bag_, kSeasonMembers, {}, &Member::name)) {
      bad("the members are not in their order", season_.name);
    }
  }

  void check_manifests() {
    const auto check = [&](Algorithm algorithm, std::span<const Member> listed,
                           std::string_view manifest) {
      auto found = manifest_faults(algorithm, listed, member(manifest), file_);
      faults_.insert(faults_.end(), found.begin(), found.end());
    };
    const std::vector<Member> payload(bag_.begin() + 2, bag_.begin() + 5);
    const std::vector<Member> tags{bag_[0], bag_[1], bag_[5], bag_[6]};
    check(Algorithm::kSha512, payload, "manifest-sha512.txt");
    check(Algorithm::kSha256, payload, "manifest-sha256.txt");
    check(Algorithm::kSha512, tags, "tagmanifest-sha512.txt");
    check(Algorithm::kSha256, tags, "tagmanifest-sha256.txt");
  }

  void read_stream() {
    auto table = parse_stream_csv(member("data/stream.csv").bytes);
    if (!table) {
      Error fault = table.error();
      fault.where = file_ + ", " + fault.where;
      faults_.push_back(std::move(fault));
      return;
    }
    season_.stream = table->stream;
    season_.span = table->span;
    if (season_.name != season_name(season_.span)) {
      bad("the file's inner name is not that of its records", season_.name);
    }
    if (season_.span.first == 1 && season_.span.before != Digest{}) {
      bad("digest_before is not zero before the first record", "data/stream.csv");
    }
  }

  void check_signature_file() {
    const Member& signature = member(kSeasonMembers.back());
    const auto comment = check_signature(signature.bytes, member("tagmanifest-sha512.txt").bytes,
                                         season_.stream.public_key, file_ + ", " + signature.name);
    if (!comment) {
      faults_.push_back(comment.error());
    } else if (*comment != trusted_comment(season_.name, season_.span.head.hex())) {
      bad("the trusted comment is of another season file", signature.name);
    }
  }

  void read_rows() {
    std::string_view rest = member("data/records.csv").bytes;
    const std::string header = records_header();
    if (!rest.starts_with(header)) {
      return bad("the header is not that of format 1", "data/records.csv line 1");
    }
    rest.remove_prefix(header.size());
    Digest digest = season_.span.before;
    std::int64_t seq = season_.span.first;
    for (; !rest.empty() && faults_.size() < kMaxFaults; ++seq) {
      const std::size_t end = rest.find(kLineEnd);
      place_ = line_of(seq);
      if (end == std::string_view::npos) return bad("the line has no end", place_);
      const std::string_view body = rest.substr(0, end);
      rest.remove_prefix(end + kLineEnd.size());
      read_row(body, seq);
      digest = chained(digest, body);
      season_.bodies.emplace_back(body);
    }
    check_ids();
    if (!faults_.empty()) return;
    if (seq != season_.span.last + 1) {
      return bad("it holds " + std::to_string(season_.bodies.size()) + " records where " +
                     std::to_string(season_.span.last - season_.span.first + 1) + " are stated",
                 "data/records.csv");
    }
    if (digest != season_.span.head) {
      bad("the chain of the records does not lead to the stated head", "data/records.csv");
    }
  }

  [[nodiscard]] std::string line_of(std::int64_t seq) const {
    return "data/records.csv line " + std::to_string(seq - season_.span.first + 2);
  }

  // Sorted, not hashed: a hostile file could choose ids that all hash alike.
  void check_ids() {
    std::ranges::sort(ids_);
    for (std::size_t i = 1; i < ids_.size(); ++i) {
      if (ids_[i].first != ids_[i - 1].first) continue;
      bad("the record's id stands twice in the file", line_of(ids_[i].second));
    }
  }

  void read_row(std::string_view body, std::int64_t seq) {
    if (body.size() > kMaxBodyBytes) return bad("the record is larger than 1 MiB", place_);
    const auto cells = split_line(body);
    if (!cells) return absorb(cells.error(), place_);
    if (cells->size() != kRecordColumns.size()) return bad("the row has not 29 columns", place_);
    if (auto fault = row_fault(record_columns(), *cells)) return bad(*fault, place_);
    const auto envelope = parse_envelope(body);
    if (!envelope) return absorb(envelope.error(), place_);
    ids_.emplace_back(envelope->id.uuid, seq);
    if (!made_when_it_happened(envelope->id))
      return bad("the record's id is not of version 7", place_);
    if (envelope->stream != season_.stream.id) return bad("the row is of another stream", place_);
    if (envelope->seq != seq) {
      return bad("the row has number " + std::to_string(envelope->seq) + " where " +
                     std::to_string(seq) + " comes next",
                 place_);
    }
    if (const auto time = row_time(body); !time) return absorb(time.error(), place_);
    const bool known = envelope->format <= kRecordFormat && is_known_kind(envelope->kind);
    if (!known) {
      ++season_.unread;
      return;
    }
    const auto record = parse_record(body);
    if (!record) return absorb(record.error(), place_);
    if ((record->kind == kind::kStream) != (seq == 1)) {
      return bad("the first record of a stream, and no other, tells of the stream", place_);
    }
    if (seq == 1) check_stream_record(*record);
    // No fault of the file: whoever made the record signed it so.
    if (const auto sense = ledger::check_sense(*record); !sense) {
      season_.senseless.add({sense.error().kind, sense.error().what, place_,
                             "nothing is concluded from it: tell whoever made the program"});
    } else if (auto remark = remark_on(*record)) {
      season_.remarks.add({ErrorKind::kInvalid, *std::move(remark), place_,
                           "it is believed as it stands: tell whoever made the program"});
    }
  }

  // What the signed first record says of the stream is what stream.csv says.
  void check_stream_record(const Record& record) {
    const auto details = parse_details(record.details);
    if (!details) return absorb(details.error(), place_);
    const auto says = [&](const char* key) {
      const auto at = details->find(key);
      return at == details->end() ? std::string() : at->second;
    };
    const ledger::StreamInfo& stream = season_.stream;
    const bool same = says("device") == stream.device &&
                      says("public_key") == hex(stream.public_key) &&
                      says("continues") == (stream.continues ? stream.continues->text() : "") &&
                      says("demo") == (stream.demo ? "1" : "");
    if (!same) bad("the stream's first record tells otherwise than stream.csv", place_);
  }

  // What describes the records is a function of them.
  void check_descriptions() {
    const auto last = row_time(season_.bodies.back());
    season_.last_date = last->local_date;
    const std::string package =
        data_package({season_.stream, season_.span}, last->utc, member("data/stream.csv").bytes,
                     member("data/records.csv").bytes);
    if (member("data/datapackage.json").bytes != package) {
      bad("the description is not that of these records", "data/datapackage.json");
    }
    const std::vector<Member> payload(bag_.begin() + 2, bag_.begin() + 5);
    const BagInfo info{season_.last_date, season_.name, season_.stream.demo};
    if (member("bag-info.txt").bytes != bag_info_text(info, payload)) {
      bad("it does not describe this bag", "bag-info.txt");
    }
    if (member("bagit.txt").bytes != bagit_text()) {
      bad("it is not the declaration of BagIt 1.0", "bagit.txt");
    }
  }

  std::string_view bytes_;
  const std::string& file_;
  std::string place_;
  files::Faults faults_;
  std::vector<Member> bag_;
  std::vector<std::pair<Uuid, std::int64_t>> ids_;  // and the seq each came with
  SeasonFile season_;
};

}  // namespace

void Told::add(Error error) {
  ++count;
  if (first.size() >= kNamed) return;
  error.what = shortened(error.what);
  first.push_back(std::move(error));
}

std::vector<std::string> SeasonFile::findings() const {
  const std::string tables =
      "tables: every cell is what its column declares, no id stands twice, every record is of the "
      "stream";
  std::vector<std::string> lines{
      "container: " + std::to_string(bytes) + " bytes, each where the format puts it",
      "manifests: SHA-256 and SHA-512 of every file hold",
      "signature: holds, key " + fingerprint(stream.public_key),
      "records: " + std::to_string(span.first) + " to " + std::to_string(span.last) + " of " +
          stream.device + ", stream " + stream.id.text(),
      tables,
      "chain: without a gap, head " + span.head.hex(),
      "last record: " + format_date(last_date),
  };
  if (unread > 0) {
    lines.push_back("later kinds: " + std::to_string(unread) +
                    " records are carried that this program cannot read");
  }
  const auto tell = [&](const Told& told, const std::string& what, const char* more) {
    for (const Error& error : told.first)
      lines.push_back(what + ": " + error.where + ": " + error.what);
    const auto named = static_cast<std::int64_t>(told.first.size());
    if (told.count > named)
      lines.push_back(what + ": " + std::to_string(told.count - named) + more);
  };
  tell(senseless, "carried for nothing", " more records that lack what their kind must say");
  tell(remarks, "remark", " more records of which something like this is to be said");
  if (stream.demo) lines.emplace_back("demonstration: never mix these into real results");
  return lines;
}

files::Checked<SeasonFile> read_season_bytes(std::string_view bytes, const std::string& file) {
  return Verification(bytes, file).run();
}

files::Checked<SeasonFile> read_season_file(files::FileSystem& files, const files::Path& file) {
  const auto bytes = files.read(file, kMaxFileBytes);
  if (!bytes) return std::unexpected(files::Faults{bytes.error()});
  return read_season_bytes(*bytes, file.string());
}

}  // namespace ligule::seal
