#include "app/flow/bags.h"

#include <algorithm>

#include "app/flow/weighing.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

// What stands there where it is a weight; null: nothing, or why there is none.
const Record* weight_in(const KnownClaim* claim) {
  if (claim == nullptr) return nullptr;
  const Record& record = claim->record;
  return record.state == ValueState::kValue && record.value ? &record : nullptr;
}
const Record* weight_in(const Cell& cell) {
  return weight_in(cell.claim ? &*cell.claim : nullptr);
}

std::optional<double> kilograms_of(const Record* weight) {
  const auto mass = weight == nullptr ? std::nullopt : said::mass_of(*weight);
  return mass ? std::optional(mass->value()) : std::nullopt;
}

int decimals_of(const std::string& number) {
  const std::size_t point = number.find('.');
  return point == std::string::npos ? 0 : static_cast<int>(number.size() - point - 1);
}

// Every gross weight in the cutting, acts under way counted in.
template <class See>
void each_weight(const Model& model, const Harvest& harvest, const See& see) {
  for (const PlanPlot& plot : harvest.book.plots) {
    const Uuid subject = plot_subject(model, harvest.book, plot);
    for (const int part : parts_of(model, harvest.book, subject, measure::kGrossWeight)) {
      const Slot slot{subject, std::string(measure::kGrossWeight), part};
      std::optional<KnownClaim> under_way;
      const KnownClaim* const claim = claim_at(model, harvest.book, slot, under_way);
      if (weight_in(claim) != nullptr) see(plot, slot, *claim);
    }
  }
}

bool is_standing(const Record& tare) {
  const auto asked = std::ranges::find(tare.answers, "tare_differs", &Answer::rule);
  return asked == tare.answers.end() || asked->answer == "other_bags";
}

}  // namespace

const Stamp& weighed_at(const KnownClaim& claim) {
  return claim.weighed ? *claim.weighed : claim.record.at;
}

std::vector<Cell> gross_cells(const Model& model, const Book& book, const PlanPlot& plot) {
  const Uuid subject = plot_subject(model, book, plot);
  std::vector<Cell> cells;
  for (const int part : parts_of(model, book, subject, measure::kGrossWeight))
    cells.push_back(cell_at(model, book, {subject, std::string(measure::kGrossWeight), part}));
  return cells;
}

std::optional<Kilograms> forage_of(const Model& model, const Book& book, const PlanPlot& plot) {
  const Uuid subject = plot_subject(model, book, plot);
  std::optional<double> forage;
  for (const int part : parts_of(model, book, subject, measure::kGrossWeight)) {
    const auto gross = mass_at(model, book, {subject, std::string(measure::kGrossWeight), part});
    if (!gross) return std::nullopt;
    const auto tare = mass_at(model, book, {subject, std::string(measure::kTareWeight), part});
    forage = forage.value_or(0) + gross->value() - tare.value_or(Kilograms(0)).value();
  }
  return forage ? std::optional(Kilograms(*forage)) : std::nullopt;
}

std::string bags_together(const Model& model, const Book& book, const PlanPlot& plot) {
  const std::vector<Cell> cells = gross_cells(model, book, plot);
  if (cells.size() < 2) return {};
  std::string unit;  // that of the first bag
  std::optional<Kilograms> one;
  double sum = 0;
  int decimals = 0;
  for (const Cell& cell : cells) {
    const Record* const record = weight_in(cell);
    const auto mass = kilograms_of(record);
    if (!mass) return {};
    if (!one) {
      unit = record->unit;
      one = mass_in(1, unit).value_or(Kilograms(1));
    }
    sum += *mass / one->value();
    decimals = std::max(decimals, decimals_of(record->entered));
  }
  return format_fixed(sum, decimals) + "\u00a0" + unit;
}

int last_bag(const Model& model, const Book& book, const PlanPlot& plot) {
  const auto parts = parts_of(model, book, plot_subject(model, book, plot), measure::kGrossWeight);
  return parts.empty() ? 1 : parts.back();
}

const Record* standing_tare(const Model& model, const Harvest& harvest, std::string_view kind,
                            const Slot* except) {
  const Record* newest = nullptr;
  for (const auto& [slot, claim] : harvest.book.kept) {
    const Record& tare = claim.record;
    if (slot.measure != measure::kTareWeight || tare.state != ValueState::kValue) continue;
    // What the indicator took off itself is no bag's tare.
    if (tare.source == Source::kScale || (except != nullptr && slot == *except)) continue;
    if (detail(tare.details, std::string(said::kBagKind)) != kind || !is_standing(tare)) continue;
    if (newest == nullptr || tare.at.utc > newest->at.utc) newest = &tare;
  }
  // Acts under way are newer than what is kept.
  for (const Act& act : model.pending) {
    if (act.occasion != harvest.book.id) continue;
    for (const Record& tare : act.records) {
      if (tare.measure != measure::kTareWeight || tare.state != ValueState::kValue) continue;
      if (tare.source == Source::kScale || (except != nullptr && slot_of(tare) == *except))
        continue;
      if (detail(tare.details, std::string(said::kBagKind)) == kind && is_standing(tare))
        newest = &tare;
    }
  }
  return newest;
}

std::optional<checks::EnteredWeight> weighed_before(const Model& model, const Harvest& harvest,
                                                    const Slot& except) {
  std::optional<checks::EnteredWeight> before;
  std::optional<UtcInstant> when;
  each_weight(model, harvest, [&](const PlanPlot& plot, const Slot& slot, const KnownClaim& claim) {
    const Stamp& at = weighed_at(claim);
    if (slot == except || at.local_date != model.now.local_date) return;
    if (when && at.utc <= *when) return;
    when = at.utc;
    const Record& record = claim.record;
    before = checks::EnteredWeight{record.entered, record.unit, plot.number};
  });
  return before;
}

void open_bag(Harvest& harvest, Weighing& weighing, int bag) {
  weighing.bag = bag;
  weighing.page = PlotPage::kPad;
  weighing.keypad.clear(Field::kGross);
  weighing.keypad.set(Field::kTare, harvest.tare);
  weighing.kind = harvest.tare_kind;
  weighing.keypad.focus(Field::kGross);
}

void more_bag(Turn& turn) {
  Weighing* const weighing = weighing_on(turn);
  if (weighing == nullptr || !can_enter(turn.model)) return;
  auto& harvest = std::get<Harvest>(turn.model.screen);
  if (harvest.book.plots.empty()) return;
  weighing->page = PlotPage::kPad;
  const PlanPlot& plot = harvest.book.plots.at(harvest.book.present);
  const Cell cell = cell_at(turn.model, harvest.book,
                            {plot_subject(turn.model, harvest.book, plot),
                             std::string(measure::kGrossWeight), weighing->bag});
  const bool typed = !weighing->keypad.text(Field::kGross).empty();
  const Record* const standing = weight_in(cell);
  const bool stands =
      standing != nullptr && weighing->keypad.text(Field::kGross) == standing->entered;
  // What was put right beside it is kept first.
  if (stands) return keep_plot(turn, harvest, true);
  if (!typed && !turn.model.preferences.scale.port.empty()) {
    weighing->keypad.focus(Field::kGross);
    return take_weight(turn, true);
  }
  keep_plot(turn, harvest, true);
}

void choose_bag_kind(Turn& turn, std::string_view kind) {
  Weighing* const weighing = weighing_on(turn);
  if (weighing == nullptr || std::ranges::find(kBagKinds, kind) == kBagKinds.end()) return;
  auto& harvest = std::get<Harvest>(turn.model.screen);
  weighing->kind = kind;
  weighing->page = PlotPage::kPad;
  const Record* const standing = standing_tare(turn.model, harvest, kind);
  if (standing != nullptr && standing->unit == weighed_in(turn.model, harvest)) {
    weighing->keypad.set(Field::kTare, standing->entered);
    return weighing->keypad.focus(Field::kGross);
  }
  // Nobody weighed an empty one yet.
  weighing->keypad.clear(Field::kTare);
  weighing->keypad.focus(Field::kTare);
}

std::vector<BagKindView> bag_kinds(const Model& model, const Harvest& harvest,
                                   const Weighing& weighing) {
  std::vector<BagKindView> kinds;
  for (const std::string_view kind : kBagKinds) {
    const Record* const tare = standing_tare(model, harvest, kind);
    kinds.push_back({std::string(kind),
                     tare == nullptr ? std::string() : tare->entered + "\u00a0" + tare->unit,
                     weighing.kind == kind});
  }
  return kinds;
}

}  // namespace ligule::flow
