#include "tests/app/screens/sample_views.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "storage/files/words.h"

namespace ligule::screens::tests {

using flow::Mark;

namespace {

Language language(std::string_view code) {
  const auto files = files::real_file_system();
  auto loaded = files::load_words(*files, LIGULE_SOURCE_ASSETS, code);
  if (!loaded) {
    ADD_FAILURE() << one_line(loaded.error().front());
    return Language();
  }
  const auto phrases = files::load_phrases(*files, LIGULE_SOURCE_ASSETS, code);
  if (!phrases) {
    ADD_FAILURE() << one_line(phrases.error().front());
    return Language();
  }
  auto book = PhraseBook::make(phrases->texts, phrases->places, code);
  if (!book) ADD_FAILURE() << one_line(book.error());
  if (!book) return Language();
  return Language(std::move(loaded->texts), *std::move(book),
                  code == "en" ? Untold::kAsWritten : Untold::kByKind);
}

}  // namespace

const Language& english() {
  static const Language words = language("en");
  return words;
}

const Language& spanish() {
  static const Language words = language("es");
  return words;
}

flow::HeadView sample_head() {
  return {.clock = "10:42", .date = "2026-05-20", .initials = "KV", .saving = 0, .demo = false};
}

flow::SignInView sample_sign_in(std::size_t people) {
  static const std::vector<std::string> initials{"KV", "JRM", "AB", "TO", "LUW", "PD", "SF",
                                                 "HN", "MC",  "EY", "DZ", "GI",  "OR", "BK"};
  flow::SignInView view;
  view.known.assign(initials.begin(), initials.begin() + static_cast<std::ptrdiff_t>(people));
  if (people == 0) view.typed = "KV";
  view.languages = {{"en", "English", true}, {"es", "Español", false}};
  view.can_done = people == 0;
  return view;
}

flow::TodayView empty_today() {
  flow::TodayView view;
  view.head = sample_head();
  view.loaded = true;
  return view;
}

namespace {

flow::DueRow due(std::string trial, std::string code, Job job, flow::DueState state, int days,
                 int done, int total) {
  flow::DueRow row;
  row.field = "Creek bottom";
  row.trial_code = std::move(trial);
  row.trial_title = "Tall fescue with endophyte, sown 2024";
  row.code = std::move(code);
  row.job = job;
  row.name = {job, job == Job::kHarvest ? 1 : 0, {}, row.code};
  row.year = 2026;
  row.cutting = job == Job::kHarvest ? 1 : 0;
  row.state = state;
  row.due = "2026-05-20";
  row.days = days;
  row.done = done;
  row.total = total;
  return row;
}

}  // namespace

flow::TodayView busy_today() {
  flow::TodayView view = empty_today();
  view.sites = {"Millrace station"};
  view.due = {due("TF24", "2026-cut-1", Job::kHarvest, flow::DueState::kOverdue, -3, 91, 96),
              due("AL24", "2026-after-cut-1", Job::kRate, flow::DueState::kToday, 0, 37, 96),
              due("SS26", "2026-seedlings", Job::kRate, flow::DueState::kToday, 0, 0, 72),
              due("TF23", "2026-cut-2", Job::kHarvest, flow::DueState::kComing, 41, 0, 96),
              due("TF24", "2026-spring-stand", Job::kRate, flow::DueState::kDone, -55, 96, 96)};
  view.due[1].trial_title = "Alfalfa, 24 entries";
  view.due[1].name.measures = {"percent_stand", "maturity", "stubble_height"};
  view.due[2].name.measures = {"percent_stand", "seedling_vigor"};
  view.due[2].trial_title = "Sorghum-sudangrass";
  view.due[2].field = "Hill";
  view.unsealed = 214;
  view.spare = {flow::Age{"minutes", 12}, true, false};
  view.last_seal = flow::Age{"days", 2};
  view.last_copy = flow::Age{"days", 2};
  return view;
}

flow::TodayView earlier_today(bool shown) {
  flow::TodayView view = busy_today();
  view.earlier = {view.due[0], view.due[4]};
  view.due.pop_back();
  view.due.erase(view.due.begin());
  view.show_earlier = shown;
  return view;
}

flow::TodayView finished_today() {
  flow::TodayView view = busy_today();
  view.due.erase(view.due.begin(), view.due.begin() + 3);
  view.head.saving = 2;
  view.head.demo = true;
  return view;
}

namespace {

std::vector<flow::StakeView> lane_of(std::size_t done) {
  std::vector<flow::StakeView> lane;
  for (int block = 1; block <= 4; ++block)
    for (int n = 1; n <= 24; ++n) {
      flow::StakeView stake;
      stake.plot = std::to_string(block * 100 + n);
      stake.lane_start = n == 1;
      stake.mark = lane.size() < done ? Mark::kKept : Mark::kOpen;
      lane.push_back(stake);
    }
  lane[done - 1].mark = Mark::kSaving;
  lane[done - 2].mark = Mark::kQuestioned;
  lane[done - 4].mark = Mark::kLater;
  lane[done - 6].mark = Mark::kOnHold;
  return lane;
}

flow::MeasureView stand(const std::string& value) {
  flow::MeasureView measure;
  measure.measure = "percent_stand";
  measure.scale = "percent_stand";
  measure.kind = ScaleKind::kPercent;
  measure.direction = Direction::kHighIsBest;
  measure.pad = flow::PadKind::kTiles;
  measure.unit = "%";
  measure.can_fine = true;
  measure.shown = value;
  for (int percent = 0; percent <= 100; percent += 5)
    measure.choices.push_back({std::to_string(percent), "", static_cast<double>(percent),
                               std::to_string(percent) == value});
  return measure;
}

flow::MeasureView vigor(const std::string& value) {
  flow::MeasureView measure;
  measure.measure = "seedling_vigor";
  measure.scale = "seedling_vigor";
  measure.kind = ScaleKind::kScore;
  measure.direction = Direction::kHighIsBest;
  measure.shown = value;
  for (int step = 1; step <= 5; ++step)
    measure.choices.push_back({std::to_string(step), "scale.seedling_vigor." + std::to_string(step),
                               static_cast<double>(step), std::to_string(step) == value});
  return measure;
}

flow::MeasureView stages(const std::string& scale,
                         const std::vector<std::pair<std::string, double>>& steps,
                         const std::string& value) {
  flow::MeasureView measure;
  measure.measure = "maturity";
  measure.scale = scale;
  measure.kind = ScaleKind::kStages;
  measure.pad = flow::PadKind::kLadder;
  measure.shown = value;
  const std::string family = "scale." + scale + ".";
  for (const auto& [code, index] : steps) {
    std::string word = family;
    word += code;
    measure.choices.push_back({code, std::move(word), index, code == value});
  }
  return measure;
}

flow::MeasureView stubble(const std::string& value, const std::string& typed) {
  flow::MeasureView measure;
  measure.measure = "stubble_height";
  measure.scale = "stubble_height";
  measure.kind = ScaleKind::kLength;
  measure.pad = flow::PadKind::kAmount;
  measure.unit = "in";
  measure.shown = value;
  measure.typed = typed;
  for (int half = 1; half <= 12; ++half) {
    std::string text = std::to_string(half / 2);
    if (half % 2 == 1) text += ".5";
    measure.choices.push_back({text, "", half / 2.0, text == value});
  }
  return measure;
}

}  // namespace

flow::MeasureView grass_stages(const std::string& value) {
  return stages("maturity_grass",
                {{"V", 1.5},
                 {"E-early", 2.2},
                 {"E-late", 2.7},
                 {"R0", 3.0},
                 {"R1", 3.1},
                 {"R2", 3.3},
                 {"R3", 3.5},
                 {"R4", 3.7},
                 {"R5", 3.9},
                 {"S1", 4.1},
                 {"S2", 4.3},
                 {"S5", 4.9}},
                value);
}

flow::MeasureView legume_stages(const std::string& value) {
  std::vector<std::pair<std::string, double>> steps;
  for (int stage = 0; stage <= 9; ++stage) steps.emplace_back(std::to_string(stage), stage);
  return stages("maturity_legume", steps, value);
}

flow::RateView sample_rate(std::optional<std::size_t> focus) {
  flow::RateView view;
  view.head = sample_head();
  view.trial_code = "TF24";
  view.occasion = "2026-after-cut-1";
  view.name = {Job::kRate, 0, {"percent_stand", "maturity"}, view.occasion};
  view.lane = lane_of(37);
  view.present = 37;
  view.plot = view.lane[37].plot;
  view.block = 2;
  view.place = 38;
  view.stands = {true, std::nullopt};
  view.plots = view.lane.size();
  view.done = 37;
  const std::size_t known = focus.value_or(4);
  view.measures = {stand(known > 0 ? "85" : ""), vigor(known > 1 ? "4" : ""),
                   grass_stages(known > 2 ? "R1" : ""),
                   stubble(known > 3 ? "3.5" : "", known == 3 ? "3.4" : "")};
  for (std::size_t n = 0; n < view.measures.size(); ++n)
    view.measures[n].mark = n < known ? Mark::kKept : Mark::kOpen;
  if (known > 0) view.measures[known - 1].mark = known == 4 ? Mark::kKept : Mark::kSaving;
  view.focus = focus;
  view.last_plot = view.lane[36].plot;
  view.can_take_back = true;
  return view;
}

flow::RateView legume_rate() {
  flow::RateView view = sample_rate(1);
  view.trial_code = "AL24";
  view.measures = {stand("90"), legume_stages(""), stubble("", "")};
  view.measures[0].mark = Mark::kQuestioned;
  view.drilled = false;
  return view;
}

flow::RateView finished_rate() {
  flow::RateView view = sample_rate(std::nullopt);
  view.all_done = true;
  view.done = view.plots;
  for (auto& stake : view.lane) stake.mark = Mark::kKept;
  view.present = view.lane.size() - 1;
  view.plot = view.lane.back().plot;
  view.block = 4;
  return view;
}

flow::RateView note_rate() {
  flow::RateView view = sample_rate(1);
  view.notes = {"Gopher mound at the north end", "Volunteer ryegrass in row 3"};
  view.note = flow::NoteView{.plot = view.plot, .text = "Wheel track across", .can_keep = true};
  return view;
}

flow::RateView long_names_rate() {
  flow::RateView view = sample_rate(2);
  for (auto& stake : view.lane) stake.plot.insert(0, "B2");
  view.plot = view.lane[view.present].plot;
  view.measures[2] = grass_stages("E-early");
  view.measures[2].mark = Mark::kOnHold;
  view.measures[3] = stubble("10.25", "10.25");
  view.measures[3].mark = Mark::kQuestioned;
  return view;
}

namespace {

flow::HarvestView harvest_view() {
  flow::HarvestView view;
  view.head = sample_head();
  view.trial_code = "TF24";
  view.occasion = "2026-cut-1";
  view.year = 2026;
  view.cutting = 1;
  return view;
}

}  // namespace

flow::HarvestView run_head(bool letters) {
  flow::HarvestView view = harvest_view();
  flow::RunHeadView head;
  head.fields = {{flow::Field::kMachine, letters ? "Flail 2" : "Plot harvester", "", letters},
                 {flow::Field::kCutWidth, "3 ft", "", false},
                 {flow::Field::kStubble, letters ? "" : "3 in", "", !letters}};
  head.machines = {"Plot harvester", "Flail 2"};
  head.surfaces = {"dry", "dew", "rain"};
  head.surface = "dew";
  head.can_start = true;
  view.step = head;
  return view;
}

flow::HarvestView weighing(flow::Field focused) {
  flow::HarvestView view = harvest_view();
  flow::WeighingView step;
  step.lane = lane_of(37);
  step.present = 37;
  step.plot = step.lane[37].plot;
  step.block = 2;
  step.done = 37;
  step.machine = "Plot harvester";
  step.stands = {true, std::nullopt};
  step.fields = {{flow::Field::kPlot, focused == flow::Field::kPlot ? "30" : "", "", false},
                 {flow::Field::kGross, "34.25", "lb", false, Mark::kKept},
                 {flow::Field::kTare, "2.1", "lb", false},
                 {flow::Field::kBag, "138", "", false},
                 {flow::Field::kSampleFresh, "", "g", false}};
  for (auto& field : step.fields) field.focused = field.field == focused;
  step.can_keep = true;
  step.can_take_back = true;
  view.step = step;
  return view;
}

flow::HarvestView weighing_done() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.all_done = true;
  step.done = step.lane.size();
  for (auto& stake : step.lane) stake.mark = Mark::kKept;
  return view;
}

flow::DryView dry_empty() {
  flow::DryView view;
  view.head = sample_head();
  view.loaded = true;
  view.fields = {{flow::Field::kDryBag, "", "", true},
                 {flow::Field::kDryFresh, "", "", false},
                 {flow::Field::kDryWeight, "", "", false}};
  return view;
}

flow::DryView dry_many() {
  flow::DryView view = dry_empty();
  for (int n = 1; n <= 96; ++n) {
    flow::BagRow bag;
    bag.number = std::to_string(100 + n);
    bag.plot = std::to_string((n - 1) / 24 * 100 + 101 + (n - 1) % 24);
    bag.trial_code = "TF24";
    bag.filled = "2026-05-18";
    bag.days = 2;
    bag.on_hold = n == 3;
    view.bags.push_back(bag);
  }
  view.bags[3].gone = "label_unreadable";
  view.bags[4].no_fresh = true;
  view.bags[5].drying = true;
  view.bags[6].plot = "107, 207, 307, 407";
  view.bags[7].part = "scale.part_bag.broadleaf";
  view.can_sort = true;
  view.in_oven = view.bags.size() - 1;
  view.oldest = "2026-05-18";
  view.no_fresh = 1;
  view.celsius = "60";
  view.hours = "48";
  view.until_constant = true;
  return view;
}

flow::DryView dry_oven() {
  flow::DryView view = dry_many();
  flow::OvenView oven;
  oven.fields = {{flow::Field::kOvenCelsius, "80", "\u00B0C", false},
                 {flow::Field::kOvenHours, "12", "h", true}};
  oven.until_constant = true;
  oven.remark = "dry.oven_unusual";
  view.oven = oven;
  return view;
}

flow::DryView dry_weighing() {
  flow::DryView view = dry_many();
  view.bags.resize(1);
  view.bags[0].chosen = true;
  view.fields = {{flow::Field::kDryBag, "101", "", false},
                 {flow::Field::kDryFresh, "512.4", "g", false},
                 {flow::Field::kDryWeight, "141.6", "g", true}};
  view.gone_reasons = {"bag_burst", "bag_lost", "label_unreadable"};
  view.bags[0].drying = true;
  view.weighed = "143.0";
  view.weighed_unit = "g";
  view.can_keep = true;
  view.can_take_back = true;
  view.done = 7;
  return view;
}

flow::Overlay question_overlay() {
  flow::QuestionView question;
  question.text = {"check.gross_under_tare"};
  question.plot = "214";
  question.measure = "gross_weight";
  question.shown = "1.8\u00A0lb";
  question.on_hold = true;
  question.phrases = {{"weigh_again", false}, {"scale_not_zero"}, {"wrong_tare"}, {"not_known"}};
  flow::Overlay overlay;
  overlay.question = question;
  return overlay;
}

flow::Overlay dry_matter_overlay() {
  flow::Overlay overlay = question_overlay();
  overlay.question->text = {"check.dry_matter_unusual", {"99.8", "10", "50"}};
  overlay.question->measure = "sample_dry";
  overlay.question->shown = "429.5\u00A0g";
  overlay.question->on_hold = false;
  overlay.question->phrases = {
      {"weigh_again", false}, {"bags_mixed_up"}, {"fresh_was_wrong"}, {"right_so"}, {"not_known"}};
  return overlay;
}

flow::Overlay tare_overlay() {
  flow::Overlay overlay = question_overlay();
  overlay.question->text = {"check.tare_missing", {}};
  overlay.question->on_hold = false;
  overlay.question->phrases = {{"weigh_bin", false}, {"bin_reads_zero"}};
  return overlay;
}

flow::Overlay stubble_overlay() {
  flow::Overlay overlay = question_overlay();
  overlay.question->text = {"check.stubble_low", {"10.2\u00A0cm"}};
  overlay.question->measure = "stubble_height";
  overlay.question->shown = "2.5\u00A0cm";
  overlay.question->on_hold = false;
  overlay.question->phrases = {{"measure_again", false}, {"measured_so"}};
  return overlay;
}

flow::Overlay unsaved_overlay() {
  flow::Overlay overlay;
  overlay.unsaved = flow::UnsavedView{
      3,
      {"212", "213", "214"},
      {ErrorKind::kIo, "no space is left where the ledger lies; nothing of this was kept",
       "/home/field/ligule.ledger", "make room on the disk, then do it again"}};
  return overlay;
}

flow::Overlay notice_overlay() {
  flow::Overlay overlay;
  overlay.notice = flow::NoticeView{{"check.off_scale", {"0", "100\u00a0%"}}, std::nullopt};
  return overlay;
}

flow::Overlay long_notice_overlay() {
  flow::Overlay overlay;
  overlay.notice = flow::NoticeView{
      {"notice.not_copied", {"STICK 1"}},
      Error{ErrorKind::kIo, "only 12 of 4,096 kB fit",
            "/media/field/STICK 1/season-home-tablet-2026-05-22-morning-and-evening.zip",
            "make room on the stick or take another one, then copy again; the season file "
            "beside the ledger is whole, and nothing of what was recorded is lost"}};
  return overlay;
}

}  // namespace ligule::screens::tests
