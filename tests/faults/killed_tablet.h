// The touch program at work on an invented site, killed and started again on what the kill left.
//
// A session is a drive file made for the ledger as it stands: sign in, go on with the rating, rate
// plots, seal, copy, rate on. After each action the screen is listed, so that what was on it before
// the kill is known. Nobody touches the ledger between two starts: it is looked at in a copy.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <random>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "tests/app/program/invented_site.h"
#include "tests/faults/watched_calls.h"

namespace ligule::faults {

// A file's bytes; empty where there is none.
[[nodiscard]] std::string text_of(const std::string& file);

// What a drive's errors say where it waited in vain for an action's effects: by the machine's
// clock, so a slow disk or others' work can be why, and nothing is wrong with the program.
[[nodiscard]] bool tells_of_giving_up(std::string_view errors);

// What runs in the child: never returns.
using Program = std::function<void(const program::Arguments&)>;
// build/ligule, its calls watched.
[[nodiscard]] Program real_program();

struct Ending {
  // kAtAnyTime: a while after it began so many calls, of whatever work: `part` of the time that it
  // took to begin them. By its own calls and its own pace a program is met as far on a machine that
  // others keep busy as on an idle one. kAtStart: so many seconds after its start.
  enum class Kind { kByItself, kAtStart, kAtAnyTime, kAtCall };
  Kind kind = Kind::kByItself;
  double seconds = 0;
  double part = 0;
  std::int64_t call = 0;  // kAtCall: of `work`
  Work work = Work::kCommit;
  Moment moment = Moment::kBefore;
};

struct Session {
  bool killed = false;
  bool gave_up = false;  // the driver: an action took longer than it waits, as on a busy machine
  std::string fault;     // what was lost, is half there or did not go on; empty: nothing
  bool went_on = false;  // the start found the plot to go on at
  bool unseen = false;   // the ledger held more than the screen had shown
  std::array<bool, kWorks> under_way{};
  std::array<std::int64_t, kWorks> calls{};
  double seconds = 0;
};

class KilledTablet {
 public:
  KilledTablet(Program program, std::uint64_t seed);

  // One session, and a look at what it left.
  [[nodiscard]] Session work(const Ending& ending);
  // Open plots are left for some more sessions.
  [[nodiscard]] bool goes_on() const;

 private:
  struct Step {
    std::string list = {};   // the screen after it
    std::string plot = {};   // what it was about
    std::string stand = {};  // that was tapped
    std::vector<std::string> heights = {};
    bool opened = false;  // the card is to be that of `plot`
  };
  // What the ledger says, of a plot.
  struct Held {
    std::string stand;
    std::vector<std::string> heights;  // by part
  };
  using Holding = std::map<std::string, Held>;

  std::string script();
  void rate(std::string& lines, std::size_t plots);
  void close_day(std::string& lines);
  void step(std::string& lines, const std::string& action, Step what);

  void wait_and_kill(int child, const Ending& ending, Session& session) const;
  // Whether it lives until the moment to kill it.
  [[nodiscard]] bool lives_until(int child, const Ending& ending, int& status) const;
  void note_shown();
  [[nodiscard]] std::int64_t calls_begun() const;
  [[nodiscard]] std::string judge(Session& session);
  [[nodiscard]] std::string judge_start(Session& session) const;
  [[nodiscard]] std::string judge_ledger(const Holding& holding) const;
  [[nodiscard]] std::string judge_files();

  Program program_;
  std::mt19937_64 random_;
  program_test::InventedSite site_;
  Plan plan_;
  Page page_;

  Holding holding_;            // as the last session left it
  std::int64_t clock_ms_ = 0;  // of the day, where the newest record stands
  std::vector<Step> steps_;    // of the present session
  int lists_ = 0;

  // What screens said was kept, sealed, copied, since the site was made.
  std::map<std::string, std::string> stands_;
  std::map<std::string, std::vector<std::string>> heights_;
  std::set<std::string> files_;   // season files and copies, by path
  std::set<std::string> looked_;  // season files and spare copies found whole, by path
};

}  // namespace ligule::faults
