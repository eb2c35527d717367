#include "app/flow/sorted_sample.h"

#include <algorithm>

#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

std::optional<Kilograms> mass_of(const Cell& cell) {
  if (!cell.claim) return std::nullopt;
  const Record& record = cell.claim->record;
  const std::optional<double> value = record.value;
  if (!value || (record.state != ValueState::kValue && record.state != ValueState::kOnHold))
    return std::nullopt;
  const auto mass = mass_in(*value, record.unit);
  return mass ? std::optional(*mass) : std::nullopt;
}

Cell number_cell(const Model& model, const Book& book, const Uuid& plot, std::size_t index) {
  return cell_at(model, book, {plot, std::string(measure::kPartBag), static_cast<int>(index) + 1});
}

// What an empty bag weighs: this one where it was weighed, else as the plan states it.
Kilograms tare_of(const Model& model, const Book& book, const Cell& number) {
  if (number.claim) {
    const Uuid bag = number.claim->first.uuid;
    if (const auto own = mass_of(cell_at(model, book, {bag, std::string(measure::kBagTare), 1})))
      return *own;
  }
  return trial_of(model, book).plan.bag_tare.kilograms().value_or(Kilograms{});
}

}  // namespace

bool PartCells::none() const {
  return number.claim && number.claim->record.state == ValueState::kZero;
}

bool PartCells::stated() const {
  return none() || (number.claim && !number.open() && fresh.claim && !fresh.open());
}

bool SortedSample::begun() const {
  return whole.claim || std::ranges::any_of(parts, [](const PartCells& part) {
           return part.number.claim.has_value();
         });
}

int SortedSample::parts_stated() const {
  return static_cast<int>(std::ranges::count_if(parts, &PartCells::stated));
}

bool SortedSample::complete() const {
  return whole.claim && !whole.open() && parts_stated() == static_cast<int>(parts.size());
}

SortedSample sorted_sample(const Model& model, const Book& book, const PlanPlot& plot) {
  SortedSample sample;
  const Uuid subject = plot_subject(model, book, plot);
  sample.whole = cell_at(model, book, {subject, std::string(measure::kSeparatedFresh), 1});
  for (std::size_t n = 0; n < sample.parts.size(); ++n) {
    PartCells& part = sample.parts.at(n);
    part.number = number_cell(model, book, subject, n);
    if (!part.number.claim) continue;
    const Uuid bag = part.number.claim->first.uuid;
    part.fresh = cell_at(model, book, {bag, std::string(measure::kSampleFresh), 1});
    part.dried = cell_at(model, book, {bag, std::string(measure::kSampleDry), 1});
  }
  return sample;
}

std::vector<Cell> sorted_cells(const Model& model, const Book& book, const PlanPlot& plot) {
  const SortedSample sample = sorted_sample(model, book, plot);
  std::vector<Cell> cells{sample.whole};
  for (const PartCells& part : sample.parts)
    cells.insert(cells.end(), {part.number, part.fresh, part.dried});
  std::erase_if(cells, [](const Cell& cell) { return !cell.claim; });
  return cells;
}

void add_sorted(const Model& model, const Book& book, const PlanPlot& plot, int part,
                checks::History& history) {
  const SortedSample sample = sorted_sample(model, book, plot);
  if (const auto whole = mass_of(sample.whole))
    history.separated_whole = *whole - tare_of(model, book, {});
  Kilograms sum{};
  bool all = true;
  for (std::size_t n = 0; n < sample.parts.size(); ++n) {
    const PartCells& each = sample.parts.at(n);
    if (static_cast<int>(n) + 1 == part || each.none()) continue;
    const auto fresh = mass_of(each.fresh);
    all = all && fresh;
    if (fresh) sum = sum + (*fresh - tare_of(model, book, each.number));
  }
  history.separated_parts = sum;
  history.separated_all = all;
}

std::string parts_of_whole(const Model& model, const Book& book, const PlanPlot& plot) {
  checks::History history;
  add_sorted(model, book, plot, 0, history);
  const auto& whole = history.separated_whole;
  const auto& parts = history.separated_parts;
  if (!history.separated_all || !whole || !parts || *whole <= Kilograms{}) return {};
  return format_fixed(100 * (*parts / *whole), 1);
}

int part_with_bag(const Model& model, const Book& book, const PlanPlot& plot, const Uuid& bag) {
  const Uuid subject = plot_subject(model, book, plot);
  for (std::size_t n = 0; n < composition::kPartCount; ++n) {
    const Cell number = number_cell(model, book, subject, n);
    if (number.claim && number.claim->first.uuid == bag) return static_cast<int>(n) + 1;
  }
  return 0;
}

std::string part_word(int part) {
  return "scale.part_bag." + std::string(composition::name_of_part(part));
}

}  // namespace ligule::flow
