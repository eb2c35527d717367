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
};

// "<hex>  <path>" LF for each file; by SHA-256 or SHA-512, in the order given.
[[nodiscard]] std::string sha256_manifest(std::span<const Member> files);
[[nodiscard]] std::string sha512_manifest(std::span<const Member> files);

// bag-info.txt, bagit.txt, the payload manifests and the tag manifests of a payload (paths below
// "data/", sorted): every tag file but the signature, sorted by path.
[[nodiscard]] std::vector<BagFile> tag_files(const BagInfo& info, std::span<const Member> payload);

// Every file (paths from the bag's top) whose bytes are not those the manifests state, every
// manifest line that is of no file or not in form, every file no manifest lists. Reads any manifest
// of the form sha512_manifest() writes; name and digest length come from the manifest's path.
[[nodiscard]] files::Faults manifest_faults(std::span<const Member> bag,
                                            std::string_view manifest_path);

}  // namespace ligule::seal
