// What a program asked of the disk, and how the disk could look after a power cut.
//
// The calls that change files (open, write, truncate, sync, rename, unlink) are taken over from the
// C library by functions of the same names in recorded_calls.cc, for SQLite as for our own code.
// They do what they always do; below one folder they are written down as well. A cut may come after
// any of them. What was not synced by then may be on the disk or not: any part of the writes, in
// any order, the last ones torn at a sector; of names, those that were changed first. That is
// weaker than what common file systems promise (Pillai et al. 2014, OSDI, "All File Systems Are Not
// Created Equal"), but for names, which they all keep in order.
#pragma once

#include <cstdint>
#include <map>
#include <random>
#include <string>
#include <string_view>
#include <vector>

namespace ligule::faults {

enum class Act { kCreate, kWrite, kTruncate, kSync, kSyncFolder, kRename, kUnlink, kMark };

struct Recorded {
  Act act = Act::kMark;
  std::uint64_t file = 0;   // of kCreate, kWrite, kTruncate, kSync: the file, whatever its name
  std::string name;         // of kCreate, kRename (from), kUnlink, below the folder
  std::string other;        // of kRename: to
  std::uint64_t at = 0;     // of kWrite the offset, of kTruncate the size, of kMark its number
  std::string bytes;        // of kWrite
  std::string folder = {};  // of kSyncFolder, and of names: which folder holds them
};

// Writes down what happens below `folder` until it goes. One at a time, in one thread.
class Recording {
 public:
  explicit Recording(std::string folder);
  Recording(const Recording&) = delete;
  Recording& operator=(const Recording&) = delete;
  Recording(Recording&&) = delete;
  Recording& operator=(Recording&&) = delete;
  ~Recording();

  // From here on something was promised.
  void mark(std::uint64_t number);
  [[nodiscard]] const std::vector<Recorded>& acts() const { return acts_; }

  // For recorded_calls.cc: the recording that runs, or null, and what it is told.
  [[nodiscard]] static Recording* running();
  [[nodiscard]] bool covers(const std::string& path) const;
  void opened(int descriptor, const std::string& path, bool made);
  void closed(int descriptor);
  void wrote(int descriptor, std::uint64_t at, std::string_view bytes);
  void truncated(int descriptor, std::uint64_t size);
  void synced(int descriptor);
  void renamed(const std::string& from, const std::string& to);
  void unlinked(const std::string& path);

 private:
  struct Open {
    std::uint64_t file = 0;
    std::string name;     // below the folder
    bool folder = false;  // it is a folder that was opened
  };
  [[nodiscard]] std::string below(const std::string& path) const;
  void add(Recorded recorded) { acts_.push_back(std::move(recorded)); }

  std::string folder_;
  std::vector<Recorded> acts_;
  std::map<int, Open> open_;
  std::map<std::string, std::uint64_t> files_;  // name -> file, as the running machine has it
  std::uint64_t last_file_ = 0;
};

// Names below the folder and their bytes.
using Disk = std::map<std::string, std::string>;

// The disk from the first act on, act by act.
class Replay {
 public:
  explicit Replay(const std::vector<Recorded>& acts) : acts_(acts) {}

  // The next act happens; false: there is none.
  bool step();
  // The number of the last mark.
  [[nodiscard]] std::uint64_t marked() const { return marked_; }
  // Something is not synced, so that a cut here has more than one outcome.
  [[nodiscard]] bool anything_pending() const;

  [[nodiscard]] Disk nothing_more() const;                 // only what was synced
  [[nodiscard]] Disk everything() const;                   // as if nothing had happened
  [[nodiscard]] Disk names_alone() const;                  // new names, old bytes
  [[nodiscard]] Disk bytes_alone() const;                  // the reverse
  [[nodiscard]] Disk some(std::mt19937_64& random) const;  // any part, torn at sectors of 512

 private:
  struct File {
    std::string bytes;                     // synced
    std::vector<const Recorded*> pending;  // writes and truncations since
  };
  using Names = std::map<std::string, std::uint64_t>;
  [[nodiscard]] Disk disk_of(const Names& names,
                             const std::map<std::uint64_t, std::string>& bytes) const;
  [[nodiscard]] Names names_after(std::size_t changes) const;
  [[nodiscard]] std::map<std::uint64_t, std::string> bytes_synced() const;
  [[nodiscard]] std::map<std::uint64_t, std::string> bytes_written() const;
  void sync_names(const std::string& folder);

  const std::vector<Recorded>& acts_;
  std::size_t next_ = 0;
  std::uint64_t marked_ = 0;
  std::map<std::uint64_t, File> files_;
  Names names_;                                // synced
  std::vector<const Recorded*> name_changes_;  // since, in order
};

// The files of a folder made anew so; whatever is there goes.
void write_disk(const Disk& disk, const std::string& folder);

}  // namespace ligule::faults
