// A season file with other members, sealed again by the same key: what only the stages behind
// container, manifests and signature can find.
#pragma once

#include <algorithm>
#include <deque>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "sync/seal/bag.h"
#include "sync/seal/descriptor.h"
#include "sync/seal/season_layout.h"
#include "sync/seal/signature.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::seal {

// Paths from the bag's top, and bytes.
using BagMembers = std::map<std::string, std::string>;

// `change` sees what lies in data/ and bag-info.txt; what it leaves is the new payload. `tables`:
// rules that bag-info.txt names.
inline std::string sealed_again(const Season& season, const std::string& sealed,
                                const std::function<void(BagMembers&)>& change, int tables = 0) {
  const std::string name = season_name(season.table.span);
  BagMembers kept;
  const auto held = read_container(sealed, "s.zip").value();
  for (const Member& member : held) {
    const std::string path = member.name.substr(name.size() + 1);
    if (path.starts_with("data/")) kept[path] = member.bytes;
  }
  change(kept);
  std::vector<Member> payload;
  for (const auto& [path, bytes] : kept) payload.push_back({path, bytes});
  const Record last = parse_record(season.bodies.back()).value();
  const auto tags = tag_files({.date = last.at.local_date,
                               .identifier = name,
                               .demo = season.table.stream.demo,
                               .tables = tables},
                              payload);
  const std::string signature = signature_text(season.key, tags.back().bytes,
                                               trusted_comment(name, season.table.span.head.hex()));
  std::vector<Member> members = payload;
  for (const BagFile& tag : tags) members.push_back({tag.path, tag.bytes});
  members.push_back({std::string(kSeasonMembers.back()), signature});
  std::ranges::sort(members, {}, &Member::name);
  for (Member& member : members) member.name = name + "/" + member.name;
  return container_bytes(members).value();
}

// The file of format 1 that an older version sealed of the same rows with that key.
inline std::string sealed_of_old(const StreamTable& table, const std::string& records_csv,
                                 const SecretKey& key) {
  const std::string name = season_name(table.span);
  const std::string stream = stream_csv(table);
  const std::size_t last = records_csv.rfind('\n', records_csv.size() - 2) + 1;
  const RowTime time =
      row_time(records_csv.substr(last, records_csv.size() - last - kLineEnd.size())).value();
  const std::string package = first_descriptor(table, time.utc, stream, records_csv);
  std::vector<Member> members{{"data/datapackage.json", package},
                              {"data/records.csv", records_csv},
                              {"data/stream.csv", stream}};
  const auto tags = tag_files(
      {.date = time.local_date, .identifier = name, .demo = table.stream.demo, .format = 1},
      members);
  const std::string signature =
      signature_text(key, tags.back().bytes, trusted_comment(name, table.span.head.hex()));
  for (const BagFile& tag : tags) members.push_back({tag.path, tag.bytes});
  members.push_back({std::string(kSeasonMembers.back()), signature});
  std::ranges::sort(members, {}, &Member::name);
  for (Member& member : members) member.name = name + "/" + member.name;
  return container_bytes(members).value();
}

}  // namespace ligule::seal
