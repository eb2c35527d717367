#include "storage/checks/rules.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <iterator>

#include "storage/checks/limits.h"
#include "storage/checks/season_rules.h"
#include "storage/checks/sorting_rules.h"
#include "storage/checks/stubble.h"
#include "storage/checks/weather.h"
#include "storage/checks/weight_rules.h"
#include "storage/trial/composition.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::checks {
namespace {

using Arguments = std::optional<std::vector<std::string>>;

CalendarDate date_of(const Candidate& candidate, const History& history) {
  return candidate.on.value_or(history.today);
}

std::string number_or_none(const std::optional<double>& number) {
  return number ? number_shown(*number) : "-";
}

// Arguments: what was entered.
Arguments unreadable(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                     const History&) {
  if (value || value.error().kind == ErrorKind::kRefused) return std::nullopt;
  return std::vector<std::string>{candidate.entered};
}

// The two values of the scale that what was entered lies between; none where it lies outside, or is
// no number.
std::optional<std::pair<std::string, std::string>> beside(const Scale& scale,
                                                          const std::string& entered) {
  const auto number = parse_number(entered);
  if (!number) return std::nullopt;
  if (scale.kind == ScaleKind::kPercent) {
    if (*number < scale.minimum.value_or(*number) || *number > scale.maximum.value_or(*number))
      return std::nullopt;
    const double steps = std::floor(*number / scale.fine_step);
    return std::pair(format_number(steps * scale.fine_step),
                     format_number((steps + 1) * scale.fine_step));
  }
  const auto above = std::ranges::upper_bound(scale.steps, *number, {}, &ScaleStep::value);
  if (above == scale.steps.begin() || above == scale.steps.end()) return std::nullopt;
  const auto below = std::prev(above);
  // Steps that are called by other names than their numbers are not entered by number.
  const bool named = parse_number(below->code) != below->value;
  if (named || parse_number(above->code) != above->value) return std::nullopt;
  return std::pair(below->code, above->code);
}

// Arguments: the next value below, the next above.
Arguments between_steps(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                        const History&) {
  if (value || value.error().kind != ErrorKind::kRefused) return std::nullopt;
  const auto next = beside(*candidate.scale, candidate.entered);
  if (!next) return std::nullopt;
  return std::vector<std::string>{next->first, next->second};
}

// Arguments: lowest; highest with its unit.
Arguments off_scale(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                    const History&) {
  if (value || value.error().kind != ErrorKind::kRefused) return std::nullopt;
  const Scale& scale = *candidate.scale;
  if (beside(scale, candidate.entered)) return std::nullopt;
  if (!scale.steps.empty())
    return std::vector<std::string>{scale.steps.front().code, scale.steps.back().code};
  const auto with_unit = [](const std::string& number, const std::string& unit) {
    return unit.empty() ? number : number + "\u00a0" + unit;
  };
  const auto bounds = bounds_of(scale, candidate.unit);
  if (!bounds) return std::vector<std::string>{"-", with_unit("-", candidate.unit)};
  return std::vector<std::string>{number_or_none(bounds->lowest),
                                  with_unit(number_or_none(bounds->highest), bounds->unit)};
}

// A side of the harvested strip, and the same side of the plot as sown.
struct Side {
  Metres cut;
  Metres sown;
  bool length = false;
};
std::optional<Side> side_of(const Candidate& candidate, const Result<EnteredValue>& value,
                            const Plan& plan) {
  const bool length = candidate.measure == measure::kSwathLength;
  if (!length && candidate.measure != measure::kSwathWidth) return std::nullopt;
  if (!value) return std::nullopt;
  const std::optional<double> number = value->value;
  if (!number) return std::nullopt;
  const auto cut = length_in(*number, value->unit);
  const auto sown = (length ? plan.plot_length : plan.plot_width).metres();
  if (!cut || !sown) return std::nullopt;
  return Side{*cut, *sown, length};
}

Arguments swath_nothing(const Candidate& candidate, const Result<EnteredValue>& value,
                        const Plan& plan, const History&) {
  const auto side = side_of(candidate, value, plan);
  if (!side || side->cut > Metres{}) return std::nullopt;
  return std::vector<std::string>{};
}

// Arguments: the plot's side as the plan states it.
Arguments swath_over_plot(const Candidate& candidate, const Result<EnteredValue>& value,
                          const Plan& plan, const History&) {
  const auto side = side_of(candidate, value, plan);
  if (!side || side->cut.value() <= side->sown.value() * (1 + 1e-6)) return std::nullopt;
  const StatedLength& sown = side->length ? plan.plot_length : plan.plot_width;
  return std::vector<std::string>{sown.text + "\u00a0" + sown.unit};
}

// A strip of a forage plot is at least 2 ft wide and 12 to 25 ft long: Sheaffer et al. 1998, Forage
// Yield Testing, draft 4, naaic.org.
Arguments swath_unusual(const Candidate& candidate, const Result<EnteredValue>& value,
                        const Plan& plan, const History&) {
  const auto side = side_of(candidate, value, plan);
  if (!side) return std::nullopt;
  const double feet = convert<Feet>(side->cut).value();
  constexpr double kRounding = 1e-6;
  const bool usual =
      side->length ? feet >= 12 - kRounding && feet <= 25 + kRounding : feet >= 2 - kRounding;
  if (usual) return std::nullopt;
  return std::vector<std::string>{};
}

// Shown, not kept: one decimal at most.
std::string tenths(double number) {
  const std::string text = format_fixed(number, 1);
  return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

// Arguments: percent of dry matter, its usual ends with their unit. Weights that can't be are asked
// about by other rules.
Arguments dry_matter_unusual(const Candidate& candidate, const Result<EnteredValue>& value,
                             const Plan&, const History& history) {
  const auto fresh_now = weight(candidate, value, measure::kSampleFresh);
  const auto dry_now = weight(candidate, value, measure::kSampleDry);
  const auto fresh = fresh_now ? fresh_now : history.sample_fresh;
  const auto dry = dry_now ? dry_now : history.sample_dry;
  const Limit* const usual = history.dry_matter;
  if ((!fresh_now && !dry_now) || !fresh || !dry || usual == nullptr) return std::nullopt;
  const Kilograms bag = history.bag_tare.value_or(Kilograms{});
  if (*fresh <= bag || *dry <= bag || *dry > *fresh) return std::nullopt;
  const double percent = 100 * ((*dry - bag) / (*fresh - bag));
  constexpr double kRounding = 1e-9;  // of taking bags off
  const bool low = percent < usual->ask_below.value_or(0) - kRounding;
  const bool high = percent > usual->ask_above.value_or(100) + kRounding;
  if (!low && !high) return std::nullopt;
  return std::vector<std::string>{tenths(percent), tenths(usual->ask_below.value_or(0)),
                                  tenths(usual->ask_above.value_or(100))};
}

// What hangs on the scale with the forage is an error of every plot of the day.
Arguments tare_missing(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                       const History& history) {
  if (candidate.measure != measure::kGrossWeight || !value || !history.tare_to_come)
    return std::nullopt;
  return std::vector<std::string>{};
}

// Arguments: the least height in the unit the stubble was given in.
Arguments stubble_low(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                      const History& history) {
  if (candidate.measure != kStubbleHeight || !value) return std::nullopt;
  const std::optional<double> number = value->value;
  if (!number) return std::nullopt;
  const auto height = length_in(*number, value->unit);
  const auto one = length_in(1, value->unit);
  const std::optional<double> least = history.least_stubble;
  if (!height || !one || !least || !is_low(convert<Inches>(*height).value(), least))
    return std::nullopt;
  const Metres bears = convert<Metres>(Inches(*least));
  return std::vector<std::string>{tenths(bears / *one) + "\u00a0" + value->unit};
}

// Arguments: since when. A plot that is no plot of the trial any more is in no table.
Arguments weight_abandoned(const Candidate& candidate, const Result<EnteredValue>& value,
                           const Plan&, const History& history) {
  const std::optional<CalendarDate>& since = history.abandoned;
  if (candidate.measure != measure::kGrossWeight || !value || !since) return std::nullopt;
  return std::vector<std::string>{format_date(*since)};
}

// What somebody stood by says nothing of one that is lower still.
bool lower_than_answered(const Rule& rule, const Result<EnteredValue>& value,
                         const History& history) {
  if (rule.code != kStubbleLow || !value || !history.stubble_answered) return false;
  const std::optional<double> number = value->value;
  if (!number) return false;
  const auto height = length_in(*number, value->unit);
  return height && is_low(convert<Inches>(*height).value(), history.stubble_answered);
}

// Arguments: what it weighed dry.
Arguments dried_before(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                       const History& history) {
  if (candidate.measure != measure::kSampleDry || !value || history.dried_before.empty())
    return std::nullopt;
  return std::vector<std::string>{history.dried_before};
}

// Arguments: the number.
Arguments bag_in_use(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                     const History& history) {
  if (!numbers_a_bag(candidate.measure) || !value) return std::nullopt;
  const auto used = std::ranges::find(history.open_bags, value->entered, &BagInUse::number);
  if (used == history.open_bags.end()) return std::nullopt;
  return std::vector<std::string>{value->entered};
}

// Arguments: the date, the sowing date. Sowing and first note may fall on one day.
Arguments before_sowing(const Candidate& candidate, const Result<EnteredValue>&, const Plan& plan,
                        const History& history) {
  const CalendarDate on = date_of(candidate, history);
  if (on >= plan.sown) return std::nullopt;
  return std::vector<std::string>{format_date(on), format_date(plan.sown)};
}

// Arguments: the date, today.
Arguments in_future(const Candidate& candidate, const Result<EnteredValue>&, const Plan&,
                    const History& history) {
  const CalendarDate on = date_of(candidate, history);
  if (on <= history.today) return std::nullopt;
  return std::vector<std::string>{format_date(on), format_date(history.today)};
}

// Arguments: who rated the block so far, who goes on. Two people score one plot differently; within
// a block that difference looks like one between entries (common practice, no source).
Arguments rater_changed(const Candidate&, const Result<EnteredValue>&, const Plan&,
                        const History& history) {
  if (history.raters_before.empty()) return std::nullopt;
  std::string before;
  for (const std::string& initials : history.raters_before)
    before += (before.empty() ? "" : ", ") + initials;
  return std::vector<std::string>{before, history.rater};
}

// A plot rated twice: arguments: who rated it.
Arguments rated_twice(const Candidate&, const Result<EnteredValue>&, const Plan&,
                      const History& history) {
  if (history.rated_by.empty()) return std::nullopt;
  return std::vector<std::string>{history.rated_by};
}

constexpr std::array kRatedPhrases{Phrase{"leave_theirs", false}, Phrase{"put_theirs_right"}};
constexpr std::array kWeightPhrases{Phrase{"weigh_again", false}, Phrase{"scale_not_zero"},
                                    Phrase{"wrong_tare"}, Phrase{"not_known"}};
constexpr std::array kDryPhrases{Phrase{"weigh_again", false}, Phrase{"bags_mixed_up"},
                                 Phrase{"fresh_was_wrong"}, Phrase{"not_known"}};
constexpr std::array kDryMatterPhrases{Phrase{"weigh_again", false}, Phrase{"bags_mixed_up"},
                                       Phrase{"fresh_was_wrong"}, Phrase{"right_so"},
                                       Phrase{"not_known"}};
constexpr std::array kHeavyPhrases{Phrase{"weigh_again", false}, Phrase{"whole_was_wrong"},
                                   Phrase{"wet_while_sorting"}, Phrase{"not_known"}};
constexpr std::array kLightPhrases{Phrase{"weigh_again", false}, Phrase{"dried_while_sorting"},
                                   Phrase{"some_fell_off"}, Phrase{"whole_was_wrong"},
                                   Phrase{"not_known"}};
constexpr std::array kBagPhrases{Phrase{"other_number", false}, Phrase{"other_bag_gone"},
                                 Phrase{"number_twice"}};
constexpr std::array kDriedPhrases{Phrase{"other_bag", false}, Phrase{"redried"},
                                   Phrase{"typed_wrong"}};
constexpr std::array kDatePhrases{Phrase{"enter_again", false}, Phrase{"date_is_right"},
                                  Phrase{"clock_is_wrong"}};

constexpr std::array kLookPhrases{Phrase{"look_again", false}, Phrase{"measured_so"},
                                  Phrase{"earlier_was_wrong"}, Phrase{"not_known"}};
constexpr std::array kStagePhrases{Phrase{"look_again", false}, Phrase{"regrown", true, true},
                                   Phrase{"earlier_was_wrong"}, Phrase{"not_known"}};
constexpr std::array kUnusualPhrases{Phrase{"enter_again", false}, Phrase{"measured_so"},
                                     Phrase{"not_known"}};
constexpr std::array kYieldPhrases{Phrase{"weigh_again", false}, Phrase{"measured_so"},
                                   Phrase{"strip_differs"}, Phrase{"not_known"}};
constexpr std::array kTwicePhrases{Phrase{"other_plot_on_scale", false},
                                   Phrase{"earlier_was_wrong"}};
constexpr std::array kExpectedPhrases{Phrase{"weigh_again", false}, Phrase{"measured_so"},
                                      Phrase{"strip_differs"}, Phrase{"not_known"}};
constexpr std::array kNoStandPhrases{Phrase{"weigh_again", false}, Phrase{"weeds_mostly"},
                                     Phrase{"stand_was_wrong"}, Phrase{"other_plot", false}};
constexpr std::array kAbandonedPhrases{Phrase{"other_plot", false}, Phrase{"measured_so"},
                                       Phrase{"not_known"}};
constexpr std::array kSoonPhrases{Phrase{"other_cutting", false}, Phrase{"measured_so"},
                                  Phrase{"clock_is_wrong"}};
constexpr std::array kClockPhrases{Phrase{"set_clock", false}, Phrase{"clock_is_right"},
                                   Phrase{"clock_is_wrong"}};
constexpr std::array kRaterPhrases{Phrase{"next_block", false}, Phrase{"go_on"}};

constexpr std::array kSameWeightPhrases{Phrase{"weigh_again", false}, Phrase{"weights_equal"}};
constexpr std::array kTarePhrases{Phrase{"weigh_again", false}, Phrase{"other_bags"},
                                  Phrase{"bag_wet"}, Phrase{"not_known"}};
constexpr std::array kNoTarePhrases{Phrase{"weigh_bin", false}, Phrase{said::kBinReadsZero}};
constexpr std::array kStubblePhrases{Phrase{"measure_again", false}, Phrase{"measured_so"}};
constexpr std::array kSwathPhrases{Phrase{"measure_again", false}, Phrase{"measured_so"}};

// Refusals first, then what is kept on hold, then what only asks. The bounds of a scale carry the
// scale's own source; the other rules: common practice, no source.
constexpr std::array kRules{
    Rule{"unreadable", Outcome::kRefuse, Scope::kValue, "unreadable", {}, unreadable},
    Rule{"between_steps", Outcome::kRefuse, Scope::kValue, "between_steps", {}, between_steps},
    Rule{"off_scale", Outcome::kRefuse, Scope::kValue, "off_scale", {}, off_scale},
    Rule{"out_of_limits", Outcome::kRefuse, Scope::kValue, "out_of_limits", {}, out_of_limits},
    Rule{"swath_nothing", Outcome::kRefuse, Scope::kValue, "swath_nothing", {}, swath_nothing},
    Rule{
        "swath_over_plot", Outcome::kRefuse, Scope::kValue, "swath_over_plot", {}, swath_over_plot},
    Rule{"gross_under_tare", Outcome::kOnHold, Scope::kValue, "gross_under_tare", kWeightPhrases,
         gross_under_tare},
    Rule{"sample_under_bag", Outcome::kOnHold, Scope::kValue, "sample_under_bag", kWeightPhrases,
         sample_under_bag},
    Rule{"separated_under_bag", Outcome::kOnHold, Scope::kValue, "separated_under_bag",
         kWeightPhrases, separated_under_bag},
    Rule{"dry_over_fresh", Outcome::kOnHold, Scope::kValue, "dry_over_fresh", kDryPhrases,
         dry_over_fresh},
    Rule{"dry_under_bag", Outcome::kOnHold, Scope::kValue, "dry_under_bag", kDryPhrases,
         dry_under_bag},
    Rule{said::kTareMissing, Outcome::kAsk, Scope::kDay, said::kTareMissing, kNoTarePhrases,
         tare_missing},
    Rule{"weighed_twice", Outcome::kAsk, Scope::kValue, "weighed_twice", kTwicePhrases,
         weighed_twice},
    Rule{"same_weight", Outcome::kAsk, Scope::kValue, "same_weight", kSameWeightPhrases,
         same_weight},
    Rule{"tare_differs", Outcome::kAsk, Scope::kValue, "tare_differs", kTarePhrases, tare_differs},
    Rule{"swath_unusual", Outcome::kAsk, Scope::kDay, "swath_unusual", kSwathPhrases,
         swath_unusual},
    Rule{kWeather, Outcome::kAsk, Scope::kValue, kWeather, kWeatherPhrases, weather},
    Rule{"unusual", Outcome::kAsk, Scope::kValue, "unusual", kUnusualPhrases, unusual},
    Rule{"stand_rose", Outcome::kAsk, Scope::kValue, "stand_rose", kLookPhrases, stand_rose},
    Rule{"stage_went_back", Outcome::kAsk, Scope::kValue, "stage_went_back", kStagePhrases,
         stage_went_back},
    Rule{"weight_without_stand", Outcome::kAsk, Scope::kValue, "weight_without_stand",
         kNoStandPhrases, weight_without_stand},
    Rule{"weight_abandoned", Outcome::kAsk, Scope::kValue, "weight_abandoned", kAbandonedPhrases,
         weight_abandoned},
    Rule{"yield_unusual", Outcome::kAsk, Scope::kValue, "yield_unusual", kYieldPhrases,
         yield_unusual},
    Rule{"weight_unexpected", Outcome::kAsk, Scope::kValue, "weight_unexpected", kExpectedPhrases,
         weight_unexpected},
    Rule{"season_yield_unusual", Outcome::kAsk, Scope::kValue, "season_yield_unusual",
         kYieldPhrases, season_yield_unusual},
    Rule{"cut_again_soon", Outcome::kAsk, Scope::kDay, "cut_again_soon", kSoonPhrases,
         cut_again_soon},
    Rule{kStubbleLow, Outcome::kAsk, Scope::kDay, kStubbleLow, kStubblePhrases, stubble_low},
    Rule{"dry_matter_unusual", Outcome::kAsk, Scope::kValue, "dry_matter_unusual",
         kDryMatterPhrases, dry_matter_unusual},
    Rule{"dried_before", Outcome::kAsk, Scope::kValue, "dried_before", kDriedPhrases, dried_before},
    Rule{"parts_heavy", Outcome::kAsk, Scope::kValue, "parts_heavy", kHeavyPhrases, parts_heavy},
    Rule{"parts_light", Outcome::kAsk, Scope::kValue, "parts_light", kLightPhrases, parts_light},
    Rule{"bag_in_use", Outcome::kAsk, Scope::kValue, "bag_in_use", kBagPhrases, bag_in_use},
    Rule{"before_sowing", Outcome::kAsk, Scope::kDay, "before_sowing", kDatePhrases, before_sowing},
    Rule{"in_future", Outcome::kAsk, Scope::kDay, "in_future", kDatePhrases, in_future},
    Rule{"clock_went_back", Outcome::kAsk, Scope::kDay, "clock_went_back", kClockPhrases,
         clock_went_back},
    Rule{"rater_changed", Outcome::kAsk, Scope::kValue, "rater_changed", kRaterPhrases,
         rater_changed},
    Rule{"rated_twice", Outcome::kAsk, Scope::kValue, "rated_twice", kRatedPhrases, rated_twice},
};

}  // namespace

std::span<const Rule> rules() {
  return kRules;
}

const Rule* find_rule(std::string_view code) {
  const auto* const at = std::ranges::find(kRules, code, &Rule::code);
  return at == kRules.end() ? nullptr : at;
}

bool holds_for_day(const Answer& answer) {
  const Rule* const rule = find_rule(answer.rule);
  if (rule == nullptr) return false;
  const auto phrase = std::ranges::find(rule->phrases, answer.answer, &Phrase::code);
  return rule->scope == Scope::kDay || (phrase != rule->phrases.end() && phrase->for_day);
}

Verdict judge(const Candidate& candidate, const Plan& plan, const History& history) {
  const auto value = read_entered(*candidate.scale, candidate.entered, candidate.unit);
  Verdict verdict;
  verdict.value = value ? *value : EnteredValue{candidate.entered, candidate.unit, std::nullopt};
  for (const Rule& rule : kRules) {
    auto arguments = rule.look(candidate, value, plan, history);
    if (!arguments) continue;
    verdict.outcome = std::max(verdict.outcome, rule.outcome);
    const auto answer = std::ranges::find(history.answered, rule.code, &Answer::rule);
    if (rule.outcome != Outcome::kRefuse && answer != history.answered.end() &&
        !lower_than_answered(rule, value, history)) {
      verdict.answered.push_back(*answer);
      continue;
    }
    // Of weather that was spoken of before, or is about to be.
    const bool spoken = widens(history.weather);
    const bool asked = std::ranges::any_of(
        verdict.findings, [](const Finding& each) { return each.rule->code == kWeather; });
    const bool usual = (spoken || asked) && usual_in_weather(rule, candidate, value, plan, history);
    if (usual && spoken) {
      verdict.answered.push_back({std::string(rule.code), history.weather});
      continue;
    }
    verdict.findings.push_back({&rule, std::move(*arguments), usual});
    if (rule.outcome == Outcome::kRefuse) break;
  }
  return verdict;
}

}  // namespace ligule::checks
