// Review: the plot map and a plot's history.
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "app/flow/odd.h"
#include "app/flow/parts.h"
#include "app/flow/review.h"
#include "app/flow/second_look.h"
#include "app/flow/seconds.h"
#include "app/flow/sorted_sample.h"
#include "app/flow/view_parts.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"

namespace ligule::flow {
namespace {

// What the colours of a map run between.
struct Ends {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();

  void take(double value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
  [[nodiscard]] bool any() const { return low <= high; }
  [[nodiscard]] double share(double value) const {
    return high > low ? (value - low) / (high - low) : 0.5;
  }
};

// Values of one measure over the field, all in one unit.
struct Measured {
  std::map<std::string, double> values;  // by plot
  Ends ends;
  std::map<std::string, std::string> texts;  // by plot
  std::string unit;
  int decimals = 0;
  int year = 0;  // of days of the year; 0: other numbers
};

// Scales with ends of their own keep them from map to map; amounts use what was measured.
void take_scale_ends(const Scale& scale, Ends& ends) {
  if (scale.kind == ScaleKind::kReached) return;
  if (scale.kind == ScaleKind::kShares || scale.kind == ScaleKind::kCells) {
    ends.take(0);
    return ends.take(100);
  }
  for (const ScaleStep& step : scale.steps) ends.take(step.value);
  if (scale.kind == ScaleKind::kPercent) {
    ends.take(scale.minimum.value_or(0));
    ends.take(scale.maximum.value_or(100));
  }
}

int decimals_of(std::string_view text) {
  const auto point = text.find('.');
  return point == std::string_view::npos ? 0 : static_cast<int>(text.size() - point - 1);
}

Cell cell_on(const Model& model, const Book& book, const std::string& measure,
             const PlanPlot& plot) {
  const Measure* const known = model.setup.definitions.measure(measure);
  if (known == nullptr || known->subject == Subject::kPlot)
    return cell_of(model, book, plot, measure);
  const auto slot = slot_on(model, book, plot, measure);
  return slot ? cell_at(model, book, *slot) : Cell{};
}

Measured measured(const Model& model, const Book& book, const std::string& measure) {
  Measured field;
  const KnownTrial& trial = trial_of(model, book);
  for (const PlanPlot& plot : book.plots) {
    const Scale* const scale = scale_of(model, trial, plot, measure);
    if (scale == nullptr) continue;
    if (field.unit.empty()) field.unit = unit_of(model.setup, measure, *scale);
    take_scale_ends(*scale, field.ends);
    if (scale->kind == ScaleKind::kReached) field.year = book.occasion.year;
    PlotFigure figure = figure_of(model, book, plot, measure, field.unit);
    if (figure.value) {
      field.values[plot.number] = *figure.value;
      field.ends.take(*figure.value);
      if (field.year == 0)
        field.decimals = std::max(field.decimals, std::min(2, decimals_of(figure.text)));
    }
    field.texts[plot.number] = std::move(figure.text);
  }
  return field;
}

std::vector<LegendStep> legend_of(const Measured& field) {
  const Ends& ends = field.ends;
  if (!ends.any() || field.values.empty()) return {};
  if (field.year != 0)
    return {{0, short_date(ends.low, field.year)}, {1, short_date(ends.high, field.year)}};
  if (ends.low == ends.high) return {{0.5, format_fixed(ends.low, field.decimals)}};
  // A middle between two whole numbers needs a digit more.
  const double middle = (ends.low + ends.high) / 2;
  const int digits = field.decimals == 0 && middle != std::floor(middle) ? 1 : field.decimals;
  return {{0, format_fixed(ends.low, field.decimals)},
          {0.5, format_fixed(middle, digits)},
          {1, format_fixed(ends.high, field.decimals)}};
}

MapView map_view(const Model& model, const Review& review) {
  MapView view;
  const Measured field = measured(model, review.book, review.measure);
  view.unit = field.unit;
  view.legend = legend_of(field);
  const KnownTrial& trial = trial_of(model, review.book);
  const std::vector<PlanPlot> present = plots_on(trial, model.now.local_date);
  for (const PlanPlot& plot : trial.plan.plots) {
    const bool abandoned = std::ranges::find(present, plot) == present.end();
    MapCell cell{plot.number, plot.row, plot.column, abandoned ? Mark::kAbandoned : Mark::kNoPart,
                 false,       false,    "",          std::nullopt};
    view.rows = std::max(view.rows, plot.row);
    view.columns = std::max(view.columns, plot.column);
    // A plot that takes no part stays in its place, without a value.
    if (place_of(review.book, plot.number)) {
      const Cell standing = cell_on(model, review.book, review.measure, plot);
      cell.mark = mark_of(standing);
      if (standing.claim) {
        const auto text = field.texts.find(plot.number);
        if (text != field.texts.end()) cell.shown = text->second;
        cell.conflict = standing.claim->others > 0;
      }
      const auto value = field.values.find(plot.number);
      if (value != field.values.end()) cell.share = field.ends.share(value->second);
    }
    view.cells.push_back(std::move(cell));
  }
  return view;
}

OccasionRow occasion_row(const Model& model, const KnownTrial& trial,
                         const PlanOccasion& occasion) {
  OccasionRow row{trial.plan.id(),
                  trial.plan.occasion(occasion),
                  trial.plan.codes.trial,
                  occasion.code,
                  0,
                  static_cast<int>(trial.plan.plots.size()),
                  false};
  const auto at =
      std::ranges::find(model.today.progress, row.occasion, &OccasionProgress::occasion);
  if (at == model.today.progress.end()) return row;
  row.done = at->done;
  row.total = at->total;
  return row;
}

std::string with_sign(double value, int decimals) {
  const std::string text = format_fixed(value, decimals);
  return value > 0 ? "+" + text : text;
}

// The map of what changed: colours run as far to both sides of no change as the furthest plot, so
// that what rose never looks like what fell.
MapView difference_view(const Model& model, const Review& review, const Book& against) {
  MapView view = map_view(model, review);
  const Measured here = measured(model, review.book, review.measure);
  const Measured there = measured(model, against, review.measure);
  const int decimals = std::max(here.decimals, there.decimals);
  std::map<std::string, double> changed;
  for (const auto& [plot, value] : here.values) {
    const auto other = there.values.find(plot);
    if (other != there.values.end()) changed[plot] = value - other->second;
  }
  std::vector<double> numbers;
  numbers.reserve(changed.size());
  for (const auto& [plot, by] : changed) numbers.push_back(by);
  const std::vector<bool> odd = odd_ones(numbers);
  double reach = 0;
  for (const double by : numbers) reach = std::max(reach, std::abs(by));
  for (MapCell& cell : view.cells) {
    cell = {cell.plot, cell.row, cell.column, Mark::kKept, false, false, "", std::nullopt};
    const auto at = changed.find(cell.plot);
    if (at == changed.end()) continue;
    cell.shown = with_sign(at->second, decimals);
    cell.share = reach > 0 ? 0.5 + at->second / (2 * reach) : 0.5;
    cell.odd = odd[static_cast<std::size_t>(std::distance(changed.begin(), at))];
  }
  view.against = against.occasion.code;
  view.legend.clear();
  if (numbers.empty()) return view;
  view.legend = {{0.5, "0"}};
  if (reach > 0) {
    view.legend = {{0, with_sign(-reach, decimals)}, {0.5, "0"}, {1, with_sign(reach, decimals)}};
  }
  return view;
}

OccasionListView against_view(const Model& model, const Review& review) {
  OccasionListView view;
  view.against = true;
  const KnownTrial& trial = trial_of(model, review.book);
  for (const PlanOccasion& occasion : comparable(model, review)) {
    view.rows.push_back(occasion_row(model, trial, occasion));
  }
  return view;
}

OccasionListView list_view(const Model& model, const Review& review) {
  OccasionListView view;
  for (const KnownTrial& trial : model.trials) {
    for (const PlanOccasion& occasion : trial.plan.occasions) {
      OccasionRow row = occasion_row(model, trial, occasion);
      row.chosen = row.occasion == review.book.id;
      view.rows.push_back(std::move(row));
    }
  }
  return view;
}

// The scale a record of a plot's history was given on; null where it is about no value.
const Scale* scale_about(const Model& model, const KnownTrial& trial, const PlanPlot* plot,
                         const Record& record) {
  return plot == nullptr || record.measure.empty() ? nullptr
                                                   : scale_of(model, trial, *plot, record.measure);
}

// The part of a sorted sample that a record is about, by its bag too; 0: none.
int part_of(const PlotHistory& history, const Record& record) {
  if (record.measure == measure::kPartBag) return record.part;
  if (!record.subject) return 0;
  const auto bag = std::ranges::find(history.records, RecordId{*record.subject}, &Record::id);
  const bool found = bag != history.records.end() && bag->measure == measure::kPartBag;
  return found ? bag->part : 0;
}

HistoryRow history_row(const Model& model, const KnownTrial& trial, const PlanPlot* plot,
                       const PlotHistory& history, const Record& record) {
  HistoryRow row;
  row.id = record.id;
  row.kind = record.kind;
  row.date = format_date(record.at.local_date);
  row.clock = format_clock(record.at);
  row.initials = initials_of(model, record);
  row.measure = record.measure;
  row.reason = record.reason;
  row.mark = mark_of({KnownClaim{record, std::nullopt, record.id, 0}, Durability::kKept});
  if (record.occasion) {
    const PlanOccasion* const occasion = trial.plan.find_occasion(*record.occasion);
    if (occasion != nullptr) row.occasion = occasion->code;
  }
  // What a plot holds is said in a code; the entry's name stays in the details, unseen.
  const Scale* const scale = scale_about(model, trial, plot, record);
  if (record.kind != kind::kWithdrawal) row.shown = full_text(scale, record);
  if (!row.shown.empty()) row.shown_word = visit_word(scale, record);
  row.said = said_word(record);
  if (const int part = part_of(history, record); part > 0) row.part = part_word(part);
  const bool bagged = record.measure == measure::kGrossWeight ||
                      record.measure == measure::kTareWeight ||
                      record.measure == measure::kBagNumber;
  if (bagged && record.part > 1) row.bag = record.part;
  if (record.state == ValueState::kZero)
    row.shown_word = record.measure == measure::kPartBag ? "sort.none" : "history.zero";
  for (const Answer& answer : record.answers) row.asked.push_back({answer.rule, answer.answer});
  return row;
}

HistoryView history_view(const Model& model, const Review& review, const PlotHistory& history) {
  HistoryView view;
  view.plot = history.plot;
  view.loaded = history.loaded;
  const KnownTrial& trial = trial_of(model, review.book);
  const PlanPlot* const planned = trial.plan.find_plot(history.plot);
  if (planned != nullptr) {
    view.block = planned->block;
    view.names = entry_shown(model, review.book, *planned);
  }
  std::set<RecordId> replaced;
  for (const Record& record : history.records) {
    replaced.insert(record.targets.begin(), record.targets.end());
  }
  for (const Record& record : history.records) {
    HistoryRow row = history_row(model, trial, planned, history, record);
    for (const RecordId target : record.targets) {
      const auto at = std::ranges::find(history.records, target, &Record::id);
      if (at == history.records.end() || at->entered.empty()) continue;
      const Scale* const scale = scale_about(model, trial, planned, *at);
      // What a visit found before is a row of its own day, told by its word.
      if (visit_word(scale, *at).empty()) row.replaced.push_back(full_text(scale, *at));
    }
    row.standing = record.is_claim() && !replaced.contains(record.id);
    if (row.standing) {
      const auto beside = standing_beside(history, record);
      row.conflict = std::ranges::any_of(
          beside, [&](const Record& other) { return !said::the_same(record, other); });
    }
    row.can_mend = can_enter(model) && mendable(model, review, record.id) != nullptr;
    view.rows.push_back(std::move(row));
  }
  return view;
}

}  // namespace

std::string said_word(const Record& record) {
  if (said::zero_confirmed(record.details)) return "reason.zero_confirmed";
  return said::weeds_only(record.details) ? "reason.weeds_only" : std::string();
}

std::string initials_of(const Model& model, const Record& record) {
  if (!record.person) return {};
  const auto at = std::ranges::find(model.people, *record.person, &Person::id);
  return at == model.people.end() ? std::string() : at->initials;
}

namespace {

ReviewView whole_view(const Model& model, const Review& review) {
  ReviewView view;
  const Book& book = review.book;
  view.head = head_view(model);
  view.trial_code = trial_of(model, book).plan.codes.trial;
  view.occasion = book.occasion.code;
  view.measures = measures_reviewed(model, book);
  view.measure = review.measure;
  view.own_names = own_names(trial_of(model, book).plan);
  view.can_take_back = !book.done.empty() && can_enter(model);
  view.questions = questioned(model, book).size();
  AgreementView agreement = agreement_view(model, review);
  view.agreement = !agreement.rows.empty();
  if (const Record* const record = mended(model, review)) {
    view.page = mend_view(model, review, *record);
  } else if (const auto* const history = std::get_if<PlotHistory>(&review.page)) {
    view.page = history_view(model, review, *history);
  } else if (const auto* const questions = std::get_if<Questions>(&review.page)) {
    view.page = questions_view(model, review, *questions);
  } else if (std::holds_alternative<Agreement>(review.page)) {
    view.page = std::move(agreement);
  } else if (const auto* const sliding = std::get_if<Sliding>(&review.page)) {
    view.page = slide_view(model, review, *sliding);
  } else if (const auto* const list = std::get_if<ReviewList>(&review.page)) {
    view.page = list->against ? against_view(model, review) : list_view(model, review);
  } else if (review.against) {
    view.page = difference_view(model, review, *review.against);
  } else {
    view.page = map_view(model, review);
  }
  return view;
}

}  // namespace

ReviewView review_view(const Model& model, const Review& review) {
  // A slide is begun where nothing is hidden, or from a card that shows the same.
  if (std::holds_alternative<Sliding>(review.page) || !second_unfinished(model))
    return whole_view(model, review);
  bool any = false;
  ReviewView view = whole_view(model, without_others(model, review, any));
  view.hidden = any;
  return view;
}

}  // namespace ligule::flow
