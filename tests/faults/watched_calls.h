// What a program does to its files, seen from outside: preloaded (LD_PRELOAD) into the real touch
// program, or linked into a test, the calls of the C library that change files are counted by what
// they are for, can be slow, and one of them can be the program's last.
//
// Counts and wishes lie in a page of a file that two programs map, so that they outlive a kill.
#pragma once

#include <array>
#include <atomic>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace ligule::faults {

enum class Work {
  kOther,   // keys, settings, notes beside the ledger
  kCommit,  // the ledger's log is written
  kFold,    // the log is folded into the ledger
  kSeal,    // a season file is made
  kCopy,    // and copied to a stick
  kSpare,   // the ledger is copied to a card
};
inline constexpr std::size_t kWorks = 6;
[[nodiscard]] std::string_view name_of(Work work);

// Where in a call the program ends. Within: half of the bytes of a write are there; of other calls
// it is before.
enum class Moment : std::int32_t { kBefore, kWithin, kAfter };

// Plain and lock-free: it is memory that two programs share.
struct Watched {
  std::array<std::atomic<std::int64_t>, kWorks> calls;  // begun so far
  // Between a work's first change and the call that ends it: the sync of a commit or a fold, the
  // name of a file.
  std::array<std::atomic<std::int32_t>, kWorks> under_way;

  // Wishes.
  std::atomic<std::int64_t> last_call;  // of `last_work`, from 1, the program's last; 0: none
  std::atomic<std::int32_t> last_work;
  std::atomic<std::int32_t> last_moment;
  std::atomic<std::int32_t> sync_ms;  // every sync takes so long
};

// A page for a program that is started with it: the name of its file goes into this variable.
inline constexpr const char* kPageVariable = "LIGULE_WATCHED_PAGE";

// A page in a file of that name, made anew; unmapped with this.
class Page {
 public:
  explicit Page(const std::string& file);
  Page(const Page&) = delete;
  Page& operator=(const Page&) = delete;
  Page(Page&&) = delete;
  Page& operator=(Page&&) = delete;
  ~Page();
  [[nodiscard]] Watched& operator*() const { return *watched_; }
  [[nodiscard]] Watched* operator->() const { return watched_; }

 private:
  Watched* watched_;
};

// Syncs of this process take so long until the end of the scope, where its calls are taken over.
class SlowSyncs {
 public:
  explicit SlowSyncs(std::int32_t ms);
  SlowSyncs(const SlowSyncs&) = delete;
  SlowSyncs& operator=(const SlowSyncs&) = delete;
  SlowSyncs(SlowSyncs&&) = delete;
  SlowSyncs& operator=(SlowSyncs&&) = delete;
  ~SlowSyncs();
};

// This process's own: the page it was started with, else one nobody else sees.
[[nodiscard]] Watched& watched_here();
// For a child that goes on in its parent's program: from now on by the page that the variable
// names.
void watch_by_page_named();

}  // namespace ligule::faults
