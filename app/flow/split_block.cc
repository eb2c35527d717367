#include "app/flow/split_block.h"

#include <algorithm>
#include <string>

#include "storage/trial/details.h"

namespace ligule::flow {
namespace {

// Plots of the present block: weighed, and open or put off.
struct BlockCount {
  int block = 0;
  std::size_t done = 0;
  std::size_t open = 0;
};
BlockCount present_block(const Model& model, const Book& book) {
  BlockCount count;
  if (book.plots.empty()) return count;
  count.block = book.plots.at(book.present).block;
  for (const PlanPlot& plot : book.plots) {
    if (plot.block != count.block) continue;
    ++(plot_state(model, book, plot) == PlotState::kDone ? count.done : count.open);
  }
  return count;
}

// The machine that weighed the newest plot of the block; empty: none did.
std::string begun_with(const Model& model, const Harvest& harvest, int block) {
  const Record* newest = nullptr;
  for (const PlanPlot& plot : harvest.book.plots) {
    if (plot.block != block) continue;
    const Cell cell = cell_of(model, harvest.book, plot, measure::kGrossWeight);
    if (!cell.claim || cell.open()) continue;
    const auto run = std::ranges::find_if(
        harvest.runs, [&](const Record& each) { return cell.claim->record.run == each.id; });
    if (run == harvest.runs.end()) continue;
    if (newest == nullptr || run->at.utc > newest->at.utc) newest = &*run;
  }
  return newest == nullptr ? std::string() : detail(newest->details, "machine");
}

}  // namespace

bool asks_to_stop(Turn& turn) {
  Model& model = turn.model;
  const auto* const harvest = std::get_if<Harvest>(&model.screen);
  if (harvest == nullptr || !std::holds_alternative<Weighing>(harvest->step)) return false;
  const BlockCount count = present_block(model, harvest->book);
  if (count.done == 0 || count.open == 0) return false;
  if (model.meant_split.contains({harvest->book.id, count.block, turn.at.local_date})) return false;
  model.splitting = Splitting{count.block, count.open, ""};
  turn.run(Cue{CueKind::kQuestioned});
  return true;
}

bool asks_other_machine(Turn& turn, const Harvest& harvest, std::string_view machine) {
  const BlockCount count = present_block(turn.model, harvest.book);
  if (count.done == 0 || count.open == 0) return false;
  std::string before = begun_with(turn.model, harvest, count.block);
  if (before.empty() || before == machine) return false;
  turn.model.splitting = Splitting{count.block, count.open, std::move(before)};
  turn.run(Cue{CueKind::kQuestioned});
  return true;
}

void answer_split(Turn& turn, SplitAnswer answer) {
  Model& model = turn.model;
  if (!model.splitting) return;
  const Splitting splitting = *std::move(model.splitting);
  model.splitting.reset();
  auto* const harvest = on<Harvest>(turn);
  if (harvest == nullptr) return;
  if (auto* const head = std::get_if<RunHead>(&harvest->step)) {
    if (answer == SplitAnswer::kFinish) return head->keypad.focus(Field::kMachine);
    head->machine_meant = true;
    return start_run(turn, *harvest);
  }
  if (answer == SplitAnswer::kFinish) return;
  model.meant_split.insert({harvest->book.id, splitting.block, turn.at.local_date});
  if (answer == SplitAnswer::kStop) return show_today(turn);
  // The weights typed so far wait at their plot for the other machine.
  leave_form(model, *harvest, std::get<Weighing>(harvest->step));
  RunHead head;
  head.machine_meant = true;  // asked just now
  head.again = true;
  harvest->step = std::move(head);
}

}  // namespace ligule::flow
