// How long it takes to hold one value against every rule, in a ledger of a million records, beside
// what making one record durable takes on the same disk in the same run.
//
//   checks_bench FOLDER [RECORDS]     the ledger is made in FOLDER, and removed again
//
// A value is timed as the tablet sees it: from the tap to the draft that goes to the writer, with
// the plot's season, the limits, the weather and, of a weight, the exchanged neighbours. What the
// rules look at is in memory by then; the ledger's size counts when the occasion is opened.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <string>
#include <vector>

#include "app/flow/update.h"
#include "app/work/load.h"
#include "storage/files/definitions.h"
#include "storage/trial/record_line.h"
#include "tests/bench/filled_ledger.h"
#include "tests/storage/ledger/sample.h"

namespace {

using namespace ligule;
using Clock = std::chrono::steady_clock;

struct Times {
  std::vector<double> ms;

  void add(Clock::duration took) {
    ms.push_back(std::chrono::duration<double, std::milli>(took).count());
  }
  double at(double share) {
    std::ranges::sort(ms);
    return ms.at(static_cast<std::size_t>(share * static_cast<double>(ms.size() - 1)));
  }
};

// The tablet's model over that ledger, driven by taps.
class Hand {
 public:
  Hand(bench::FilledLedger& filled, const Definitions& definitions)
      : filled_(filled), ids_(1'000'000'000) {
    tell(ledger::sample::need(work::load_start(filled.ledger(), definitions)));
    tell(flow::PickPerson{"AB"});
  }
  void open(const Plan& plan, const PlanOccasion& occasion) {
    tell(flow::ShowToday{});
    tell(flow::OpenOccasion{plan.id(), plan.occasion(occasion)});
    const auto begun = Clock::now();
    auto loaded = ledger::sample::need(
        work::load_occasion(filled_.ledger(), plan.id(), plan.occasion(occasion)));
    opening.add(Clock::now() - begun);
    tell(std::move(loaded));
    clear();
  }
  // How long the tap took until its record was on its way; what is asked is answered after that.
  // A value that is not kept says why.
  void timed(const std::string& plot, flow::Intent intent, Times& times) {
    const std::size_t before = kept;
    std::string asked;
    const auto begun = Clock::now();
    const flow::Effects effects = tell(std::move(intent));
    times.add(Clock::now() - begun);
    if (model.asking)
      for (const flow::Draft& draft : model.asking->drafts)
        for (const checks::Finding& finding : draft.open)
          asked += " " + std::string(finding.rule->code);
    clear();
    if (kept == before)
      std::printf("plot %s: not kept; asked:%s%s\n", plot.c_str(), asked.c_str(),
                  model.asking ? ", still asking" : "");
  }
  flow::Effects tell(flow::Intent intent) {
    now_ += std::chrono::seconds{20};
    return flow::update(model, {stamp_at(now_, std::chrono::minutes{-240}), std::move(intent)},
                        [this](UtcInstant) { return RecordId{ledger::sample::id(ids_++)}; });
  }
  // Whatever lies over the screen is read, said yes to or answered, and acts are kept.
  void clear() {
    for (int turn = 0; turn < 8; ++turn) {
      while (!model.pending.empty()) {
        kept += model.pending.front().kind == flow::ActKind::kValues ? 1U : 0U;
        tell(flow::Kept{model.pending.front().number});
      }
      if (model.asking) {
        for (const auto& phrase : question_phrases()) tell(flow::AnswerQuestion{phrase});
        continue;
      }
      if (model.swapped) tell(flow::AnswerSwapped{});
      tell(flow::ReadCautions{});
    }
  }

  flow::Model model;
  Times opening;
  std::size_t kept = 0;  // acts that gave values

 private:
  std::vector<std::string> question_phrases() {
    for (const flow::Draft& draft : model.asking->drafts)
      for (const checks::Finding& finding : draft.open)
        for (const checks::Phrase& phrase : finding.rule->phrases)
          if (phrase.keeps) return {std::string(phrase.code)};
    return {};
  }
  bench::FilledLedger& filled_;
  std::uint64_t ids_;
  UtcInstant now_ = ledger::sample::at(400'000).utc;
};

}  // namespace

int main(int count, char** arguments) {
  if (count < 2) {
    std::fprintf(stderr, "checks_bench: name a folder on the disk to be measured\n");
    return 2;
  }
  const std::filesystem::path folder = std::filesystem::path(arguments[1]) / "checks-bench";
  const int records = count > 2 ? std::stoi(arguments[2]) : 1'000'000;
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  const auto files = files::real_file_system();
  const Definitions definitions = files::load_definitions(*files, LIGULE_SOURCE_ASSETS).value();
  bench::FilledLedger filled((folder / "bench.ledger").string(), records);
  std::printf("records: %d in %d trials\n", filled.written(), filled.trials());

  Hand hand(filled, definitions);
  const Plan plan = filled.plan();
  Times percent;
  hand.open(plan, bench::open_rating(plan));
  for (const PlanPlot& plot : plan.along_path()) {
    hand.tell(flow::GoToPlot{plot.number});
    hand.clear();
    hand.timed(plot.number,
               flow::ChooseValue{"percent_stand", std::to_string(55 + plot.column % 9 * 5)},
               percent);
  }
  Times weight;
  hand.open(plan, bench::open_cutting(plan));
  hand.tell(flow::KeyText{"Mower"});
  hand.tell(flow::StartRun{});
  hand.clear();
  for (const PlanPlot& plot : plan.along_path()) {
    hand.tell(flow::GoToPlot{plot.number});
    hand.clear();
    hand.tell(flow::FocusField{flow::Field::kGross});
    hand.tell(flow::KeyText{bench::pounds(plot)});
    hand.timed(plot.number, flow::KeepPlot{}, weight);
  }
  const std::size_t kept = hand.kept;
  Times commit;
  const std::string digest = sha256(plan_text(plan)).hex();
  for (const PlanPlot& plot : plan.plots) {
    const Record one =
        filled.reading(plan, digest, bench::open_rating(plan), plot, "percent_stand", "80");
    const auto begun = Clock::now();
    ledger::sample::need(filled.ledger().append({one}));
    commit.add(Clock::now() - begun);
  }
  const auto line = [&](const char* what, Times& times) {
    std::printf("%-28s median %8.3f ms, 99 of 100 under %8.3f ms, of a durable commit %6.3f\n",
                what, times.at(0.5), times.at(0.99), times.at(0.5) / commit.at(0.5));
  };
  line("one durable commit", commit);
  line("all checks, percent stand", percent);
  line("all checks, plot weight", weight);
  line("opening the occasion", hand.opening);
  std::printf("values given and kept: %zu of %zu\n", kept, 2 * plan.plots.size());
  std::filesystem::remove_all(folder);
  return 0;
}
