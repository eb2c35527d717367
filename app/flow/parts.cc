#include "app/flow/parts.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "storage/trial/composite.h"
#include "storage/trial/number.h"
#include "storage/trial/reached.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

std::string shares_text(const Scale& scale, const Record& record) {
  const auto numbers = composite_numbers(scale, record.entered);
  if (!numbers) return record.entered;
  std::string text;
  for (const double number : *numbers) text += (text.empty() ? "" : " ") + format_number(number);
  return text;
}

// Every reading of the plot, by part.
std::vector<const Record*> readings_of(const std::vector<Cell>& cells) {
  std::vector<const Record*> readings;
  for (const Cell& cell : cells)
    if (cell.claim && cell.claim->record.state == ValueState::kValue)
      readings.push_back(&cell.claim->record);
  return readings;
}

PlotFigure mean_figure(const std::vector<const Record*>& readings, const Scale& scale,
                       std::string_view unit) {
  double sum = 0;
  for (const Record* const reading : readings)
    sum += reading->value.value_or(0) * size_of(scale, reading->unit) / size_of(scale, unit);
  if (readings.empty()) return {};
  const double mean = sum / static_cast<double>(readings.size());
  return {format_fixed(mean, 1), mean};
}

PlotFigure date_figure(const std::vector<const Record*>& readings, int year) {
  std::vector<Visit> visits;
  visits.reserve(readings.size());
  for (const Record* const reading : readings)
    visits.push_back({day_of_year(visit_date(reading->part, year), year), !says_not_yet(*reading)});
  const Reached reached = reached_of(visits);
  if (!reached.first_yes) return {};
  const double day = *reached.first_yes;
  return {short_date(day, year), day};
}

}  // namespace

double size_of(const Scale& scale, std::string_view unit) {
  if (scale.kind == ScaleKind::kMass) {
    if (const auto mass = mass_in(1, unit)) return mass->value();
  }
  if (scale.kind == ScaleKind::kLength) {
    if (const auto length = length_in(1, unit)) return length->value();
  }
  return 1;
}

std::string short_date(double day, int year) {
  const auto first = date::sys_days(date::year(year) / date::January / 1);
  return format_date(CalendarDate(first + date::days(std::lround(day) - 1))).substr(5);
}

std::string short_text(const Scale* scale, const Record& record) {
  if (scale == nullptr || record.entered.empty()) return record.entered;
  if (scale->kind == ScaleKind::kShares) return shares_text(*scale, record);
  if (scale->kind == ScaleKind::kCells) return format_number(record.value.value_or(0));
  if (scale->kind == ScaleKind::kCounts) return format_fixed(record.value.value_or(0), 2);
  return record.entered;
}

std::string full_text(const Scale* scale, const Record& record) {
  const std::string text = short_text(scale, record);
  // Never on two lines.
  const std::string unit =
      record.entered.empty() || record.unit.empty() ? "" : "\u00A0" + record.unit;
  const bool counted =
      scale != nullptr && (scale->kind == ScaleKind::kCells || scale->kind == ScaleKind::kCounts);
  return counted && !text.empty() ? text + unit + " (" + record.entered + ")" : text + unit;
}

PlotFigure figure_of(const Model& model, const Book& book, const PlanPlot& plot,
                     std::string_view measure, std::string_view unit) {
  const Scale* const scale = scale_of(model, trial_of(model, book), plot, measure);
  const auto slot = slot_on(model, book, plot, measure);
  if (scale == nullptr || !slot) return {};
  if (scale->readings > 1 || scale->kind == ScaleKind::kReached) {
    std::vector<Cell> cells;
    for (const int part : parts_of(model, book, slot->subject, measure))
      cells.push_back(cell_at(model, book, {slot->subject, std::string(measure), part}));
    if (scale->kind == ScaleKind::kReached)
      return date_figure(readings_of(cells), book.occasion.year);
    if (scale->kind == ScaleKind::kLength) return mean_figure(readings_of(cells), *scale, unit);
  }
  const Cell cell = cell_at(model, book, *slot);
  if (!cell.claim) return {};
  const Record& record = cell.claim->record;
  PlotFigure figure{short_text(scale, record), std::nullopt};
  if (record.value && !cell.open())
    figure.value = *record.value * size_of(*scale, record.unit) / size_of(*scale, unit);
  return figure;
}

}  // namespace ligule::flow
