// The bag of RFC 8493 (BagIt 1.0) that a season file is (FORMAT.md 3).
//
// Every tag file but the signature is a pure function of the payload and of what bag-info.txt says,
// so reading is: make them again and compare.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/trial/calendar.h"
#include "sync/seal/container.h"

namespace ligule::seal {

struct BagFile {
  std::string path;  // from the bag's top: "data/records.csv"
  std::string bytes;

  bool operator==(const BagFile&) const = default;
};

struct BagInfo {
  CalendarDate date{};     // Bagging-Date
  std::string identifier;  // External-Identifier
  bool demo = false;
  int format = 2;  // of the season file
  int tables = 0;  // rules that the wide tables were made by; 0: it has none
};

enum class Algorithm { kSha256, kSha512 };

// The two lines of bagit.txt.
[[nodiscard]] std::string bagit_text();
// bag-info.txt of a payload.
[[nodiscard]] std::string bag_info_text(const BagInfo& info, std::span<const Member> payload);
// A manifest: "<hex>  <path>" LF for each file, in the order given.
[[nodiscard]] std::string manifest_text(Algorithm algorithm, std::span<const Member> listed);

// Every tag file but the signature of a payload (paths below "data/", sorted), sorted by path.
[[nodiscard]] std::vector<BagFile> tag_files(const BagInfo& info, std::span<const Member> payload);

// Compares a manifest with what it should list. Each fault names the file that is not what the
// manifest states, or that it does not list, or the line that is of no file or not in form. where
// is put in front. Empty exactly when manifest.bytes is manifest_text(algorithm, listed).
[[nodiscard]] files::Faults manifest_faults(Algorithm algorithm, std::span<const Member> listed,
                                            const Member& manifest, const std::string& where);

}  // namespace ligule::seal
