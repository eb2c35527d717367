// What the rules may look at beside the value itself. A plain struct: whoever has the ledger fills
// it.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/checks/expected_weight.h"
#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"
#include "storage/trial/limit.h"
#include "storage/trial/quantity.h"
#include "storage/trial/rated_before.h"
#include "storage/trial/record.h"

namespace ligule::checks {

using ligule::kMaturity;
using ligule::kPercentStand;

// A sample bag that has no dried weight yet.
struct BagInUse {
  std::string number;
  PlotId plot;

  bool operator==(const BagInUse&) const = default;
};

// A plot weight as it was entered.
struct EnteredWeight {
  std::string entered;
  std::string unit;
  std::string plot;  // its number

  bool operator==(const EnteredWeight&) const = default;
};

struct History {
  CalendarDate today{};             // on the wall of the tablet
  Stamp now{};                      // by its clock
  std::optional<Stamp> kept_last;   // the newest record of this tablet, by the same clock
  std::vector<BagInUse> open_bags;  // of every trial on this tablet, without the bag entered anew

  // The other weights of the same act, as far as they are known; empty: not weighed (yet).
  std::optional<Kilograms> gross;         // plot with its bag or bin
  std::optional<Kilograms> tare;          // what of it is not forage
  std::optional<Kilograms> sample_fresh;  // sample with its bag
  std::optional<Kilograms> sample_dry;    // the same, dried
  std::string dried_before;  // dried weight of a bag that was done with, as entered; else empty
  std::optional<Kilograms> bag_tare;  // the sample bag empty, weighed or the plan's

  // What is usual of the very measure that is about to be kept; null: nobody says. Lives longer
  // than the call.
  const Limit* usual = nullptr;
  // Of a rating: this plot's percent stand as it was rated last, in another rating of the same
  // season, and its stage as it was told last since the last cutting; empty: there is none, or
  // something was sown there since.
  std::optional<double> stand_before;
  std::optional<double> stage_before;

  // When what stands there was sown; empty: with the trial.
  std::optional<CalendarDate> sown;
  // Inches, the lowest stubble that somebody stood by that day.
  std::optional<double> stubble_answered;

  // Of a plot weight: what stands as weighed there before, in the same part.
  std::optional<EnteredWeight> weighed_here;
  // Since when the plot it is of was abandoned; empty: it was not, or nobody could have weighed it.
  std::optional<CalendarDate> abandoned;
  // What the other plots let one expect of all its bags together, kilograms of forage.
  std::optional<ExpectedWeight> expected;
  // Percent stand as it was rated last; the strip it was cut from; when the trial
  // was cut last before this cutting; what a cutting usually gives there (kCuttingYield).
  std::optional<double> stand;
  std::optional<SquareMetres> strip;
  std::optional<CalendarDate> last_cut;
  const Limit* cutting_yield = nullptr;
  std::optional<Kilograms> other_bags;  // what the plot's other bags hold, tares taken off
  // What was cut there in the year's earlier cuttings, fresh; what a season usually gives.
  std::optional<Kilograms> season_net;
  const Limit* season_yield = nullptr;

  // Of the nine plots that were given this very measure before this one, how many a limit asked
  // about, in this occasion; and the phrase that was given for the whole of it (weather.h).
  int limits_asked = 0;
  std::string weather;

  // What is usual of dry matter here; null: nobody says, or the sample is a part of a sorted one,
  // and dead leaves are dry. Lives longer than the call.
  const Limit* dry_matter = nullptr;
  // The plan asks for the tare of this weight, and none was given or stands.
  bool tare_to_come = false;
  std::optional<double> least_stubble;  // inches, that what grows there bears

  std::optional<EnteredWeight> weighed_before;  // that day's plot weight right before this one
  // What an empty bag of the kind in use weighs, as stated before in this cutting.
  std::optional<Kilograms> standing_tare;

  // Of a subsample sorted by hand, bags taken off: as it was weighed whole; the parts besides the
  // one that is being weighed; whether with that one all parts are stated. Empty: none is sorted.
  std::optional<Kilograms> separated_whole;
  std::optional<Kilograms> separated_parts;
  bool separated_all = false;

  // Of a rating: initials of those who gave the values of this block so far, while the person who
  // is about to give one has given none there.
  std::vector<std::string> raters_before;
  std::string rater;  // initials of that person
  // Initials of another person whose value of this very measure stands there; empty: nobody's does.
  std::string rated_by;

  // What was answered about exactly this value before, or for the whole day; such a rule does not
  // ask again.
  std::vector<Answer> answered;

  bool operator==(const History&) const = default;
};

}  // namespace ligule::checks
