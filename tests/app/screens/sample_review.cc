// Reviews of invented fields.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {
namespace {

flow::ReviewView review() {
  flow::ReviewView view;
  view.head = sample_head();
  view.trial_code = "TF24";
  view.occasion = "2026-spring-stand";
  view.measures = {"percent_stand", "seedling_vigor", "maturity", "stubble_height"};
  view.measure = "percent_stand";
  return view;
}

flow::MapView field(int rows, int columns) {
  flow::MapView map;
  map.rows = rows;
  map.columns = columns;
  for (int row = 1; row <= rows; ++row)
    for (int column = 1; column <= columns; ++column) {
      flow::MapCell cell;
      cell.plot = std::to_string(row * 100 + column);
      cell.row = row;
      cell.column = column;
      const int value = 40 + (row * 37 + column * 23) % 61;
      cell.shown = std::to_string(value);
      cell.share = value / 100.0;
      cell.mark = flow::Mark::kKept;
      map.cells.push_back(cell);
    }
  return map;
}

void empty(flow::MapCell& cell, flow::Mark mark) {
  cell.shown.clear();
  cell.share.reset();
  cell.mark = mark;
}

flow::HistoryRow row(std::string_view kind, std::string measure, std::string shown,
                     std::string clock) {
  flow::HistoryRow made;
  made.kind = kind;
  made.date = "2026-05-20";
  made.clock = std::move(clock);
  made.initials = "KV";
  made.measure = std::move(measure);
  made.occasion = "2026-spring-stand";
  made.shown = std::move(shown);
  return made;
}

}  // namespace

flow::ReviewView review_stand() {
  flow::ReviewView view = review();
  flow::MapView map = field(4, 24);
  map.legend = {{0, "0"}, {0.5, "50"}, {1, "100"}};
  map.unit = "%";
  empty(map.cells[2], flow::Mark::kOpen);
  empty(map.cells[3], flow::Mark::kLater);
  empty(map.cells[26], flow::Mark::kMissing);
  map.cells[4].mark = flow::Mark::kQuestioned;
  map.cells[25].mark = flow::Mark::kOnHold;
  map.cells[28].conflict = true;
  view.questions = 3;
  view.agreement = true;
  view.page = map;
  return view;
}

flow::ReviewView review_weights() {
  flow::ReviewView view = review();
  view.occasion = "2026-cut-1";
  view.measures = {"gross_weight", "tare_weight", "bag_number", "sample_fresh", "sample_dry"};
  view.measure = "gross_weight";
  flow::MapView map = field(16, 16);
  map.legend = {{0, "12.40"}, {0.5, "31.25"}, {1, "50.10"}};
  map.unit = "lb";
  for (flow::MapCell& cell : map.cells) cell.shown += ".25";
  view.page = map;
  return view;
}

flow::ReviewView review_wide() {
  flow::ReviewView view = review_weights();
  flow::MapView map = field(4, 24);
  map.legend = {{0, "101.50"}, {0.5, "118.25"}, {1, "135.00"}};
  map.unit = "kg";
  for (flow::MapCell& cell : map.cells) cell.shown = "112.48";
  view.page = map;
  return view;
}

flow::ReviewView review_compared() {
  flow::ReviewView view = review();
  flow::MapView map = field(4, 24);
  map.against = "2026-seedlings";
  map.unit = "%";
  map.legend = {{0, "-53"}, {0.5, "0"}, {1, "+53"}};
  for (std::size_t n = 0; n < map.cells.size(); ++n) {
    const int by = static_cast<int>(n * 7 % 11);
    map.cells[n].shown = by == 0 ? "0" : "+" + std::to_string(by);
    map.cells[n].share = 0.5 + by / 106.0;
  }
  map.cells[30].shown = "-43";
  map.cells[30].share = 0.5 - 43 / 106.0;
  map.cells[31].shown = "+53";
  map.cells[31].share = 1;
  map.cells[30].odd = map.cells[31].odd = true;
  map.cells[50].shown.clear();
  map.cells[50].share.reset();
  view.page = map;
  return view;
}

flow::ReviewView review_questions() {
  flow::ReviewView view = review();
  view.occasion = "2026-cut-1";
  view.questions = 7;
  flow::QuestionsView questions;
  questions.count = 7;
  questions.place = 3;
  questions.before = RecordId{};
  questions.after = RecordId{};
  questions.claim = {RecordId{},   "128.4\u00a0lb", "RM",
                     "2026-05-04", "09:41",         flow::Mark::kQuestioned};
  questions.plot = "204";
  questions.measure = "gross_weight";
  questions.asked = {{"yield_unusual", "measured_so"}, {"same_weight", "weights_equal"}};
  questions.beside = {{"202", "41.2\u00a0lb", flow::Mark::kKept},
                      {"203", "38.6\u00a0lb", flow::Mark::kKept},
                      {"204", "128.4\u00a0lb", flow::Mark::kQuestioned, true},
                      {"205", "40.9\u00a0lb", flow::Mark::kKept},
                      {"206", "", flow::Mark::kMissing},
                      {"104", "39.7\u00a0lb", flow::Mark::kKept, false, true},
                      {"304", "", flow::Mark::kOpen, false, true}};
  questions.reasons = {"looked_again", "agreed", "on_paper"};
  questions.can_do = true;
  view.page = std::move(questions);
  return view;
}

flow::ReviewView review_on_hold() {
  flow::ReviewView view = review_questions();
  auto& questions = std::get<flow::QuestionsView>(view.page);
  questions.place = questions.count = view.questions = 1;
  questions.before.reset();
  questions.after.reset();
  questions.claim.mark = flow::Mark::kOnHold;
  questions.claim.shown = "12.5\u00a0g";
  questions.measure = "sample_dry";
  questions.asked = {{"dry_over_fresh", "fresh_was_wrong"}};
  questions.reasons.clear();
  return view;
}

flow::ReviewView review_settled() {
  flow::ReviewView view = review_questions();
  view.questions = 0;
  view.page = flow::QuestionsView{};
  return view;
}

flow::ReviewView review_agreement() {
  flow::ReviewView view = review();
  view.page =
      flow::AgreementView{{{"percent_stand", "JT", "", flow::Lies::kLower, "2", "4", 6},
                           {"percent_stand", "RM", "JT", flow::Lies::kHigher, "6", "5", 24},
                           {"seedling_vigor", "RM", "JT", flow::Lies::kLike, "0.0", "0.7", 24}}};
  return view;
}

flow::ReviewView review_changed_raters() {
  using flow::Lies;
  flow::ReviewView view = review_agreement();
  auto& rows = std::get<flow::AgreementView>(view.page).rows;
  rows[1].by_block = true;
  rows[1].blocks = {{1, Lies::kLike, "0"},
                    {2, Lies::kHigher, "4"},
                    {3, Lies::kHigher, "9"},
                    {4, Lies::kLower, "1"}};
  rows[2].by_block = true;
  return view;
}

flow::ReviewView review_hidden() {
  flow::ReviewView view = review_stand();
  view.hidden = true;
  view.questions = 0;
  auto& map = std::get<flow::MapView>(view.page);
  map.legend.clear();
  for (flow::MapCell& cell : map.cells) empty(cell, flow::Mark::kOpen);
  return view;
}

flow::ReviewView review_hidden_history() {
  flow::ReviewView view = review_history();
  view.hidden = true;
  auto& rows = std::get<flow::HistoryView>(view.page).rows;
  rows.erase(rows.begin(), rows.begin() + 3);
  return view;
}

flow::ReviewView review_list() {
  flow::ReviewView view = review();
  flow::OccasionListView list;
  const auto add = [&](std::string trial, std::string code, int done) {
    flow::OccasionRow made;
    made.trial_code = std::move(trial);
    made.code = std::move(code);
    made.done = done;
    made.total = 96;
    made.chosen = list.rows.empty();
    list.rows.push_back(made);
  };
  add("TF24", "2026-spring-stand", 96);
  add("TF24", "2026-cut-1", 91);
  add("AL24", "2026-after-cut-1", 37);
  add("SS26", "2026-seedlings", 0);
  view.page = list;
  return view;
}

flow::ReviewView review_history() {
  flow::ReviewView view = review();
  flow::HistoryView history;
  history.plot = "213";
  history.block = 2;
  history.loaded = true;
  flow::HistoryRow corrected = row(kind::kCorrection, "percent_stand", "85\u00A0%", "10:41");
  corrected.reason = "mistap";
  corrected.replaced = {"35\u00A0%"};
  corrected.standing = corrected.can_mend = true;
  flow::HistoryRow held = row(kind::kReading, "gross_weight", "8.5\u00A0lb", "10:12");
  held.mark = flow::Mark::kOnHold;
  held.standing = true;
  held.asked = {{"gross_under_tare", "not_known"}};
  held.said = "reason.weeds_only";
  held.bag = 2;
  flow::HistoryRow conflict = row(kind::kReading, "seedling_vigor", "4", "09:58");
  conflict.standing = conflict.conflict = true;
  flow::HistoryRow withdrawn = row(kind::kWithdrawal, "maturity", "", "09:40");
  withdrawn.reason = "the wrong lane, we had turned one too early";
  withdrawn.replaced = {"R4"};
  flow::HistoryRow sown = row(kind::kAsSown, "", "holds", "08:02");
  sown.occasion.clear();
  history.rows = {corrected, row(kind::kReading, "percent_stand", "35\u00A0%", "10:40"),
                  held,      conflict,
                  withdrawn, row(kind::kReading, "maturity", "R4", "09:39"),
                  sown};
  view.page = history;
  return view;
}

namespace {

flow::MendView mend(std::string measure, std::string shown) {
  flow::MendView view;
  view.plot = "213";
  view.measure = std::move(measure);
  view.claims.resize(1);
  view.claims[0].id.uuid.bytes[0] = 1;
  view.claims[0].shown = std::move(shown);
  view.claims[0].who = "KV";
  view.claims[0].date = "2026-05-20";
  view.claims[0].clock = "09:58";
  view.claims[0].chosen = true;
  view.reasons = {"mistap", "misread", "wrong_plot", "looked_again"};
  view.can_do = true;
  return view;
}

}  // namespace

flow::ReviewView mend_amount() {
  flow::ReviewView view = review();
  flow::MendView page = mend("gross_weight", "8.5\u00A0lb");
  page.claims[0].mark = flow::Mark::kOnHold;
  page.ways = {flow::Mend::kCorrect, flow::Mend::kTakeBack, flow::Mend::kSettle};
  page.pad = flow::MendPad::kNumber;
  page.decimals = true;
  page.unit = "lb";
  page.typed = "28.5";
  view.page = page;
  return view;
}

flow::ReviewView mend_stage() {
  flow::ReviewView view = review();
  flow::MendView page = mend("maturity", "R4");
  page.ways = {flow::Mend::kCorrect, flow::Mend::kTakeBack};
  page.pad = flow::MendPad::kSteps;
  page.scale = "maturity_grass";
  page.kind = ScaleKind::kStages;
  page.choices = grass_stages("").choices;
  page.can_do = false;
  view.page = page;
  return view;
}

flow::ReviewView mend_zero() {
  flow::ReviewView view = review();
  flow::MendView page = mend("gross_weight", "");
  page.claims[0].word = "history.zero";
  page.claims[0].said = "reason.zero_confirmed";
  page.ways = {flow::Mend::kCorrect, flow::Mend::kConfirm, flow::Mend::kTakeBack};
  page.what = flow::Mend::kConfirm;
  page.reasons = {"zero_confirmed"};
  page.can_do = true;
  view.page = page;
  return view;
}

flow::ReviewView mend_conflict() {
  flow::ReviewView view = review();
  flow::MendView page = mend("seedling_vigor", "3");
  page.claims.push_back(page.claims.front());
  page.claims[1].id.uuid.bytes[0] = 2;
  page.claims[1].shown = "4";
  page.claims[1].who.clear();
  page.claims[1].chosen = false;
  page.ways = {flow::Mend::kSettle};
  page.what = flow::Mend::kSettle;
  page.reasons = {"looked_again", "agreed", "on_paper"};
  view.page = page;
  return view;
}

}  // namespace ligule::screens::tests
