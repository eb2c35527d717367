#include "sync/seal/bag.h"

#include <algorithm>

#include "storage/ledger/digest.h"
#include "sync/seal/encoding.h"

namespace ligule::seal {
namespace {

std::string digest_hex(Algorithm algorithm, std::string_view bytes) {
  return algorithm == Algorithm::kSha256 ? sha256(bytes).hex() : hex(sha512(bytes));
}

std::size_t digest_letters(Algorithm algorithm) {
  return algorithm == Algorithm::kSha256 ? 64 : 128;
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

Error damaged(std::string what, std::string where) {
  return {ErrorKind::kDamaged, std::move(what), std::move(where),
          "take the file from the tablet again"};
}

std::string inside(const std::string& container, std::string_view path) {
  return container + ", " + std::string(path);
}

std::string line_of(const std::string& file, std::size_t number) {
  return file + " line " + std::to_string(number);
}

}  // namespace

std::string bagit_text() {
  return "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";
}

std::string bag_info_text(const BagInfo& info, std::span<const Member> payload) {
  std::size_t octets = 0;
  for (const Member& file : payload) octets += file.bytes.size();
  std::string text = "Bagging-Date: " + format_date(info.date) + "\n";
  text += "External-Identifier: " + info.identifier + "\n";
  text += "Payload-Oxum: " + std::to_string(octets) + "." + std::to_string(payload.size()) + "\n";
  text += "Ligule-Season-Format: " + std::to_string(info.format) + "\n";
  if (info.tables > 0) text += "Ligule-Tables: " + std::to_string(info.tables) + "\n";
  if (info.demo) text += "Ligule-Demonstration: yes\n";
  return text;
}

std::string manifest_text(Algorithm algorithm, std::span<const Member> listed) {
  std::string text;
  for (const Member& file : listed) {
    text += digest_hex(algorithm, file.bytes) + "  " + file.name + "\n";
  }
  return text;
}

std::vector<BagFile> tag_files(const BagInfo& info, std::span<const Member> payload) {
  std::vector<BagFile> tags{
      {"bag-info.txt", bag_info_text(info, payload)},
      {"bagit.txt", bagit_text()},
      {"manifest-sha256.txt", manifest_text(Algorithm::kSha256, payload)},
      {"manifest-sha512.txt", manifest_text(Algorithm::kSha512, payload)},
  };
  std::vector<Member> listed;
  listed.reserve(tags.size());
  for (const BagFile& tag : tags) listed.push_back({tag.path, tag.bytes});
  std::string narrow = manifest_text(Algorithm::kSha256, listed);
  std::string wide = manifest_text(Algorithm::kSha512, listed);
  tags.push_back({"tagmanifest-sha256.txt", std::move(narrow)});
  tags.push_back({"tagmanifest-sha512.txt", std::move(wide)});
  return tags;
}

files::Faults manifest_faults(Algorithm algorithm, std::span<const Member> listed,
                              const Member& manifest, const std::string& where) {
  const std::string expected = manifest_text(algorithm, listed);
  if (manifest.bytes == expected) return {};
  files::Faults faults;
  const auto wanted = lines_of(expected);
  const auto found = lines_of(manifest.bytes);
  const std::size_t letters = digest_letters(algorithm);
  const std::string in_manifest = where + ", " + manifest.name;
  for (std::size_t i = 0; i < found.size(); ++i) {
    if (std::ranges::find(wanted, found[i]) != wanted.end()) continue;
    const std::string path(found[i].substr(std::min(found[i].size(), letters + 2)));
    if (std::ranges::find(listed, path, &Member::name) == listed.end()) {
      faults.push_back(
          damaged("the line is of no file that belongs there", line_of(in_manifest, i + 1)));
    } else {
      faults.push_back(damaged("the bytes are not those that " + manifest.name + " states",
                               inside(where, path)));
    }
  }
  for (const Member& file : listed) {
    const bool named = std::ranges::any_of(
        found, [&](std::string_view line) { return line.ends_with("  " + file.name); });
    if (!named) {
      faults.push_back(damaged(manifest.name + " does not list it", inside(where, file.name)));
    }
  }
  if (faults.empty()) {
    faults.push_back(damaged("its lines are not in order, or doubled", in_manifest));
  }
  return faults;
}

}  // namespace ligule::seal
