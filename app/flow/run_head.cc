#include "app/flow/run_head.h"

#include <algorithm>
#include <array>
#include <variant>

#include "app/flow/low_stubble.h"
#include "app/flow/scale_choice.h"
#include "app/flow/split_block.h"
#include "app/flow/turn.h"
#include "app/flow/weighing.h"
#include "storage/trial/record_line.h"

namespace ligule::flow {
namespace {

// What a run says of machine and crop, and where in its details.
struct HeadLine {
  Field field;
  const char* key;
};
constexpr std::array kHead{HeadLine{Field::kMachine, "machine"},
                           HeadLine{Field::kCutWidth, "cut_width"},
                           HeadLine{Field::kStubble, "stubble"}};

Details details_of(const Model& model, const RunHead& head) {
  Details details;
  const auto add = [&](const char* key, std::string_view text) {
    std::string clean = cleaned(text);
    if (!clean.empty()) details[key] = std::move(clean);
  };
  for (const HeadLine& line : kHead) add(line.key, head.keypad.text(line.field));
  add("scale", port_name(model.preferences.scale.port));
  add("surface", head.surface);
  return details;
}

// On with the plots, in the run that was begun last.
void weigh_on(const Turn& turn, Harvest& harvest) {
  Weighing weighing;
  weighing.run = harvest.runs.back();
  fill_form(turn, harvest, weighing);
  harvest.step = std::move(weighing);
}

}  // namespace

RunHead new_head(const Harvest& harvest) {
  RunHead head;
  if (!harvest.runs.empty())
    head.keypad.set(Field::kMachine, detail(harvest.runs.back().details, "machine"));
  return head;
}

RunHead head_of(const Record& run) {
  RunHead head;
  for (const HeadLine& line : kHead) head.keypad.set(line.field, detail(run.details, line.key));
  head.keypad.focus(Field::kMachine);
  head.surface = detail(run.details, "surface");
  head.again = true;
  return head;
}

bool same_texts(const RunHead& a, const RunHead& b) {
  return a.surface == b.surface && std::ranges::all_of(kHead, [&](const HeadLine& line) {
           return a.keypad.text(line.field) == b.keypad.text(line.field);
         });
}

void begin_other_run(Turn& turn, Harvest& harvest, bool open) {
  if (auto* const head = std::get_if<RunHead>(&harvest.step)) {
    if (!open && head->again) weigh_on(turn, harvest);
    return;
  }
  if (!open || harvest.runs.empty() || !can_enter(turn.model)) return;
  // Weights typed so far wait at their plot.
  leave_form(turn.model, harvest, std::get<Weighing>(harvest.step));
  harvest.step = head_of(harvest.runs.back());
}

void start_run(Turn& turn, Harvest& harvest) {
  auto* const head = std::get_if<RunHead>(&harvest.step);
  if (head == nullptr || !can_enter(turn.model)) return;
  const std::string machine = cleaned(head->keypad.text(Field::kMachine));
  if (machine.empty()) {
    head->keypad.focus(Field::kMachine);
    turn.notice("notice.machine_missing");
    turn.run(Cue{CueKind::kRefused});
    return;
  }
  const std::string details = details_text(details_of(turn.model, *head));
  // Looked at and left as it is.
  if (head->again && details == harvest.runs.back().details) return weigh_on(turn, harvest);
  if (!head->machine_meant && asks_other_machine(turn, harvest, machine)) return;
  const std::string& stubble = head->keypad.text(Field::kStubble);
  if (!head->low_meant && asks_low_stubble(turn, harvest, stubble)) return;
  const KnownTrial& trial = trial_of(turn.model, harvest.book);
  Record run = blank(turn, kind::kHarvestRun);
  run.trial = trial.plan.id();
  run.plan = trial.digest;
  run.occasion = harvest.book.id;
  run.details = details;
  if (head->low_meant) run.answers.push_back({"stubble_low", "go_on_low"});
  harvest.runs.push_back(run);
  weigh_on(turn, harvest);
  Act act;
  act.kind = ActKind::kRun;
  act.trial = run.trial;
  act.occasion = run.occasion;
  act.records.push_back(std::move(run));
  commit(turn, std::move(act));
}

}  // namespace ligule::flow
