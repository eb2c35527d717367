#include "tests/faults/recorded_disk.h"

#include <algorithm>
#include <cassert>
#include <filesystem>
#include <fstream>
#include <utility>

namespace ligule::faults {
namespace {

constexpr std::size_t kSector = 512;

Recording* running_now = nullptr;

std::string folder_of(const std::string& name) {
  const std::size_t slash = name.rfind('/');
  return slash == std::string::npos ? std::string() : name.substr(0, slash);
}

// `bytes` of a write, at its place; what lies between is zero.
void put(std::string& file, std::uint64_t at, std::string_view bytes) {
  const auto end = static_cast<std::size_t>(at) + bytes.size();
  if (file.size() < end) file.resize(end, '\0');
  file.replace(static_cast<std::size_t>(at), bytes.size(), bytes);
}

void apply(std::string& file, const Recorded& change) {
  if (change.act == Act::kTruncate)
    file.resize(static_cast<std::size_t>(change.at), '\0');
  else
    put(file, change.at, change.bytes);
}

// What of a write reached the disk: whole sectors from its beginning.
std::string_view torn(const Recorded& write, std::mt19937_64& random) {
  const std::size_t sectors = write.bytes.size() / kSector;
  return std::string_view(write.bytes).substr(0, kSector * (random() % (sectors + 1)));
}

void change_name(std::map<std::string, std::uint64_t>& names, const Recorded& change) {
  if (change.act == Act::kCreate) {
    names[change.name] = change.file;
  } else if (change.act == Act::kUnlink) {
    names.erase(change.name);
  } else if (const auto from = names.find(change.name); from != names.end()) {
    const std::uint64_t file = from->second;
    names.erase(from);
    names[change.other] = file;
  }
}

}  // namespace

Recording::Recording(std::string folder) : folder_(std::move(folder)) {
  assert(running_now == nullptr);
  running_now = this;
}

Recording::~Recording() {
  running_now = nullptr;
}

Recording* Recording::running() {
  return running_now;
}

bool Recording::covers(const std::string& path) const {
  return path == folder_ || path.starts_with(folder_ + "/");
}

std::string Recording::below(const std::string& path) const {
  return path == folder_ ? std::string() : path.substr(folder_.size() + 1);
}

void Recording::mark(std::uint64_t number) {
  add({.act = Act::kMark, .name = {}, .other = {}, .at = number, .bytes = {}});
}

void Recording::opened(int descriptor, const std::string& path, bool made) {
  const std::string name = below(path);
  if (std::filesystem::is_directory(path)) {
    open_[descriptor] = {.file = 0, .name = name, .folder = true};
    return;
  }
  if (made || !files_.contains(name)) {
    files_[name] = ++last_file_;
    add({.act = Act::kCreate,
         .file = last_file_,
         .name = name,
         .other = {},
         .bytes = {},
         .folder = folder_of(name)});
  }
  open_[descriptor] = {.file = files_[name], .name = name, .folder = false};
}

void Recording::closed(int descriptor) {
  open_.erase(descriptor);
}

void Recording::wrote(int descriptor, std::uint64_t at, std::string_view bytes) {
  const auto found = open_.find(descriptor);
  if (found == open_.end()) return;
  add({.act = Act::kWrite,
       .file = found->second.file,
       .name = {},
       .other = {},
       .at = at,
       .bytes = std::string(bytes)});
}

void Recording::truncated(int descriptor, std::uint64_t size) {
  const auto found = open_.find(descriptor);
  if (found == open_.end()) return;
  add({.act = Act::kTruncate,
       .file = found->second.file,
       .name = {},
       .other = {},
       .at = size,
       .bytes = {}});
}

void Recording::synced(int descriptor) {
  const auto found = open_.find(descriptor);
  if (found == open_.end()) return;
  const Open& open = found->second;
  if (open.folder)
    add({.act = Act::kSyncFolder, .name = {}, .other = {}, .bytes = {}, .folder = open.name});
  else
    add({.act = Act::kSync, .file = open.file, .name = {}, .other = {}, .bytes = {}});
}

void Recording::renamed(const std::string& from, const std::string& to) {
  const auto file = files_.extract(below(from));
  if (!file.empty()) files_[below(to)] = file.mapped();
  add({.act = Act::kRename,
       .name = below(from),
       .other = below(to),
       .bytes = {},
       .folder = folder_of(below(to))});
}

void Recording::unlinked(const std::string& path) {
  files_.erase(below(path));
  add({.act = Act::kUnlink,
       .name = below(path),
       .other = {},
       .bytes = {},
       .folder = folder_of(below(path))});
}

bool Replay::step() {
  if (next_ == acts_.size()) return false;
  const Recorded& act = acts_[next_++];
  switch (act.act) {
    case Act::kMark:
      marked_ = act.at;
      break;
    case Act::kWrite:
    case Act::kTruncate:
      files_[act.file].pending.push_back(&act);
      break;
    case Act::kSync: {
      File& file = files_[act.file];
      for (const Recorded* change : file.pending) apply(file.bytes, *change);
      file.pending.clear();
      break;
    }
    case Act::kSyncFolder:
      sync_names(act.folder);
      break;
    case Act::kCreate:
    case Act::kRename:
    case Act::kUnlink:
      name_changes_.push_back(&act);
      break;
  }
  return true;
}

// A journal keeps the changes of all names in one order: what came before a synced one is synced.
void Replay::sync_names(const std::string& folder) {
  const auto last =
      std::ranges::find(name_changes_.rbegin(), name_changes_.rend(), folder, &Recorded::folder);
  const auto synced = name_changes_.rend() - last;
  names_ = names_after(static_cast<std::size_t>(synced));
  name_changes_.erase(name_changes_.begin(), name_changes_.begin() + synced);
}

bool Replay::anything_pending() const {
  return !name_changes_.empty() ||
         std::ranges::any_of(files_, [](const auto& file) { return !file.second.pending.empty(); });
}

Replay::Names Replay::names_after(std::size_t changes) const {
  Names names = names_;
  for (std::size_t i = 0; i < changes; ++i) change_name(names, *name_changes_[i]);
  return names;
}

std::map<std::uint64_t, std::string> Replay::bytes_synced() const {
  std::map<std::uint64_t, std::string> bytes;
  for (const auto& [number, file] : files_) bytes[number] = file.bytes;
  return bytes;
}

std::map<std::uint64_t, std::string> Replay::bytes_written() const {
  auto bytes = bytes_synced();
  for (const auto& [number, file] : files_)
    for (const Recorded* change : file.pending) apply(bytes[number], *change);
  return bytes;
}

Disk Replay::disk_of(const Names& names, const std::map<std::uint64_t, std::string>& bytes) const {
  Disk disk;
  for (const auto& [name, file] : names) {
    const auto found = bytes.find(file);
    disk[name] = found == bytes.end() ? std::string() : found->second;
  }
  return disk;
}

Disk Replay::nothing_more() const {
  return disk_of(names_, bytes_synced());
}

Disk Replay::everything() const {
  return disk_of(names_after(name_changes_.size()), bytes_written());
}

Disk Replay::names_alone() const {
  return disk_of(names_after(name_changes_.size()), bytes_synced());
}

Disk Replay::bytes_alone() const {
  return disk_of(names_, bytes_written());
}

Disk Replay::some(std::mt19937_64& random) const {
  auto bytes = bytes_synced();
  for (const auto& [number, file] : files_) {
    for (const Recorded* change : file.pending) {
      switch (random() % 4) {
        case 0:
          break;
        case 1:
          if (change->act == Act::kWrite) put(bytes[number], change->at, torn(*change, random));
          break;
        default:
          apply(bytes[number], *change);
      }
    }
  }
  return disk_of(names_after(random() % (name_changes_.size() + 1)), bytes);
}

void write_disk(const Disk& disk, const std::string& folder) {
  namespace fs = std::filesystem;
  fs::remove_all(folder);
  fs::create_directories(folder);
  for (const auto& [name, bytes] : disk) {
    const fs::path path = fs::path(folder) / name;
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  }
}

}  // namespace ligule::faults
