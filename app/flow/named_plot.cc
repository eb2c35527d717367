#include "app/flow/named_plot.h"

#include <algorithm>
#include <utility>

#include "app/flow/progress.h"
#include "app/flow/sown_form.h"
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

bool is_in_plan(const Model& model, const Book& book, const NamedPlot& plot) {
  const Plan& plan = trial_of(model, book).plan;
  const bool here = plot.trial.empty() || plot.trial == plan.codes.trial;
  return here && plan.find_plot(plot.number) != nullptr;
}

std::optional<std::size_t> place_of(const Model& model, const Book& book, const NamedPlot& plot) {
  return is_in_plan(model, book, plot) ? place_of(book, plot.number) : std::nullopt;
}

NoPlace no_place(const Model& model, const Book& book, const NamedPlot& plot) {
  const std::string& trial = trial_of(model, book).plan.codes.trial;
  if (!plot.trial.empty() && plot.trial != trial)
    return {.key = "notice.other_trial", .arguments = {plot.trial, trial}};
  if (!is_in_plan(model, book, plot))
    return {.key = "notice.unknown_plot", .arguments = {plot.number}};
  if (const auto since = abandoned_since(trial_of(model, book), plot.number, model.now.local_date))
    return {.key = "notice.abandoned_told", .arguments = {plot.number, format_date(*since)}};
  return {.key = "notice.takes_no_part", .arguments = {plot.number}};
}

void tell_no_place(Turn& turn, const Book& book, const NamedPlot& plot) {
  if (is_in_plan(turn.model, book, plot) && ask_abandoned(turn, book, plot.number)) return;
  NoPlace why = no_place(turn.model, book, plot);
  turn.notice(std::move(why.key), std::move(why.arguments));
}

}  // namespace ligule::flow
