#include "storage/checks/season_rules.h"

#include "storage/checks/stubble.h"
#include "storage/checks/weather.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"
#include "storage/trial/yield.h"

namespace ligule::checks {
namespace {

using Arguments = std::optional<std::vector<std::string>>;

constexpr double kRounding = 1e-9;  // what converting between units may leave, as a share

constexpr std::string_view kOpen = "\u2026";  // an end that is not limited

std::string hundredths(double number) {
  const std::string text = format_fixed(number, 2);
  const auto last = text.find_last_not_of('0');
  return text.substr(0, text[last] == '.' ? last : last + 1);
}

std::string with_unit(const std::string& number, const std::string& unit) {
  return unit.empty() ? number : number + "\u00a0" + unit;
}

// How many of `unit` one of `from` is, both of one dimension; empty: they are not.
std::optional<double> factor(const std::string& from, const std::string& unit) {
  if (from == unit) return 1;
  if (const auto length = length_in(1, from)) {
    const auto one = length_in(1, unit);
    return one ? std::optional(*length / *one) : std::nullopt;
  }
  const auto mass = mass_in(1, from);
  const auto one = mass_in(1, unit);
  return mass && one ? std::optional(*mass / *one) : std::nullopt;
}

// What was entered as a number; empty: it could not be read, or is none.
std::optional<double> number_of(const Result<EnteredValue>& value) {
  return value ? value->value : std::nullopt;
}

// What was entered and the two ends, in its unit, where it lies beyond one of them.
Arguments held_against(const Result<EnteredValue>& value, const Limit& limit,
                       std::optional<double> lowest, std::optional<double> highest) {
  const std::optional<double> number = number_of(value);
  if (!number) return std::nullopt;
  const std::string& unit = value->unit;
  const auto scale = factor(limit.unit, unit);
  if (!scale) return std::nullopt;
  const bool low = lowest && *number < *lowest * *scale * (1 - kRounding);
  const bool high = highest && *number > *highest * *scale * (1 + kRounding);
  if (!low && !high) return std::nullopt;
  const auto end = [&](std::optional<double> at) {
    return at ? hundredths(*at * *scale) : std::string(kOpen);
  };
  return std::vector<std::string>{with_unit(value->entered, unit), end(lowest),
                                  with_unit(end(highest), unit)};
}

std::string date_and_clock(const Stamp& at) {
  return format_date(at.local_date) + " " + format_clock(at);
}

// What is about to be kept as a gross weight, less what is not forage; or what is left of a gross
// weight once this tare is taken off.
std::optional<Kilograms> net_weight(const Candidate& candidate, const Result<EnteredValue>& value,
                                    const History& history) {
  const std::optional<double> number = number_of(value);
  const bool tare = candidate.measure == measure::kTareWeight;
  if ((!tare && candidate.measure != measure::kGrossWeight) || !number) return std::nullopt;
  const auto mass = mass_in(*number, value->unit);
  if (!mass || (tare && !history.gross)) return std::nullopt;
  return tare ? *history.gross - *mass : *mass - history.tare.value_or(Kilograms{});
}

// Shares of dry matter the sample may have: its own, or what is usual.
std::pair<double, double> dry_shares(const History& history) {
  const Kilograms bag = history.bag_tare.value_or(Kilograms{});
  if (history.sample_fresh && history.sample_dry) {
    const auto own = dry_matter_fraction(*history.sample_fresh, *history.sample_dry, bag);
    if (own) return {own->value(), own->value()};
  }
  const Limit* const usual = history.dry_matter;
  return {(usual == nullptr ? 10 : usual->ask_below.value_or(10)) / 100,
          (usual == nullptr ? 50 : usual->ask_above.value_or(50)) / 100};
}

std::optional<double> tons_per_acre(Kilograms net, double share, SquareMetres strip) {
  const auto yield = dry_matter_yield(net, DryMatterFraction(share), strip);
  if (!yield) return std::nullopt;
  return convert<TonsPerAcre>(*yield).value();
}

}  // namespace

Arguments out_of_limits(const Candidate&, const Result<EnteredValue>& value, const Plan&,
                        const History& history) {
  if (history.usual == nullptr) return std::nullopt;
  const Limit& limit = *history.usual;
  return held_against(value, limit, limit.refuse_below, limit.refuse_above);
}

Arguments unusual(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                  const History& history) {
  if (history.usual == nullptr) return std::nullopt;
  const Limit& limit = *history.usual;
  // Of what is under a least height another rule says why it matters.
  if (candidate.measure == kStubbleHeight &&
      !held_against(value, limit, std::nullopt, limit.ask_above))
    return std::nullopt;
  return held_against(value, limit, limit.ask_below, limit.ask_above);
}

Arguments stand_rose(const Candidate& candidate, const Result<EnteredValue>& value,
                     const Plan& plan, const History& history) {
  const std::optional<double> stand = number_of(value);
  const std::optional<double> before = history.stand_before;
  const CalendarDate sown = history.sown.value_or(plan.sown);
  // Sown after midsummer, it fills in until the next summer (common practice, no source).
  const bool late = sown.month() >= date::July;
  const bool young = history.today.year() <= sown.year() + date::years{late ? 1 : 0};
  if (candidate.measure != kPercentStand || young || !stand || !before) return std::nullopt;
  if (*stand <= *before + kMostRise) return std::nullopt;
  return std::vector<std::string>{};
}

Arguments stage_went_back(const Candidate& candidate, const Result<EnteredValue>& value,
                          const Plan&, const History& history) {
  const std::optional<double> stage = number_of(value);
  const std::optional<double> before = history.stage_before;
  if (candidate.measure != kMaturity || !stage || !before || *stage >= *before) return std::nullopt;
  return std::vector<std::string>{};
}

Arguments weight_without_stand(const Candidate& candidate, const Result<EnteredValue>& value,
                               const Plan&, const History& history) {
  const auto net = net_weight(candidate, value, history);
  // That something was weighed there was asked with the gross weight.
  if (candidate.measure != measure::kGrossWeight || !net || *net <= Kilograms{} ||
      history.stand != 0.0)
    return std::nullopt;
  return std::vector<std::string>{};
}

Arguments yield_unusual(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                        const History& history) {
  const auto net = net_weight(candidate, value, history);
  const Limit* const usual = history.cutting_yield;
  // Nothing at all is no weight; less than nothing is another rule's.
  if (!net || *net <= Kilograms{} || !history.strip || usual == nullptr) return std::nullopt;
  const auto [wettest, driest] = dry_shares(history);
  const Kilograms all = *net + history.other_bags.value_or(Kilograms{});
  const auto least = tons_per_acre(all, wettest, *history.strip);
  const auto most = tons_per_acre(all, driest, *history.strip);
  if (!least || !most) return std::nullopt;
  std::optional<double> nearest;
  if (usual->ask_above && *least > *usual->ask_above) nearest = least;
  if (usual->ask_below && *most < *usual->ask_below) nearest = most;
  if (!nearest) return std::nullopt;
  const auto end = [](std::optional<double> at) {
    return at ? hundredths(*at) : std::string(kOpen);
  };
  return std::vector<std::string>{hundredths(*nearest), end(usual->ask_below),
                                  end(usual->ask_above)};
}

Arguments weight_unexpected(const Candidate& candidate, const Result<EnteredValue>& value,
                            const Plan& plan, const History& history) {
  const auto net = net_weight(candidate, value, history);
  const std::optional<ExpectedWeight>& expected = history.expected;
  if (!net || *net <= Kilograms{} || !expected) return std::nullopt;
  // One thing is asked about once. What the weather explains is not asked.
  const Rule* const usual = find_rule("yield_unusual");
  const bool explained = widens(history.weather) && usual != nullptr &&
                         usual_in_weather(*usual, candidate, value, plan, history);
  if (weight_without_stand(candidate, value, plan, history) ||
      (!explained && yield_unusual(candidate, value, plan, history)))
    return std::nullopt;
  const double all = (*net + history.other_bags.value_or(Kilograms{})).value();
  const double rounding = kRounding * all;
  if (all >= expected->lowest - rounding && all <= expected->highest + rounding)
    return std::nullopt;
  return std::vector<std::string>{};
}

Arguments season_yield_unusual(const Candidate& candidate, const Result<EnteredValue>& value,
                               const Plan&, const History& history) {
  const auto net = net_weight(candidate, value, history);
  const Limit* const usual = history.season_yield;
  if (!net || *net <= Kilograms{} || !history.strip || !history.season_net || usual == nullptr ||
      !usual->ask_above)
    return std::nullopt;
  const Kilograms cutting = *net + history.other_bags.value_or(Kilograms{});
  const auto here = tons_per_acre(cutting, dry_shares(history).first, *history.strip);
  // Of earlier cuttings the samples may still be in the oven: what is usual stands for them.
  History earlier = history;
  earlier.sample_fresh.reset();
  const auto before = tons_per_acre(*history.season_net, dry_shares(earlier).first, *history.strip);
  if (!here || !before || *here + *before <= *usual->ask_above) return std::nullopt;
  return std::vector<std::string>{hundredths(*here + *before), hundredths(*usual->ask_above)};
}

Arguments clock_went_back(const Candidate&, const Result<EnteredValue>&, const Plan&,
                          const History& history) {
  const std::optional<Stamp>& last = history.kept_last;
  if (!last || history.now.utc + kClockPutRight >= last->utc) return std::nullopt;
  return std::vector<std::string>{date_and_clock(*last), date_and_clock(history.now)};
}

Arguments cut_again_soon(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                         const History& history) {
  if (candidate.measure != measure::kGrossWeight || !value || !history.last_cut)
    return std::nullopt;
  const auto days = (date::sys_days{history.today} - date::sys_days{*history.last_cut}).count();
  if (days < 0 || days >= kLeastDaysBetweenCuts) return std::nullopt;
  return std::vector<std::string>{format_number(static_cast<double>(days))};
}

void without_what_was_asked(const std::vector<Answer>& gross, History& history) {
  for (const Answer& answer : gross) {
    if (answer.rule == "yield_unusual") history.cutting_yield = nullptr;
    if (answer.rule == "season_yield_unusual") history.season_yield = nullptr;
    if (answer.rule == "weight_unexpected") history.expected.reset();
  }
}

}  // namespace ligule::checks
