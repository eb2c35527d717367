#include "sync/results/yields.h"

#include <algorithm>
#include <functional>
#include <map>
#include <set>
#include <tuple>

#include "storage/trial/unit_names.h"
#include "sync/results/cut_width.h"
#include "sync/results/dry_matter_notes.h"
#include "sync/results/labels.h"
#include "sync/results/no_weight.h"
#include "sync/results/settled.h"
#include "sync/results/sown_yield.h"

namespace ligule::results {
namespace {

// What the parts of an act come to. Without a total, `why` says why; `open` where a person has to
// decide something first.
struct Sum {
  std::optional<double> total;  // in the base unit: kg, m
  bool recorded = false;
  bool all_zero = true;  // every part was entered as "nothing there"
  bool open = false;
  std::string why;
  std::optional<CalendarDate> first_date;
};

using ToBase = std::function<Result<double>(double, std::string_view)>;

Result<double> to_kilograms(double value, std::string_view unit) {
  const Result<Kilograms> mass = mass_in(value, unit);
  if (!mass) return std::unexpected(mass.error());
  return mass->value();
}

Result<double> to_metres(double value, std::string_view unit) {
  const Result<Metres> length = length_in(value, unit);
  if (!length) return std::unexpected(length.error());
  return length->value();
}

// `name` is what a person calls the act: "gross weight".
Sum sum_of(const std::vector<Settled>& parts, const std::string& name, const ToBase& to_base,
           std::vector<RecordId>& records) {
  Sum sum;
  double total = 0.0;
  for (const Settled& part : parts) {
    sum.recorded = true;
    sum.first_date = std::min(sum.first_date.value_or(part.date), part.date);
    records.insert(records.end(), part.records.begin(), part.records.end());
    if (part.standing != Standing::kZero) sum.all_zero = false;
    if (part.standing == Standing::kZero) continue;
    if (part.standing != Standing::kValue) {
      const std::string open(why_open(part.standing));
      sum.open = sum.open || !open.empty();
      if (sum.why.empty() || !open.empty()) {
        sum.why = "the " + name + " " + (open.empty() ? std::string("is missing") : open);
      }
      continue;
    }
    const Result<double> base = to_base(part.value, part.unit);
    if (!base) {
      sum.open = true;
      sum.why = "the " + name + ": " + base.error().what;
      continue;
    }
    total += *base;
  }
  if (sum.recorded && sum.why.empty()) sum.total = total;
  return sum;
}

// Of the parts of a gross weight; nothing where one of them is a weight, or is still open.
std::optional<NoWeight> no_weight_of(const std::vector<Settled>& parts) {
  std::optional<NoWeight> none;
  for (const Settled& part : parts) {
    const bool zero = part.standing == Standing::kZero;
    if (!zero && part.standing != Standing::kMissing) return std::nullopt;
    if (!none || (none->zero && !zero))
      none = NoWeight{zero, part.reason, zero && part.confirmed};
    else if (none->zero)
      none->confirmed = none->confirmed && part.confirmed;  // every bag of it
  }
  return none;
}

std::string joined(const std::vector<std::string>& plots) {
  std::string all;
  for (const std::string& plot : plots) all += (all.empty() ? "" : ", ") + plot;
  return all;
}

class Yields {
 public:
  Yields(const TrialFacts& trial, std::string test)
      : trial_(trial), test_(std::move(test)), settled_(trial.claims) {}

  TrialYields run() {
    std::vector<PlanOccasion> cuttings;
    for (const PlanOccasion& occasion : trial_.plan.occasions) {
      if (occasion.job == Job::kHarvest) cuttings.push_back(occasion);
    }
    std::ranges::sort(cuttings, {},
                      [](const PlanOccasion& o) { return std::pair(o.year, o.cutting); });
    for (const PlanOccasion& cutting : cuttings) add_cutting(cutting);
    name_weights_without_a_cutting(cuttings);
    std::ranges::move(cut_width_notices(trial_, test_), std::back_inserter(out_.notices));
    std::ranges::move(zero_notices(out_.plots), std::back_inserter(out_.notices));
    std::ranges::move(missing_tare_notices(out_.plots), std::back_inserter(out_.notices));
    std::ranges::move(composition_notices(out_.plots), std::back_inserter(out_.notices));
    std::ranges::move(borrowed_notices(out_.plots), std::back_inserter(out_.notices));
    return std::move(out_);
  }

 private:
  void add_cutting(const PlanOccasion& cutting) {
    const OccasionId occasion = trial_.plan.occasion(cutting);
    std::optional<CalendarDate> day;
    for (const PlanPlot& plot : trial_.plan.along_path()) {
      for (const Settled& part :
           settled_.parts(trial_.plan.plot(plot).uuid, measure::kGrossWeight, occasion)) {
        day = std::max(day.value_or(part.date), part.date);
      }
    }
    if (!day) return;  // not cut yet
    samples_ = samples_of(trial_, settled_, occasion, *day);
    std::vector<std::string> unplanned;
    for (const PlanPlot& plot : trial_.plan.along_path()) {
      const bool weighed =
          !settled_.parts(trial_.plan.plot(plot).uuid, measure::kGrossWeight, occasion).empty();
      const bool planned = is_for(trial_, cutting, plot, *day);
      if (!planned && !weighed) continue;  // neither zero nor missing
      if (!planned) unplanned.push_back(plot.number);
      PlotYield row = yield_of(plot, cutting, occasion, *day);
      row.cut_on = cut_plot(trial_, settled_, plot, occasion, *day).day;
      if (!row.entry.empty()) add_composition(plot, occasion, *day, row);
      out_.plots.push_back(std::move(row));
    }
    if (!unplanned.empty()) name_unplanned(cutting, unplanned);
  }

  void add_composition(const PlanPlot& plot, OccasionId occasion, CalendarDate last_day,
                       PlotYield& row) {
    row.composition = composition_of(trial_, settled_, plot, occasion);
    const CalendarDate day = cut_plot(trial_, settled_, plot, occasion, last_day).day;
    std::optional<CalendarDate> before;
    const auto at = cut_on_.find(plot.number);
    if (at != cut_on_.end() && at->second < day) before = at->second;
    row.weeds = weeds_by_eye(trial_, settled_, plot, occasion, before, day);
    cut_on_[plot.number] = day;
    if (row.composition && row.composition->state == SampleState::kUndecided)
      out_.left_out.push_back({ErrorKind::kRefused, "composition: " + row.composition->why,
                               test_ + " " + std::to_string(row.year) + " cutting " +
                                   std::to_string(row.cutting) + " plot " + row.plot,
                               row.composition->mend});
  }

  // `last_day` of the cutting stands for a plot that was not weighed.
  PlotYield yield_of(const PlanPlot& plot, const PlanOccasion& cutting, OccasionId occasion,
                     CalendarDate last_day) {
    PlotYield row;
    row.test = test_;
    row.site = trial_.plan.site_name;
    row.year = cutting.year;
    row.cutting = cutting.cutting;
    row.block = plot.block;
    row.plot = plot.number;
    row.place = PlotPlace{plot.row, plot.column};
    row.incomplete_block = plot.incomplete_block;
    const Uuid subject = trial_.plan.plot(plot).uuid;
    const Sum gross = sum_of(settled_.parts(subject, measure::kGrossWeight, occasion),
                             "gross weight", to_kilograms, row.records);
    const Held held = held_on(trial_, plot, gross.first_date.value_or(last_day));
    if (held.entry == nullptr) {
      row.why = held.why.empty() ? "the plan names no entry for the plot" : held.why;
      return row;
    }
    row.entry = held.entry->label();
    if (!gross.recorded) {
      row.why = "no gross weight was recorded";
      return row;
    }
    row.no_weight = no_weight_of(settled_.parts(subject, measure::kGrossWeight, occasion));
    if (!usable(gross, row)) {
      if (row.no_weight && !row.no_weight->reason.empty())
        row.why += ": " + reason_text(row.no_weight->reason);
      return row;
    }
    const Sum tare = sum_of(settled_.parts(subject, measure::kTareWeight, occasion), "tare",
                            to_kilograms, row.records);
    if (tare.recorded && !usable(tare, row)) return row;
    row.gross = Kilograms(gross.total.value_or(0.0));
    if (tare.recorded) row.tare = Kilograms(tare.total.value_or(0.0));
    row.tare_taken_as_zero = asks_for_tare(cutting) && lacks_tare(subject, occasion);
    if (!set_area(row, subject, occasion)) return row;
    // Where nothing stood no sample can be taken; the yield is known to be zero.
    if (gross.all_zero) {
      row.yield = row.total = KilogramsPerHectare(0.0);
      return row;
    }
    const bool none_sown = weeds_only(settled_.parts(subject, measure::kGrossWeight, occasion));
    if (set_fraction(row, cut_plot(trial_, settled_, plot, occasion, last_day)))
      set_yield(row, none_sown ? Kilograms(0.0) : net_weeds(subject, occasion));
    if (!none_sown) return row;
    // What was sown gave nothing, whatever is known of the weeds.
    row.yield = KilogramsPerHectare(0.0);
    const auto bags = settled_.parts(subject, measure::kGrossWeight, occasion);
    row.no_weight = NoWeight{true, "weeds_only", std::ranges::all_of(bags, &Settled::confirmed)};
    row.why.clear();
    return row;
  }

  static bool asks_for_tare(const PlanOccasion& cutting) {
    return std::ranges::find(cutting.measures, measure::kTareWeight) != cutting.measures.end();
  }

  // Whether a bag was weighed whose tare nobody gave; one taken off by the indicator is given as 0.
  [[nodiscard]] bool lacks_tare(const Uuid& subject, OccasionId occasion) const {
    std::set<int> tared;
    for (const Settled& tare : settled_.parts(subject, measure::kTareWeight, occasion)) {
      if (tare.standing == Standing::kValue || tare.standing == Standing::kZero)
        tared.insert(tare.part);
    }
    return std::ranges::any_of(settled_.parts(subject, measure::kGrossWeight, occasion),
                               [&](const Settled& bag) {
                                 return bag.standing == Standing::kValue && !bag.bin_reads_zero &&
                                        !tared.contains(bag.part);
                               });
  }

  // Of the bags that hold nothing of what was sown. Their weights have been found usable.
  [[nodiscard]] Kilograms net_weeds(const Uuid& subject, OccasionId occasion) const {
    std::set<int> bags;
    for (const Settled& part : settled_.parts(subject, measure::kGrossWeight, occasion)) {
      if (part.weeds_only) bags.insert(part.part);
    }
    const auto mass = [&](std::string_view measure) {
      double sum = 0.0;
      for (const Settled& part : settled_.parts(subject, measure, occasion)) {
        if (part.standing == Standing::kValue && bags.contains(part.part))
          sum += to_kilograms(part.value, part.unit).value_or(0.0);
      }
      return Kilograms(sum);
    };
    return mass(measure::kGrossWeight) - mass(measure::kTareWeight);
  }

  // From the parts, which the row holds all of; `weeds` of the net weight are none of what was
  // sown.
  void set_yield(PlotYield& row, Kilograms weeds) {
    const auto fraction = row.dry_matter.fraction;
    if (!row.gross || !fraction || !row.area) return;
    const Kilograms net = *row.gross - row.tare.value_or(Kilograms(0.0));
    const Result<KilogramsPerHectare> yield = dry_matter_yield(net, *fraction, *row.area);
    if (!yield) return leave_out(row, yield.error().what, yield.error().mend);
    row.total = *yield;
    if (weeds == Kilograms(0.0)) {
      row.yield = row.total;
      return;
    }
    const auto sown = dry_matter_yield(net - weeds, *fraction, *row.area);
    if (!sown) return leave_out(row, sown.error().what, sown.error().mend);
    row.yield = *sown;
  }

  bool usable(const Sum& sum, PlotYield& row) {
    if (sum.total) return true;
    row.why = sum.why;
    if (sum.open) leave_out(row, sum.why, "correct or settle it");
    return false;
  }

  // The plot's own swath where it was measured, else the plan's.
  bool set_area(PlotYield& row, const Uuid& subject, OccasionId occasion) {
    const auto side = [&](std::string_view measure, const std::string& name,
                          const StatedLength& planned) -> std::optional<Metres> {
      const auto parts = settled_.parts(subject, measure, occasion);
      const Sum sum = sum_of(parts, name, to_metres, row.records);
      if (sum.recorded) {
        if (!usable(sum, row)) return std::nullopt;
        return Metres(sum.total.value_or(0.0) / static_cast<double>(parts.size()));
      }
      const Result<Metres> stated = planned.metres();
      if (stated) return *stated;
      leave_out(row, "the plan's " + name + " can't be used: " + stated.error().what,
                stated.error().mend);
      return std::nullopt;
    };
    const auto length = side(measure::kSwathLength, "swath length", trial_.plan.swath_length);
    if (!length) return false;
    const auto width = side(measure::kSwathWidth, "swath width", trial_.plan.swath_width);
    if (!width) return false;
    row.area = area(*length, *width);
    return true;
  }

  // The plot's own, or one in its place; which of them stands in the row.
  bool set_fraction(PlotYield& row, const CutPlot& cut) {
    row.dry_matter = choose_fraction(cut, samples_);
    const auto& records = row.dry_matter.records;
    row.records.insert(row.records.end(), records.begin(), records.end());
    if (row.dry_matter.fraction) return true;
    row.why = row.dry_matter.why;
    if (!row.dry_matter.mend.empty()) leave_out(row, row.why, row.dry_matter.mend);
    return false;
  }

  void leave_out(PlotYield& row, const std::string& why, const std::string& mend) {
    row.why = why;
    out_.left_out.push_back({ErrorKind::kRefused, why,
                             test_ + " " + std::to_string(row.year) + " cutting " +
                                 std::to_string(row.cutting) + " plot " + row.plot,
                             mend});
  }

  // Whose weight counts all the same: somebody cut it.
  void name_unplanned(const PlanOccasion& cutting, const std::vector<std::string>& plots) {
    out_.notices.push_back(
        {ErrorKind::kRefused,
         "recorded, though the plan has the cutting for other entries; it counts",
         test_ + " " + std::to_string(cutting.year) + " cutting " +
             std::to_string(cutting.cutting) + " plots " + joined(plots),
         "add the entries to the cutting, or take the records back"});
  }

  // A revision of the plan may have dropped a cutting that was weighed.
  void name_weights_without_a_cutting(const std::vector<PlanOccasion>& cuttings) {
    for (const auto& act : settled_.acts()) {
      if (act.first != measure::kGrossWeight) continue;
      const OccasionId occasion = act.second;
      const bool planned = std::ranges::any_of(cuttings, [&](const PlanOccasion& cutting) {
        return trial_.plan.occasion(cutting) == occasion;
      });
      if (planned) continue;
      out_.left_out.push_back(
          {ErrorKind::kRefused,
           count_of(trial_.values_at(occasion, measure::kGrossWeight), "weight") +
               " of a cutting that the plan in force does not name",
           test_ + " " + trial_.dropped_name(occasion),
           "put the cutting back into the plan and enrol it as a revision"});
    }
  }

  const TrialFacts& trial_;
  std::string test_;
  SettledValues settled_;
  std::vector<Sample> samples_;                 // of the cutting
  std::map<std::string, CalendarDate> cut_on_;  // plots, at the cutting before
  TrialYields out_;
};

template <class Quantity>
std::string number_or_empty(const std::optional<Quantity>& quantity) {
  return quantity ? exact(quantity->value()) : std::string();
}

std::string spaced(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : " ") + text;
  return all;
}

}  // namespace

TrialYields yields_of(const TrialFacts& trial, const std::string& test) {
  return Yields(trial, test).run();
}

Result<std::vector<PlotValue>> values_by(
    std::span<const PlotYield> plots, std::string_view unit,
    const std::function<std::optional<KilogramsPerHectare>(const PlotYield&)>& of) {
  std::vector<PlotValue> values;
  for (const PlotYield& plot : plots) {
    if (plot.entry.empty()) continue;
    PlotValue value{plot.test,
                    plot.site,
                    plot.year,
                    std::to_string(plot.cutting),
                    std::to_string(plot.block),
                    plot.entry,
                    plot.plot,
                    std::nullopt,
                    plot.place,
                    plot.incomplete_block};
    if (const auto yield = of(plot)) {
      const Result<double> converted = yield_in(*yield, unit);
      if (!converted) return std::unexpected(converted.error());
      value.value = *converted;
    }
    values.push_back(value);
  }
  return values;
}

Result<std::vector<PlotValue>> plot_values(const std::vector<PlotYield>& plots,
                                           std::string_view unit) {
  return values_by(plots, unit, [](const PlotYield& plot) { return plot.yield; });
}

Result<std::string> plots_csv(const std::vector<PlotYield>& plots, std::string_view unit) {
  std::string text =
      "test,year,cutting,rep,plot,entry,gross_kg,tare_kg,area_m2,dry_matter_fraction,"
      "fraction_from,fraction_bags,without_own_sample_because,yield,total_yield,unit,"
      "without_yield_because,records\n";
  for (const PlotYield& plot : plots) {
    std::vector<std::string> yields;
    for (const auto& amount : {plot.yield, plot.total}) {
      yields.emplace_back();
      if (!amount) continue;
      const Result<double> converted = yield_in(*amount, unit);
      if (!converted) return std::unexpected(converted.error());
      yields.back() = exact(*converted);
    }
    std::string records;
    for (const RecordId& id : plot.records) {
      if (!records.empty()) records += ' ';
      records += id.text();
    }
    const std::vector<std::string> fields = {plot.test,
                                             std::to_string(plot.year),
                                             std::to_string(plot.cutting),
                                             std::to_string(plot.block),
                                             plot.plot,
                                             plot.entry,
                                             number_or_empty(plot.gross),
                                             number_or_empty(plot.tare),
                                             number_or_empty(plot.area),
                                             number_or_empty(plot.dry_matter.fraction),
                                             std::string(name_of(plot.dry_matter.from)),
                                             spaced(plot.dry_matter.bags),
                                             plot.dry_matter.why,
                                             yields[0],
                                             yields[1],
                                             std::string(unit),
                                             plot.why,
                                             records};
    text += csv_line(fields);
  }
  return text;
}

}  // namespace ligule::results
