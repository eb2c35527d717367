#include "app/flow/named_plot.h"

#include <algorithm>
#include <utility>

#include "storage/trial/stake_code.h"

namespace ligule::flow {
namespace {

// "TRIAL/NUMBER" of a trial; with a hyphen in place of the stroke only a plot that is there: codes
// may hold hyphens of their own.
std::optional<NamedPlot> said_of(const Plan& plan, std::string_view text) {
  const std::string& trial = plan.codes.trial;
  const auto number = plot_scanned_in(trial, text);
  if (!number) return std::nullopt;
  const bool stroke = text.substr(trial.size()).starts_with('/');
  if (!stroke && plan.find_plot(*number) == nullptr) return std::nullopt;
  return NamedPlot{trial, std::string(*number)};
}

}  // namespace

NamedPlot named_plot(const Model& model, const Book& book, std::string_view text) {
  const Plan& plan = trial_of(model, book).plan;
  if (plan.find_plot(text) != nullptr) return {.trial = {}, .number = std::string(text)};
  if (auto own = said_of(plan, text)) return *std::move(own);
  if (auto code = parse_stake_text(text))
    return {.trial = std::move(code->trial), .number = std::move(code->plot)};
  for (const KnownTrial& other : model.trials)
    if (auto said = said_of(other.plan, text)) return *std::move(said);
  return {.trial = {}, .number = std::string(text)};
}

std::optional<std::size_t> place_of(const Model& model, const Book& book, const NamedPlot& plot) {
  const bool elsewhere =
      !plot.trial.empty() && plot.trial != trial_of(model, book).plan.codes.trial;
  return elsewhere ? std::nullopt : place_of(book, plot.number);
}

NoPlace no_place(const Model& model, const Book& book, const NamedPlot& plot) {
  const std::string& trial = trial_of(model, book).plan.codes.trial;
  if (!plot.trial.empty() && plot.trial != trial)
    return {.key = "notice.other_trial", .arguments = {plot.trial, trial}};
  return {.key = no_place(model, book, plot.number), .arguments = {plot.number}};
}

void tell_no_place(const Turn& turn, const Book& book, const NamedPlot& plot) {
  NoPlace why = no_place(turn.model, book, plot);
  turn.notice(std::move(why.key), std::move(why.arguments));
}

}  // namespace ligule::flow
