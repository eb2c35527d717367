#include "tests/faults/killed_tablet.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "app/flow/stake.h"
#include "sync/seal/season_file.h"

namespace ligule::faults {
namespace {

using program_test::need;

// A site is done after some 17 sessions: in larger ones each takes longer and shows no more.
constexpr int kBlocks = 24;
constexpr int kInBlock = 8;  // a block that is whole is copied to the card
constexpr std::size_t kPlotsOfSession = 10;
constexpr const char* kRating = "Today/STAND/2026-stand/";

Plan many_plots() {
  Plan plan = program_test::InventedSite::plan();
  plan.entries.resize(kInBlock);
  plan.plots.clear();
  for (int block = 1; block <= kBlocks; ++block)
    for (int e = 1; e <= kInBlock; ++e)
      plan.plots.push_back({std::to_string(100 * block + e), block,
                            plan.entries[static_cast<std::size_t>(e) - 1].code, block, e,
                            kInBlock * (block - 1) + e});
  plan.occasions.front().measures = {"percent_stand", "plant_height_canopy"};
  return plan;
}

// The screen as it was listed; discarded where the list was not finished.
nlohmann::json listed(const std::string& file) {
  auto list = nlohmann::json::parse(text_of(file), nullptr, /*allow_exceptions=*/false);
  return list.is_array() ? list : nlohmann::json::array();
}

bool shows(const nlohmann::json& list, std::string_view text) {
  return std::ranges::any_of(list, [&](const nlohmann::json& widget) {
    return widget["kind"] == "text" &&
           widget["label"].get<std::string>().find(text) != std::string::npos;
  });
}

// The name of the season file that a text names.
std::string file_named(const nlohmann::json& list) {
  for (const nlohmann::json& widget : list) {
    const auto label = widget["label"].get<std::string>();
    const std::size_t from = label.find("season-");
    const std::size_t to = label.find(".zip");
    if (from != std::string::npos && to != std::string::npos)
      return label.substr(from, to + 4 - from);
  }
  return {};
}

}  // namespace

std::string text_of(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

bool tells_of_giving_up(std::string_view errors) {
  return errors.find("still at work after") != std::string_view::npos;
}

Program real_program() {
  return [](const program::Arguments& arguments) {
    const std::string build = LIGULE_BUILD_DIR;
    const std::string calls = build + "/libligule_watched_calls.so";
    setenv("LD_PRELOAD", calls.c_str(), 1);  // NOLINT(concurrency-mt-unsafe): a child of one thread
    const std::string program = build + "/ligule";
    const std::string ledger = arguments.ledger.value_or("").string();
    const std::string drive = arguments.drive.value_or("").string();
    const std::string day(program_test::kDay);
    execl(program.c_str(), program.c_str(), "--ledger", ledger.c_str(), "--headless", "--today",
          day.c_str(), "--drive", drive.c_str(), nullptr);
    std::perror(program.c_str());  // as while somebody builds it
  };
}

KilledTablet::KilledTablet(Program program, std::uint64_t seed)
    : program_(std::move(program)), random_(seed), plan_(many_plots()), page_(site_.file("page")) {
  site_.enrol(plan_);
  std::filesystem::create_directories(site_.file("media/STICK"));
}

bool KilledTablet::goes_on() const {
  const auto rated = std::ranges::count_if(
      holding_, [](const auto& each) { return !each.second.heights.empty(); });
  // This one, and the one that ends the day.
  return static_cast<std::size_t>(rated) + 2 * kPlotsOfSession < plan_.plots.size();
}

void KilledTablet::step(std::string& lines, const std::string& action, Step what) {
  what.list = site_.file("list-" + std::to_string(++lists_) + ".json");
  lines.append(action).append("\nlist ").append(what.list).append("\n");
  steps_.push_back(std::move(what));
}

// From the first open plot on, as the program is to go on.
void KilledTablet::rate(std::string& lines, std::size_t plots) {
  const auto places = flow::stake_places(plan_.plots, path_along(plan_.plots));
  bool first = true;
  for (std::size_t at = 0; at < plan_.plots.size() && plots > 0; ++at) {
    const std::string& plot = plan_.plots[at].number;
    Held& held = holding_[plot];  // as it will be
    if (!held.heights.empty()) continue;
    if (std::exchange(first, false)) {
      const bool begun = std::ranges::any_of(
          holding_, [](const auto& each) { return !each.second.stand.empty(); });
      step(lines, std::string("tap \"") + kRating + (begun ? "Go on\"" : "Rate\""),
           {.plot = plot, .opened = true});
    }
    if (std::ranges::find(places, at) != places.end())
      lines.append("tap \"Stake/").append(plot).append("\"\n");
    if (held.stand.empty()) {
      held.stand = std::to_string(5 * (1 + random_() % 20));
      step(lines, "tap \"Stand/" + held.stand + "\"", {.plot = plot, .stand = held.stand});
    }
    std::string typed;
    for (int part = 0; part < 3; ++part) {
      held.heights.push_back(std::to_string(20 + random_() % 6));
      typed.append(held.heights.back()).append("\\n");
    }
    step(lines, "type \"" + typed + "\"", {.plot = plot, .heights = held.heights});
    --plots;
  }
}

void KilledTablet::close_day(std::string& lines) {
  lines += "tap \"Back\"\ntap \"Day's end\"\n";
  step(lines, "tap \"Seal the day\"", {});
  step(lines, "tap \"Copy to STICK\"", {});
  lines += "tap \"Back\"\n";
}

std::string KilledTablet::script() {
  steps_.clear();
  // Later in the day than the session before.
  std::string lines = "wait " + std::to_string(clock_ms_ + 60'000) + "\n";
  step(lines, "type \"AB\\n\"", {});
  const std::size_t before = 1 + random_() % (kPlotsOfSession - 2);
  rate(lines, before);
  close_day(lines);
  rate(lines, kPlotsOfSession - before);
  return lines + "quit\n";
}

std::int64_t KilledTablet::calls_begun() const {
  std::int64_t all = 0;
  for (const std::atomic<std::int64_t>& calls : page_->calls) all += calls;
  return all;
}

bool KilledTablet::lives_until(int child, const Ending& ending, int& status) const {
  using Clock = std::chrono::steady_clock;
  const auto began = Clock::now();
  const bool at_start = ending.kind == Ending::Kind::kAtStart;
  std::chrono::duration<double> wait(at_start ? ending.seconds : 0);
  bool reached = at_start;
  while (waitpid(child, &status, WNOHANG) == 0) {
    const std::chrono::duration<double> passed = Clock::now() - began;
    if (!reached && calls_begun() >= ending.call) {
      reached = true;
      wait = passed * (1 + ending.part);
    }
    if (reached && passed >= wait) return true;
    std::this_thread::sleep_for(std::chrono::microseconds(200));
  }
  return false;
}

void KilledTablet::wait_and_kill(int child, const Ending& ending, Session& session) const {
  using Clock = std::chrono::steady_clock;
  const auto began = Clock::now();
  int status = 0;
  if (ending.kind == Ending::Kind::kByItself || ending.kind == Ending::Kind::kAtCall) {
    waitpid(child, &status, 0);
  } else if (lives_until(child, ending, status)) {
    kill(child, SIGKILL);
    waitpid(child, &status, 0);
  }
  session.seconds = std::chrono::duration<double>(Clock::now() - began).count();
  session.killed = WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL;
  if (session.killed || (WIFEXITED(status) && WEXITSTATUS(status) == 0)) return;
  const std::string errors = text_of(site_.file("errors"));
  session.gave_up = WIFEXITED(status) && tells_of_giving_up(errors);
  if (!session.gave_up)
    session.fault = "ended with status " + std::to_string(status) + ": " + errors;
}

Session KilledTablet::work(const Ending& ending) {
  const program::Arguments arguments = site_.drive(script());
  for (std::size_t work = 0; work < kWorks; ++work) {
    page_->calls.at(work) = 0;
    page_->under_way.at(work) = 0;
  }
  const bool by_call = ending.kind == Ending::Kind::kAtCall;
  page_->last_call = by_call ? ending.call : 0;
  page_->last_work = static_cast<std::int32_t>(ending.work);
  page_->last_moment = static_cast<std::int32_t>(ending.moment);
  std::filesystem::remove(site_.file("errors"));  // a kill may come before there are new ones
  Session session;
  const pid_t child = fork();
  if (child == 0) {
    const int errors = open(site_.file("errors").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    dup2(errors, 2);
    setenv(kPageVariable, site_.file("page").c_str(), 1);    // NOLINT(concurrency-mt-unsafe)
    setenv("LIGULE_MEDIA", site_.file("media").c_str(), 1);  // NOLINT(concurrency-mt-unsafe)
    program_(arguments);
    _exit(127);
  }
  wait_and_kill(child, ending, session);
  for (std::size_t work = 0; work < kWorks; ++work) {
    session.calls.at(work) = page_->calls.at(work);
    session.under_way.at(work) = page_->under_way.at(work) != 0;
  }
  if (session.fault.empty()) session.fault = judge(session);
  return session;
}

// What the screens showed before the end.
void KilledTablet::note_shown() {
  std::vector<const Step*> tapped;
  for (const Step& each : steps_) {
    tapped.push_back(&each);
    const auto list = listed(each.list);
    if (shows(list, "All kept")) {
      for (const Step* done : tapped) {
        if (!done->stand.empty()) stands_[done->plot] = done->stand;
        if (!done->heights.empty()) heights_[done->plot] = done->heights;
      }
      tapped.clear();
    }
    for (const nlohmann::json& widget : list) {
      if (widget["kind"] != "stake" || widget["value"] != "kept") continue;
      const Held& held = holding_[widget["label"]];
      stands_[widget["label"]] = held.stand;
      heights_[widget["label"]] = held.heights;
    }
    const std::string name = file_named(list);
    if (shows(list, "Sealed and read back")) files_.insert(site_.file("season-files/" + name));
    if (shows(list, "Copied to STICK and read back"))
      files_.insert(site_.file("media/STICK/" + name));
  }
}

// The start went on where the ledger stood.
std::string KilledTablet::judge_start(Session& session) const {
  for (const Step& each : steps_) {
    if (!each.opened) continue;
    const auto list = listed(each.list);
    if (list.empty()) break;
    const bool there = std::ranges::any_of(list, [&](const nlohmann::json& widget) {
      return widget["label"] == each.plot &&
             (widget["group"] == "Rate" || widget["group"] == "Stake" ||
              widget["selected"] == true);
    });
    if (!there) return "the start went on elsewhere than at plot " + each.plot;
    session.went_on = true;
  }
  return session.gave_up ? std::string() : text_of(site_.file("errors"));
}

std::string KilledTablet::judge_ledger(const Holding& holding) const {
  for (const auto& [plot, stand] : stands_) {
    const auto at = holding.find(plot);
    if (at == holding.end() || at->second.stand != stand)
      return std::string("stand ")
          .append(stand)
          .append(" of plot ")
          .append(plot)
          .append(" was shown as kept and is not there");
  }
  for (const auto& [plot, heights] : heights_) {
    const auto at = holding.find(plot);
    if (at == holding.end() || at->second.heights != heights)
      return "heights of plot " + plot + " were shown as kept and are not there";
  }
  for (const auto& [plot, held] : holding)
    if (!held.heights.empty() && held.heights.size() != 3)
      return "half an act is there, of plot " + plot;
  return {};
}

// Whatever has its final name is whole, and what was said to be sealed and copied is there.
std::string KilledTablet::judge_files() {
  const auto files = files::real_file_system();
  for (const std::string& file : files_)
    if (!std::filesystem::exists(file)) return file + " was shown as sealed and is not there";
  for (const char* folder : {"season-files", "media/STICK", "media/STICK/ligule-spare"}) {
    if (!std::filesystem::exists(site_.file(folder))) continue;
    for (const auto& entry : std::filesystem::directory_iterator(site_.file(folder))) {
      const std::string file = entry.path().string();
      if (looked_.contains(file)) continue;
      if (file.ends_with(".zip")) {
        if (const auto season = seal::read_season_file(*files, file); !season)
          return one_line(season.error().front());
        looked_.insert(file);
      } else if (file.ends_with(".ledger")) {
        const auto spare = ledger::Ledger::open(file, ledger::Access::kReadOnly);
        if (!spare) return one_line(spare.error());
        const auto whole = spare->check();
        if (!whole || !whole->empty()) return file + " is not whole";
        looked_.insert(file);
      }
    }
  }
  return {};
}

std::string KilledTablet::judge(Session& session) {
  note_shown();
  if (std::string fault = judge_start(session); !fault.empty()) return fault;
  const std::string look = site_.file("look.ledger");
  for (const char* behind : {"", "-wal", "-shm"}) std::filesystem::remove(look + behind);
  for (const char* behind : {"", "-wal"})
    if (std::filesystem::exists(site_.ledger() + behind))
      std::filesystem::copy_file(site_.ledger() + behind, look + behind);
  const auto ledger = ledger::Ledger::open(look, ledger::Access::kReadOnly);
  if (!ledger) return one_line(ledger.error());
  const auto faults = need(ledger->check());
  if (!faults.empty()) return one_line(faults.front());
  Holding holding;
  for (const ledger::Claim& claim : need(ledger->claims(plan_.id()))) {
    const PlanPlot* plot = plan_.find_plot(PlotId{claim.record.subject.value_or(Uuid{})});
    if (plot == nullptr) return "a claim is about no plot";
    Held& held = holding[plot->number];
    if (claim.record.measure == "percent_stand")
      held.stand = claim.record.entered;
    else
      held.heights.push_back(claim.record.entered);
    const auto morning = claim.record.at.utc.time_since_epoch() % std::chrono::hours(24);
    clock_ms_ = std::max<std::int64_t>(clock_ms_, (morning - std::chrono::hours(12)).count());
  }
  std::size_t seen = 0;
  for (const auto& [plot, held] : holding)
    seen += (held.stand.empty() ? 0 : 1) + held.heights.size();
  session.unseen = seen > stands_.size() + 3 * heights_.size();
  std::string fault = judge_ledger(holding);
  if (fault.empty()) fault = judge_files();
  for (const Step& each : steps_) std::filesystem::remove(each.list);
  // What is there and was not shown is there from now on.
  holding_ = std::move(holding);
  return fault;
}

}  // namespace ligule::faults
