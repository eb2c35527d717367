// What a ledger's size costs whoever stands in the plots: from a tap to the value durably kept,
// held against a bare insert into the same database library with the same settings on the same
// disk, and from a tap to the plot card that it opens.
//
//   records_bench make LEDGER RECORDS     makes the ledger, as FilledLedger says
//   records_bench measure LEDGER          works in it; a line a figure: name, unit, rounds' medians
//
// The tablet's own model, worker and screens do the work, headless; nothing is in their place. A
// tap is timed until the model holds what came back from the writer's thread; a frame until its
// triangles are there, all that the model shows included. The bare insert is one row of the same
// line of text in a transaction of its own, into a table of as many rows as the ledger; taps and
// inserts take turns, so that a machine that slows down slows both.
#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <mutex>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "app/flow/update.h"
#include "app/flow/views.h"
#include "app/program/station.h"
#include "app/screens/screens.h"
#include "app/work/worker.h"
#include "storage/files/definitions.h"
#include "storage/files/words.h"
#include "storage/trial/record_line.h"
#include "tests/bench/filled_ledger.h"
#include "tests/storage/ledger/sample.h"

namespace {

using namespace ligule;
using Clock = std::chrono::steady_clock;

constexpr int kRounds = 5;
constexpr int kFrames = 20;  // of the map of a rating, in a round
constexpr platform::Size kGlass{1920, 1200};
constexpr double kPpi = 226;
// Past the newest record of the ledger.
constexpr std::int64_t kMorning = 400'000;

double ms(Clock::duration took) {
  return std::chrono::duration<double, std::milli>(took).count();
}

class Figure {
 public:
  void add(Clock::duration took) { round_.push_back(ms(took)); }
  void end_round() {
    std::ranges::sort(round_);
    medians_.push_back(round_.at(round_.size() / 2));
    all_.insert(all_.end(), round_.begin(), round_.end());
    round_.clear();
  }
  void print(const char* name) {
    std::printf("%s\tms", name);
    for (const double median : medians_) std::printf("\t%.6f", median);
    std::ranges::sort(all_);
    std::printf("\t%.6f\n", all_.at(all_.size() * 99 / 100));
  }

 private:
  std::vector<double> round_, medians_, all_;
};

// The peer: a table of as many rows, of the same text, with nothing else about it.
class BareTable {
 public:
  BareTable(const std::string& path, const std::string& ledger) {
    need(sqlite3_open(path.c_str(), &database_));
    for (const char* setting : {"journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON",
                                "recursive_triggers=ON", "cache_size=-65536"})
      run(std::string("PRAGMA ") + setting);
    run("CREATE TABLE line(seq INTEGER PRIMARY KEY, body TEXT NOT NULL)");
    run("ATTACH '" + ledger + "' AS ledger");
    run("INSERT INTO line SELECT row, body FROM ledger.record");
    run("DETACH ledger");
    run("PRAGMA wal_checkpoint(TRUNCATE)");
    need(sqlite3_prepare_v2(database_, "INSERT INTO line(body) VALUES(?1)", -1, &insert_, nullptr));
  }
  BareTable(const BareTable&) = delete;
  BareTable& operator=(const BareTable&) = delete;
  BareTable(BareTable&&) = delete;
  BareTable& operator=(BareTable&&) = delete;
  ~BareTable() {
    sqlite3_finalize(insert_);
    sqlite3_close(database_);
  }
  void insert(const std::string& body) {
    run("BEGIN IMMEDIATE");
    need(sqlite3_bind_text(insert_, 1, body.c_str(), static_cast<int>(body.size()), SQLITE_STATIC));
    if (sqlite3_step(insert_) != SQLITE_DONE) throw std::runtime_error(sqlite3_errmsg(database_));
    sqlite3_reset(insert_);
    run("COMMIT");
  }

 private:
  void run(const std::string& sql) {
    need(sqlite3_exec(database_, sql.c_str(), nullptr, nullptr, nullptr));
  }
  void need(int code) {
    if (code != SQLITE_OK) throw std::runtime_error(sqlite3_errmsg(database_));
  }

  sqlite3* database_ = nullptr;
  sqlite3_stmt* insert_ = nullptr;
};

// The touch program without its window's loop: model, worker, screens.
class Tablet {
 public:
  explicit Tablet(const std::string& ledger) : files_(files::real_file_system()) {
    auto station = ledger::sample::need(
        program::open_station(*files_, {ledger, ledger::sample::at(kMorning).local_date, true}));
    words_ = std::make_unique<screens::Language>(
        files::load_words(*files_, LIGULE_SOURCE_ASSETS, "en").value().texts);
    work::Settings settings;
    settings.definitions = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
    settings.now = [] { return ledger::sample::at(kMorning); };
    settings.wake = [this] {
      const std::lock_guard lock(mutex_);
      woken_ = true;
      came_.notify_one();
    };
    worker_ = ledger::sample::need(work::Worker::start(
        std::move(station.ledger), *files_, std::move(station.ids), std::move(settings)));
    platform::WindowOptions options;
    options.headless = true;
    options.size = kGlass;
    options.ppi = kPpi;
    window_ = ledger::sample::need(platform::Window::open(options));
    ui_ = std::make_unique<touch::Ui>(*window_, touch::Look{});
    worker_->load_start();
    settle();
  }

  void tell(flow::Intent intent) {
    now_ += std::chrono::seconds{20};
    worker_->run(flow::update(
        model, {stamp_at(now_, std::chrono::minutes{-240}), std::move(intent)}, worker_->ids()));
  }
  // Until nothing is under way any more.
  void settle() {
    while (worker_->pending()) {
      std::vector<flow::Intent> outcomes = worker_->take();
      for (flow::Intent& outcome : outcomes) tell(std::move(outcome));
      if (!outcomes.empty()) continue;
      std::unique_lock lock(mutex_);
      came_.wait_for(lock, std::chrono::milliseconds{20}, [this] { return woken_; });
      woken_ = false;
    }
  }
  // A frame; how long it took to build, from the model to the triangles.
  Clock::duration draw() {
    const auto began = Clock::now();
    if (!window_->begin_frame({}, 0.016)) throw std::runtime_error(one_line(window_->error()));
    std::vector<flow::Intent> asked;
    ui_->begin({}, frame_ += 16);
    screens::draw(*ui_, *words_, flow::view_of(model), flow::overlay_of(model), scratch_, asked);
    ui_->end();
    const auto built = Clock::now() - began;
    window_->keep_picture(false);
    window_->end_frame();
    return built;
  }
  // What lies over the screen is read, and questions are answered so that the value is kept.
  void clear() {
    for (int turn = 0; turn < 8; ++turn) {
      settle();
      if (model.asking) {
        for (const std::string& phrase : phrases()) tell(flow::AnswerQuestion{phrase});
        continue;
      }
      if (model.swapped) tell(flow::AnswerSwapped{});
      tell(flow::ReadCautions{});
    }
  }

  flow::Model model;

 private:
  [[nodiscard]] std::vector<std::string> phrases() const {
    for (const flow::Draft& draft : model.asking->drafts)
      for (const checks::Finding& finding : draft.open)
        for (const checks::Phrase& phrase : finding.rule->phrases)
          if (phrase.keeps) return {std::string(phrase.code)};
    return {};
  }

  std::unique_ptr<files::FileSystem> files_;
  std::unique_ptr<screens::Language> words_;
  std::mutex mutex_;
  std::condition_variable came_;
  bool woken_ = false;
  std::unique_ptr<work::Worker> worker_;
  std::unique_ptr<platform::Window> window_;
  std::unique_ptr<touch::Ui> ui_;
  screens::Scratch scratch_;
  UtcInstant now_ = ledger::sample::at(kMorning).utc;
  std::int64_t frame_ = 0;
};

// The newest trial's empty rating, plot after plot.
void measure_in(const std::string& ledger) {
  const std::string bare_path = ledger + ".bare";
  std::filesystem::remove(bare_path);
  Tablet tablet(ledger);
  BareTable bare(bare_path, ledger);
  tablet.tell(flow::PickPerson{"AB"});
  tablet.clear();
  if (tablet.model.trials.empty()) throw std::runtime_error("no trial in " + ledger);
  const Plan plan = tablet.model.trials.back().plan;
  const OccasionId rating = plan.occasion(bench::open_rating(plan));
  const std::string digest = sha256(plan_text(plan)).hex();
  Record like = ledger::sample::reading(1, plan.plots.front().number, "percent_stand", "80");
  like.trial = plan.id();
  like.plan = digest;
  like.stream = StreamId{ledger::sample::id(1)};
  like.seq = 1000;
  const std::string body = ledger::sample::need(record_body(like));

  Figure kept, inserted, opened, card, history, card_built, map_built;
  const std::vector<PlanPlot> path = plan.along_path();
  std::size_t at = 0;
  for (int round = 0; round < kRounds; ++round) {
    for (int n = 0; n < 5; ++n) {
      tablet.tell(flow::ShowToday{});
      tablet.settle();
      const auto began = Clock::now();
      tablet.tell(flow::OpenOccasion{plan.id(), rating});
      tablet.settle();
      tablet.draw();
      opened.add(Clock::now() - began);
    }
    opened.end_round();
    tablet.clear();
    for (std::size_t n = 0; n < path.size() / kRounds; ++n, ++at) {
      const auto began = Clock::now();
      tablet.tell(flow::GoToPlot{path[at].number});
      tablet.draw();
      card.add(Clock::now() - began);
      tablet.clear();
      for (const char* measure : {"percent_stand", "seedling_vigor"}) {
        const std::string value = std::strcmp(measure, "percent_stand") == 0 ? "85" : "5";
        const auto tapped = Clock::now();
        tablet.tell(flow::ChooseValue{measure, value});
        tablet.settle();
        kept.add(Clock::now() - tapped);
        tablet.clear();
        const auto asked = Clock::now();
        bare.insert(body);
        inserted.add(Clock::now() - asked);
      }
      card_built.add(tablet.draw());
    }
    card_built.end_round();
    card.end_round();
    kept.end_round();
    inserted.end_round();
  }
  for (int round = 0; round < kRounds; ++round) {
    tablet.tell(flow::ReviewOccasion{plan.id(), rating});
    tablet.settle();
    for (int n = 0; n < kFrames; ++n) map_built.add(tablet.draw());
    map_built.end_round();
    for (std::size_t n = 0; n < 12; ++n) {
      const auto began = Clock::now();
      tablet.tell(flow::ShowHistory{path[n].number});
      tablet.settle();
      tablet.draw();
      history.add(Clock::now() - began);
    }
    history.end_round();
  }
  kept.print("kept");
  inserted.print("bare insert");
  opened.print("rating opened");
  card.print("plot card");
  history.print("plot's history");
  card_built.print("card built");
  map_built.print("map built");
  std::filesystem::remove(bare_path);
}

}  // namespace

int main(int count, char** words) {
  const std::string what = count > 1 ? words[1] : "";
  try {
    if (what == "make" && count == 4) {
      const bench::FilledLedger filled(words[2], std::stoi(words[3]));
      std::printf("%d\n", filled.written());
      return 0;
    }
    if (what == "measure" && count == 3) {
      measure_in(words[2]);
      return 0;
    }
  } catch (const std::exception& error) {
    std::fprintf(stderr, "records_bench: %s\n", error.what());
    return 1;
  }
  std::fprintf(stderr, "records_bench: make LEDGER RECORDS, or measure LEDGER\n");
  return 2;
}
