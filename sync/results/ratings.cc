#include "sync/results/ratings.h"

#include <algorithm>
#include <array>
#include <map>

#include "storage/trial/composite.h"
#include "storage/trial/reached.h"
#include "storage/trial/unit_names.h"
#include "sync/results/labels.h"
#include "sync/results/settled.h"

namespace ligule::results {
namespace {

// What yields are made of has its own tables.
constexpr std::array<std::string_view, 10> kOfYields = {
    measure::kGrossWeight,    measure::kTareWeight, measure::kBagNumber,   measure::kSampleFresh,
    measure::kSampleDry,      measure::kBagTare,    measure::kSwathLength, measure::kSwathWidth,
    measure::kSeparatedFresh, measure::kPartBag};

bool has_numbers(const Scale& scale) {
  return scale.kind != ScaleKind::kText && scale.kind != ScaleKind::kLabel;
}

bool is_ratio(ScaleKind kind) {
  switch (kind) {
    case ScaleKind::kScore:
    case ScaleKind::kStages:
    case ScaleKind::kCounts:
    case ScaleKind::kReached:
      return false;
    case ScaleKind::kPercent:
    case ScaleKind::kLength:
    case ScaleKind::kMass:
    case ScaleKind::kShares:
    case ScaleKind::kCells:
    case ScaleKind::kText:
    case ScaleKind::kLabel:
      break;
  }
  return true;
}

std::string unit_of(const Scale& scale) {
  if (scale.kind == ScaleKind::kReached) return "day of year";
  return scale.units.empty() ? std::string() : scale.units.front();
}

// The n-th of several shares.
Result<double> share_of(const Settled& part, const Scale& scale, std::size_t n) {
  const auto shares = composite_numbers(scale, part.entered);
  if (!shares) return std::unexpected(shares.error());
  return (*shares)[n];
}

// A value in the scale's first unit.
Result<double> in_first_unit(const Settled& part, const Scale& scale) {
  const std::string wanted = unit_of(scale);
  if (part.unit == wanted || wanted.empty()) return part.value;
  if (scale.kind == ScaleKind::kLength) {
    const Result<Metres> length = length_in(part.value, part.unit);
    const Result<Metres> one = length_in(1.0, wanted);
    if (!length) return std::unexpected(length.error());
    if (!one) return std::unexpected(one.error());
    return *length / *one;
  }
  if (scale.kind == ScaleKind::kMass) {
    const Result<Kilograms> mass = mass_in(part.value, part.unit);
    const Result<Kilograms> one = mass_in(1.0, wanted);
    if (!mass) return std::unexpected(mass.error());
    if (!one) return std::unexpected(one.error());
    return *mass / *one;
  }
  return fail(ErrorKind::kInvalid, "'" + part.unit + "' is not the unit of this scale", {},
              "correct the value in " + wanted);
}

class Ratings {
 public:
  Ratings(const TrialFacts& trial, std::string test)
      : trial_(trial), test_(std::move(test)), settled_(trial.claims) {}

  TrialRatings run() {
    for (const auto& [measure, id] : settled_.acts()) {
      if (is_of_yields(measure)) continue;
      const PlanOccasion* pass = trial_.plan.find_occasion(id);
      if (pass == nullptr) {
        leave_out(measure, test_ + " " + trial_.dropped_name(id),
                  count_of(trial_.values_at(id, measure), "value") +
                      " of a rating that the plan in force does not name",
                  "put the rating back into the plan and enrol it as a revision");
        continue;
      }
      add_pass(measure, *pass);
    }
    TrialRatings out;
    for (auto& [measure, values] : measures_) out.measures.push_back(std::move(values));
    out.left_out = std::move(left_out_);
    return out;
  }

 private:
  // The one scale a pass used for a measure; null (and named, where it is odd) without.
  const Scale* scale_of(const std::string& measure, const PlanOccasion& pass,
                        std::optional<CalendarDate>& last_day) {
    const Scale* scale = nullptr;
    for (const PlanPlot& plot : trial_.plan.plots) {
      for (const Settled& part : parts_of(plot, measure, pass)) {
        last_day = std::max(last_day.value_or(part.date), part.date);
        const auto found = trial_.scales.find(part.definition);
        if (found == trial_.scales.end()) continue;
        if (scale != nullptr && scale->code != found->second.code) {
          leave_out(measure, place(pass), "two scales were used in one pass",
                    "rate one pass on one scale");
          return nullptr;
        }
        scale = &found->second;
      }
    }
    return scale != nullptr && has_numbers(*scale) ? scale : nullptr;
  }

  void add_pass(const std::string& measure, const PlanOccasion& pass) {
    std::optional<CalendarDate> last_day;
    const Scale* scale = scale_of(measure, pass, last_day);
    if (scale == nullptr || !last_day) return;
    add_rows(measure, {measure, scale, 0}, pass, *last_day);
    if (scale->kind != ScaleKind::kShares) return;
    for (std::size_t n = 1; n < scale->steps.size(); ++n)
      add_rows(measure + "_" + scale->steps[n].code, {measure, scale, n}, pass, *last_day);
  }

  // What a row of a table is made of: a measure, or the n-th share of one.
  struct Wanted {
    std::string measure;
    const Scale* scale = nullptr;  // never null
    std::size_t share = 0;
  };

  void add_rows(const std::string& name, const Wanted& wanted, const PlanOccasion& pass,
                CalendarDate last_day) {
    const auto& [measure, scale, share] = wanted;
    MeasureValues& into = measures_[name];
    into.measure = name;
    // What a scale says of its direction it says of the first share.
    into.direction = share == 0 ? scale->direction : Direction::kNone;
    into.unit = unit_of(*scale);
    into.days = scale->kind == ScaleKind::kReached;
    into.ratio = is_ratio(scale->kind);
    for (const PlanPlot& plot : trial_.plan.along_path()) {
      const std::vector<Settled> parts = parts_of(plot, measure, pass);
      const Held held = held_on(trial_, plot, parts.empty() ? last_day : parts.front().date);
      if (held.entry == nullptr) continue;
      if (parts.empty() && !pass.is_for(held.entry->code)) continue;  // no value is missing there
      into.values.push_back(
          {test_, trial_.plan.site_name, pass.year, pass.code, std::to_string(plot.block),
           held.entry->label(), plot.number,
           value_of(parts, wanted, pass.year, place(pass) + " plot " + plot.number),
           PlotPlace{plot.row, plot.column}, plot.incomplete_block});
    }
  }

  [[nodiscard]] std::vector<Settled> parts_of(const PlanPlot& plot, const std::string& measure,
                                              const PlanOccasion& pass) const {
    return settled_.parts(trial_.plan.plot(plot).uuid, measure, trial_.plan.occasion(pass));
  }

  std::optional<double> value_of(const std::vector<Settled>& parts, const Wanted& wanted, int year,
                                 const std::string& where) {
    const bool usable = std::ranges::all_of(parts, [&](const Settled& part) {
      const std::string_view open = why_open(part.standing);
      // Said once, of the whole value.
      if (!open.empty() && wanted.share == 0)
        leave_out(wanted.measure, where, "the value " + std::string(open), "correct or settle it");
      return open.empty();
    });
    if (!usable) return std::nullopt;
    if (wanted.scale->kind == ScaleKind::kReached)
      return day_of(parts, wanted.measure, year, where);
    return mean_of(parts, wanted, where);
  }

  std::optional<double> day_of(const std::vector<Settled>& parts, const std::string& measure,
                               int year, const std::string& where) {
    std::vector<Visit> visits;
    for (const Settled& part : parts) {
      if (part.standing == Standing::kValue) visits.push_back({part.part, part.value > 0});
    }
    const Reached reached = reached_of(visits);
    if (reached.contradicts) {
      leave_out(measure, where, "not yet was said after it was reached",
                "correct or take back one of the two");
      return std::nullopt;
    }
    if (reached.first_yes && !reached.last_not) {
      leave_out(measure, where,
                "reached by the first visit, " + format_date(visit_date(*reached.first_yes, year)) +
                    "; the day is not known",
                "it can't be had any more: begin the visits earlier another year");
      return std::nullopt;
    }
    if (!reached.first_yes) return std::nullopt;
    return static_cast<double>(day_of_year(visit_date(*reached.first_yes, year), year));
  }

  std::optional<double> mean_of(const std::vector<Settled>& parts, const Wanted& wanted,
                                const std::string& where) {
    const Scale& scale = *wanted.scale;
    double sum = 0.0;
    double count = 0.0;
    for (const Settled& part : parts) {
      if (part.standing == Standing::kMissing || part.standing == Standing::kLater) continue;
      const Result<double> value = part.standing == Standing::kZero ? Result<double>(0.0)
                                   : wanted.share > 0 ? share_of(part, scale, wanted.share)
                                                      : in_first_unit(part, scale);
      if (!value) {
        leave_out(wanted.measure, where, value.error().what, value.error().mend);
        return std::nullopt;
      }
      sum += *value;
      count += 1.0;
    }
    if (count == 0.0) return std::nullopt;
    return sum / count;
  }

  [[nodiscard]] std::string place(const PlanOccasion& pass) const {
    return test_ + " " + pass.code;
  }

  void leave_out(const std::string& measure, const std::string& where, const std::string& what,
                 const std::string& mend) {
    left_out_.push_back({ErrorKind::kRefused, measure + ": " + what, where, mend});
  }

  const TrialFacts& trial_;
  std::string test_;
  SettledValues settled_;
  std::map<std::string, MeasureValues> measures_;
  std::vector<Error> left_out_;
};

}  // namespace

bool is_of_yields(std::string_view measure) {
  return std::ranges::find(kOfYields, measure) != kOfYields.end();
}

TrialRatings ratings_of(const TrialFacts& trial, const std::string& test) {
  return Ratings(trial, test).run();
}

}  // namespace ligule::results
