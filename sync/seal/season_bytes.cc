// The pure part of sealing: rows in, the bytes of a season file out.
#include <algorithm>

#include "storage/trial/number.h"
#include "storage/trial/record_line.h"
#include "sync/seal/bag.h"
#include "sync/seal/descriptor.h"
#include "sync/seal/season_file.h"
#include "sync/seal/season_layout.h"
#include "sync/seal/signature.h"
#include "sync/seal/wide_members.h"

namespace ligule::seal {
namespace {

std::string descriptor_of(const StreamTable& table, UtcInstant created, std::string_view stream,
                          std::string_view records_csv, const std::vector<MadeTable>& made) {
  const std::vector<WideMember> wide = members_of(made);
  const auto holding = made.empty() ? std::vector<wide::Reference>{}
                                    : RecordReferences::of(records_csv).holding(wide);
  return descriptor(table, created, {stream, records_csv, holding, wide});
}

// kInvalid when the whole, or the description, would be larger than readers take.
Result<std::string> sealed_with(const StreamTable& table, const RowTime& time,
                                std::string_view records_csv, const std::vector<MadeTable>& made,
                                const SecretKey& key) {
  const std::string name = season_name(table.span);
  const std::string stream = stream_csv(table);
  const std::string package = descriptor_of(table, time.utc, stream, records_csv, made);
  // A reader must find in it what was put there.
  if (package.size() > kMostDescriptorBytes || !declared_tables(package))
    return fail(ErrorKind::kInvalid, "its tables cannot be described", name);
  std::vector<Member> payload{{std::string(kSeasonMembers[2]), package},
                              {std::string(kSeasonMembers[3]), records_csv},
                              {std::string(kSeasonMembers[4]), stream}};
  for (const MadeTable& each : made) payload.push_back({table_path(each.table.name), each.csv});
  std::ranges::sort(payload, {}, &Member::name);
  const auto tags = tag_files({.date = time.local_date,
                               .identifier = name,
                               .demo = table.stream.demo,
                               .tables = made.empty() ? 0 : wide::kRulesVersion},
                              payload);
  const std::string signature =
      signature_text(key, tags.back().bytes, trusted_comment(name, table.span.head.hex()));

  std::vector<Member> members;
  members.reserve(tags.size() + payload.size() + 1);
  for (const BagFile& tag : tags) members.push_back({tag.path, tag.bytes});
  members.insert(members.end(), payload.begin(), payload.end());
  members.push_back({std::string(kSeasonMembers.back()), signature});
  std::ranges::sort(members, {}, &Member::name);
  for (Member& member : members) member.name = name + "/" + member.name;
  return container_bytes(members);
}

}  // namespace

Result<RowTime> row_time(std::string_view body) {
  const auto cells = LineCells::of(body);
  if (!cells) return std::unexpected(cells.error());
  return row_time(*cells);
}

Result<RowTime> row_time(const LineCells& cells) {
  constexpr std::size_t kUtcAt = 5, kOffsetAt = 6, kDateAt = 7;
  constexpr std::int64_t kEndOf9999 = 253402300799999, kMinutesOfAWeek = 10'080;
  if (cells.size() <= kDateAt) return fail(ErrorKind::kInvalid, "the row has too few columns");
  const auto utc = parse_integer(cells[kUtcAt]);
  if (!utc) return std::unexpected(utc.error());
  const auto offset = parse_integer(cells[kOffsetAt]);
  if (!offset) return std::unexpected(offset.error());
  const auto local = parse_date(cells[kDateAt]);
  if (!local) return std::unexpected(local.error());
  if (*utc < 0) return fail(ErrorKind::kInvalid, "utc_ms is before the year 1970");
  if (*utc > kEndOf9999) return fail(ErrorKind::kInvalid, "utc_ms is past the year 9999");
  if (*offset < -kMinutesOfAWeek || *offset > kMinutesOfAWeek)
    return fail(ErrorKind::kInvalid, "offset_min is more than a week");
  return RowTime{UtcInstant(std::chrono::milliseconds(*utc)), *local};
}

std::string trusted_comment(std::string_view name, std::string_view head_hex) {
  return std::string(name) + " head:" + std::string(head_hex);
}

Result<std::string> season_bytes(const StreamTable& table, std::string_view records_csv,
                                 const SecretKey& key) {
  if (!records_csv.ends_with(kLineEnd)) {
    return fail(ErrorKind::kInvalid, "the last row has no line end", "records.csv");
  }
  std::string_view last = records_csv.substr(0, records_csv.size() - kLineEnd.size());
  last = last.substr(last.rfind('\n') + 1);
  const auto time = row_time(last);
  if (!time) return std::unexpected(time.error());

  const auto made = made_tables(table, records_csv);
  if (!made.empty()) {
    auto sealed = sealed_with(table, *time, records_csv, made, key);
    if (sealed) return sealed;
  }
  // Whatever is recorded must be sealed, with tables or without.
  return sealed_with(table, *time, records_csv, {}, key);
}

}  // namespace ligule::seal
