#include <algorithm>
#include <future>
#include <utility>

#include "storage/ledger/sense.h"
#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"
#include "sync/seal/bag.h"
#include "sync/seal/descriptor.h"
#include "sync/seal/encoding.h"
#include "sync/seal/package_columns.h"
#include "sync/seal/season_file.h"
#include "sync/seal/season_layout.h"
#include "sync/seal/signature.h"
#include "sync/seal/wide_members.h"

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

bool is_table_path(std::string_view path) {
  constexpr std::string_view kFolder = "data/", kEnding = ".csv";
  if (!path.starts_with(kFolder) || !path.ends_with(kEnding)) return false;
  path.remove_prefix(kFolder.size());
  path.remove_suffix(kEnding.size());
  return !path.empty() && std::ranges::all_of(path, [](char c) { return c >= 'a' && c <= 'z'; });
}

std::size_t most_bytes_of(std::string_view member, Format format) {
  if (member == "data/stream.csv") return kMaxStreamBytes;
  if (is_table_path(member)) return kMaxFileBytes;
  const bool describes = format == Format::kSecond && member == "data/datapackage.json";
  return describes ? kMostDescriptorBytes : kMaxTagBytes;
}

// What stands in a tag file after "LABEL: " at the beginning of a line; empty: no such line.
std::string_view labelled(std::string_view text, const std::string& label) {
  const std::string wanted = "\n" + label + ": ";
  const std::size_t at = text.find(wanted);
  if (at == std::string_view::npos) return {};
  const std::string_view rest = text.substr(at + wanted.size());
  return rest.substr(0, rest.find('\n'));
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
  Verification(std::string_view bytes, const std::string& file, Bodies bodies)
      : bytes_(bytes), file_(file), bodies_(bodies) {}

  files::Checked<SeasonFile> run() {
    using Stage = void (Verification::*)();
    constexpr std::array<Stage, 6> kStages{
        &Verification::open_container, &Verification::check_version,
        &Verification::check_members,  &Verification::check_contents,
        &Verification::check_tables,   &Verification::check_descriptions};
    for (const Stage stage : kStages) {
      (this->*stage)();
      if (!faults_.empty()) return std::unexpected(std::move(faults_));
    }
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
  // A member's bytes by its path in the bag; those of kSeasonMembers are there once check_members()
  // is through.
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
    const std::string_view version = labelled(info->bytes, "Ligule-Season-Format");
    if (version.empty()) return bad("it names no season file format", "bag-info.txt");
    if (version == "1" || version == "2") {
      format_ = version == "1" ? Format::kFirst : Format::kSecond;
      return;
    }
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
      const bool in_every_file =
          std::ranges::find(kSeasonMembers, found.name) != kSeasonMembers.end();
      // Which tables there are is seen when the descriptor has been read.
      if (!in_every_file && (format_ == Format::kFirst || !is_table_path(found.name))) {
        bad("it does not belong there", found.name);
      } else if (found.bytes.size() > most_bytes_of(found.name, format_)) {
        bad("it is larger than it can be", found.name);
      }
    }
    if (!faults_.empty()) return;
    if (!std::ranges::is_sorted(bag_, {}, &Member::name))
      bad("the members are not in their order", season_.name);
    for (const Member& found : bag_)
      (found.name.starts_with("data/") ? payload_ : tags_).push_back(found);
    std::erase_if(tags_, [](const Member& tag) { return tag.name.starts_with("tagmanifest-"); });
  }

  // Summing up takes half as long as reading rows: of a large file both are done at once, where a
  // thread can be had. Where a sum does not hold that is told, whatever the rows are like.
  void check_contents() {
    constexpr std::size_t kWorthAThread = std::size_t{1} << 20;
    const auto policy = bytes_.size() >= kWorthAThread ? std::launch::async | std::launch::deferred
                                                       : std::launch::deferred;
    auto summed = std::async(policy, [this] { return manifests_faults(); });
    for (const auto stage : {&Verification::read_stream, &Verification::check_signature_file,
                             &Verification::read_rows}) {
      if (faults_.empty()) (this->*stage)();
    }
    if (auto faults = summed.get(); !faults.empty()) faults_ = std::move(faults);
  }

  // Beside the reading of rows: touches nothing that it changes.
  files::Faults manifests_faults() {
    files::Faults faults;
    const auto check = [&](Algorithm algorithm, std::span<const Member> listed,
                           std::string_view manifest) {
      auto found = manifest_faults(algorithm, listed, member(manifest), file_);
      faults.insert(faults.end(), found.begin(), found.end());
    };
    check(Algorithm::kSha512, payload_, "manifest-sha512.txt");
    check(Algorithm::kSha256, payload_, "manifest-sha256.txt");
    check(Algorithm::kSha512, tags_, "tagmanifest-sha512.txt");
    check(Algorithm::kSha256, tags_, "tagmanifest-sha256.txt");
    season_.sha256 = sha256(bytes_);
    return faults;
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
      return bad("the header is not that of records.csv", "data/records.csv line 1");
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
      last_ = body;
      if (bodies_ == Bodies::kKept) season_.bodies.emplace_back(body);
    }
    check_ids();
    if (!faults_.empty()) return;
    if (seq != season_.span.last + 1) {
      return bad("it holds " + std::to_string(seq - season_.span.first) + " records where " +
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
    const auto cells = LineCells::of(body);
    if (!cells) return absorb(cells.error(), place_);
    if (cells->size() != kRecordColumns.size()) return bad("the row has not 29 columns", place_);
    if (auto fault = files::row_fault(record_columns(), cells->all())) return bad(*fault, place_);
    if (format_ == Format::kSecond) references_.add(*cells);
    const auto envelope = parse_envelope(*cells);
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
    if (const auto time = row_time(*cells); !time) return absorb(time.error(), place_);
    const bool known = envelope->format <= kRecordFormat && is_known_kind(envelope->kind);
    if (!known) {
      ++season_.unread;
      return;
    }
    const auto record = parse_record(*cells);
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

  // The tables beside the records are those that the descriptor declares, and what it declares.
  void check_tables() {
    if (format_ == Format::kFirst) return;
    auto declared = declared_tables(member("data/datapackage.json").bytes);
    if (!declared) return bad(declared.error().what, "data/datapackage.json");
    for (wide::WideTable& table : *declared) {
      const auto at = std::ranges::find(payload_, table_path(table.name), &Member::name);
      if (at == payload_.end()) return bad("it is described and not there", table_path(table.name));
      wide_.push_back({std::move(table), at->bytes});
    }
    for (const Member& found : payload_) {
      const bool known = std::ranges::find(kSeasonMembers, found.name) != kSeasonMembers.end() ||
                         std::ranges::any_of(wide_, [&](const WideMember& of) {
                           return table_path(of.table.name) == found.name;
                         });
      if (!known) bad("it is not described", found.name);
    }
    if (!faults_.empty()) return;
    faults_ = table_faults(wide_, file_);
    for (Error& fault : faults_) fault.what = shortened(fault.what);
    for (const WideMember& of : wide_) season_.tables.push_back(season_table(of));
  }

  [[nodiscard]] std::string expected_descriptor(UtcInstant created) const {
    const StreamTable table{season_.stream, season_.span};
    const std::string_view stream = member("data/stream.csv").bytes;
    const std::string_view records = member("data/records.csv").bytes;
    if (format_ == Format::kFirst) return first_descriptor(table, created, stream, records);
    const auto holding = references_.holding(wide_);
    return descriptor(table, created, {stream, records, holding, wide_});
  }

  // What describes the records is a function of them.
  void check_descriptions() {
    const auto last = row_time(last_);
    season_.last_date = last->local_date;
    if (member("data/datapackage.json").bytes != expected_descriptor(last->utc)) {
      bad("the description is not that of these tables", "data/datapackage.json");
    }
    const std::string_view bag_info = member("bag-info.txt").bytes;
    const auto rules = parse_integer(labelled(bag_info, "Ligule-Tables"));
    season_.tables_by = static_cast<int>(std::clamp<std::int64_t>(rules.value_or(0), 0, 1'000'000));
    if ((season_.tables_by > 0) != !wide_.empty())
      bad("it tells otherwise than the file of wide tables", "bag-info.txt");
    const BagInfo info{.date = season_.last_date,
                       .identifier = season_.name,
                       .demo = season_.stream.demo,
                       .format = static_cast<int>(format_),
                       .tables = season_.tables_by};
    if (bag_info != bag_info_text(info, payload_)) {
      bad("it does not describe this bag", "bag-info.txt");
    }
    if (member("bagit.txt").bytes != bagit_text()) {
      bad("it is not the declaration of BagIt 1.0", "bagit.txt");
    }
  }

  std::string_view bytes_;
  const std::string& file_;
  Bodies bodies_;
  std::string_view last_;  // record
  std::string place_;
  files::Faults faults_;
  Format format_ = Format::kSecond;
  std::vector<Member> bag_;
  std::vector<Member> payload_;  // below data/
  std::vector<Member> tags_;     // that tag manifests list
  std::vector<WideMember> wide_;
  RecordReferences references_;
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
  const std::string cells =
      "tables: every cell is what its column declares, no id stands twice, every record is of the "
      "stream";
  std::vector<std::string> lines{
      "container: " + std::to_string(bytes) + " bytes, each where the format puts it",
      "manifests: SHA-256 and SHA-512 of every file hold",
      "signature: holds, key " + fingerprint(stream.public_key),
      "records: " + std::to_string(span.first) + " to " + std::to_string(span.last) + " of " +
          stream.device + ", stream " + stream.id.text(),
      cells,
      "chain: without a gap, head " + span.head.hex(),
      "last record: " + format_date(last_date),
  };
  if (!tables.empty()) {
    std::string what = "wide tables: cells, keys and references hold in";
    for (const SeasonTable& table : tables)
      what += (table.name == tables.front().name ? " " : ", ") + table.name + " (" +
              std::to_string(table.rows) + ")";
    lines.push_back(std::move(what));
  }
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

files::Checked<SeasonFile> read_season_bytes(std::string_view bytes, const std::string& file,
                                             Bodies bodies) {
  return Verification(bytes, file, bodies).run();
}

files::Checked<SeasonFile> read_season_file(files::FileSystem& files, const files::Path& file,
                                            Bodies bodies) {
  const auto bytes = files.read(file, kMaxFileBytes);
  if (!bytes) return std::unexpected(files::Faults{bytes.error()});
  return read_season_bytes(*bytes, file.string(), bodies);
}

}  // namespace ligule::seal
