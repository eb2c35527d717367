#include "sync/seal/season_file.h"

#include <algorithm>
#include <string>
#include <vector>

#include "sync/seal/bag.h"
#include "sync/seal/season_layout.h"
#include "sync/seal/signature.h"
#include "sync/wide/wide_tables.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/sections.h"
#include "tests/fuzz/targets.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::fuzz {
namespace {

using namespace seal;

void judge_season(std::string_view bytes) {
  const auto season = read_season_bytes(bytes, "s.zip");
  if (!season) {
    require(!season.error().empty(), "a season file that is refused has a fault");
    for (const Error& fault : season.error()) {
      require(!fault.what.empty() && fault.where.starts_with("s.zip"),
              "a fault says what and where");
      require(fault.what.size() < 1000, "a fault is short, whatever it quotes");
    }
    return;
  }
  require(season->bytes == bytes.size() && !season->bodies.empty(), "a season file holds records");
  require(static_cast<std::int64_t>(season->bodies.size()) ==
              season->span.last - season->span.first + 1,
          "a season file holds the records it states");
  require(!season->findings().empty(), "what was checked is told");
}

// What bag-info.txt says of a payload whose last row can be read; else of no day in particular.
BagInfo info_of(const std::vector<Member>& payload, const std::string& name) {
  using date::year;
  BagInfo info{.date = year{2026} / 6 / 1, .identifier = name, .tables = 0};
  for (const Member& member : payload) {
    const bool is_wide = member.name != "data/records.csv" && member.name != "data/stream.csv" &&
                         member.name != "data/datapackage.json";
    if (is_wide) info.tables = wide::kRulesVersion;
    if (member.name == "data/records.csv" && member.bytes.ends_with(kLineEnd)) {
      const std::string_view rows = member.bytes.substr(0, member.bytes.size() - kLineEnd.size());
      const std::size_t last = rows.rfind('\n');
      const auto time = row_time(rows.substr(last == std::string_view::npos ? 0 : last + 1));
      if (time) info.date = time->local_date;
    }
    if (const auto table = parse_stream_csv(member.bytes);
        table && member.name.ends_with("stream.csv"))
      info.demo = table->stream.demo;
  }
  return info;
}

// A container of these members with manifests and a signature that hold.
std::string signed_bag(std::vector<Member> members) {
  std::string name = "season-x", head(64, '0');
  std::ranges::sort(members, {}, &Member::name);
  const auto twice = std::ranges::unique(members, {}, &Member::name);
  members.erase(twice.begin(), twice.end());
  const auto stream = std::ranges::find(members, "data/stream.csv", &Member::name);
  if (stream != members.end()) {
    if (const auto table = parse_stream_csv(stream->bytes)) {
      name = season_name(table->span);
      head = table->span.head.hex();
    }
  }
  const auto tags = tag_files(info_of(members, name), members);
  const std::string signature =
      signature_text(test_key(), tags.back().bytes, trusted_comment(name, head));
  for (const BagFile& tag : tags) members.push_back({tag.path, tag.bytes});
  members.push_back({std::string(kSeasonMembers.back()), signature});
  std::ranges::sort(members, {}, &Member::name);
  for (Member& member : members) member.name.insert(0, name + "/");
  return container_bytes(members).value_or(std::string());
}

bool is_payload_path(std::string_view path) {
  return path.starts_with("data/") && path.size() < 40 && std::ranges::all_of(path, [](char c) {
           return (c >= 'a' && c <= 'z') || c == '/' || c == '.';
         });
}

}  // namespace

void season_file(std::string_view input) {
  if (input.starts_with('z')) judge_season(input.substr(1));
  if (!input.starts_with('m')) return;
  std::vector<Member> members;
  const auto held = sections(input.substr(1));
  for (const auto& [name, content] : held) {
    if (is_payload_path(name) && members.size() < 20) members.push_back({name, content});
  }
  judge_season(signed_bag(std::move(members)));
}

}  // namespace ligule::fuzz
