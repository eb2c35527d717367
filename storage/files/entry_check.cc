#include "storage/files/entry_check.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

#include "storage/files/alike_names.h"
#include "storage/trial/number.h"

namespace ligule::files {
namespace {

// A whole percent off is told; the last bits of 62.1 + 37.9 are not.
constexpr double kRounding = 1e-9;

// A percent as a plan states it; empty where it states none, or what is none.
std::optional<double> percent_in(const std::string& text) {
  const auto number = parse_number(text);
  if (!number || *number < 0 || *number > 100) return std::nullopt;
  return *number;
}

// A label's 98 percent, written as the share that it is: its packets would weigh a hundred times as
// much.
bool may_be_share(double percent) {
  return percent > 0 && percent <= 1;
}
constexpr const char* kWritePercent =
    "write a share in percent, 98 for 0.98: packets are weighed by it";

CalendarDate year_before(CalendarDate day) {
  const CalendarDate before = day - date::years{1};
  return before.ok() ? before : before.year() / before.month() / date::last;
}

class SeedCheck {
 public:
  SeedCheck(const Plan& plan, const Definitions& definitions, const PlanPlaces& places)
      : plan_(plan), definitions_(definitions), places_(places) {}

  PlanFindings check() {
    for (at_ = 0; at_ < plan_.entries.size(); ++at_) {
      const Species* const species = definitions_.find_species(entry().species);
      percents();
      harvest();
      if (species != nullptr) status(*species);
      if (entry().role == EntryRole::kFiller) continue;
      if (species != nullptr && species->endophyte) {
        identity();
        test();
        age();
      }
      alive_and_pure();
      others();
    }
    return std::move(found_);
  }

 private:
  [[nodiscard]] const PlanEntry& entry() const { return plan_.entries[at_]; }
  [[nodiscard]] bool lives_in_it() const {
    return entry().endophyte == Endophyte::kNovel || entry().endophyte == Endophyte::kToxic;
  }
  [[nodiscard]] std::string place_of(std::size_t i) const {
    return i < places_.entries.size() ? places_.entries[i] : "entry " + plan_.entries[i].code;
  }
  void fault(std::string what, std::string mend) {
    found_.faults.push_back({ErrorKind::kInvalid, std::move(what), place_of(at_), std::move(mend)});
  }
  void notice(std::string what, std::string mend) {
    found_.notices.push_back(
        {ErrorKind::kInvalid, std::move(what), place_of(at_), std::move(mend)});
  }
  [[nodiscard]] std::optional<double> least(std::string_view of) const {
    const Limit* const limit = definitions_.limit_for(of, entry().species);
    return limit == nullptr ? std::nullopt : limit->ask_below;
  }

  void percent(const char* column, const std::string& text);
  void percents();
  void harvest();
  void status(const Species& species);
  void identity();
  void test();
  void age();
  [[nodiscard]] bool freshly_tested() const;
  void alive_and_pure();
  void others();
  void names(const PlanEntry& other);

  const Plan& plan_;
  const Definitions& definitions_;
  const PlanPlaces& places_;
  std::size_t at_ = 0;  // the entry that is looked at
  PlanFindings found_;
};

void SeedCheck::percent(const char* column, const std::string& text) {
  if (!text.empty() && !percent_in(text))
    fault(std::string(column) + " '" + text + "' is no percent", "enter 0 to 100");
}

void SeedCheck::percents() {
  percent("endophyte_percent", entry().endophyte_percent);
  percent("germination", entry().germination);
  percent("hard_seed", entry().hard_seed);
  percent("purity", entry().purity);
  const auto germinated = percent_in(entry().germination);
  const auto hard = percent_in(entry().hard_seed);
  if (germinated && hard && *germinated + *hard > 100 + kRounding)
    fault("germination " + entry().germination + " and hard_seed " + entry().hard_seed +
              " come to more than 100",
          "hard seed is what did not germinate and is alive: mend one of them");
}

void SeedCheck::harvest() {
  const auto& harvested = entry().seed_harvested;
  if (harvested && plan_.sown.ok() && *harvested > plan_.sown)
    fault("its seed was harvested on " + format_date(*harvested) +
              ", after the trial was sown on " + format_date(plan_.sown),
          "mend one of the dates");
}

void SeedCheck::status(const Species& species) {
  const bool tested = !entry().endophyte_percent.empty() || entry().endophyte_tested;
  if (!species.endophyte && entry().endophyte != Endophyte::kNotStated)
    fault(species.name + " has no endophyte status",
          "leave the endophyte empty, or mend the species");
  else if (!entry().strain.empty() && !lives_in_it())
    fault("a strain is stated, but no endophyte it could be",
          "state the endophyte as novel or toxic, or take the strain out");
  else if (!species.endophyte && tested)
    fault(species.name + " has no endophyte that a test could find",
          "leave endophyte_percent and endophyte_tested empty, or mend the species");
}

void SeedCheck::identity() {
  if (entry().endophyte == Endophyte::kNotStated)
    notice("the endophyte status is not stated",
           "the seed may be endophyte-free: state novel, free or toxic");
  else if (entry().endophyte == Endophyte::kNovel && entry().strain.empty())
    notice("a novel endophyte without its strain",
           "variety and strain name it together, and either alone may be endophyte-free seed: "
           "state the strain");
  const auto words = plain_words(entry().variety);
  for (const PlanEntry& named : plan_.entries) {
    const auto strain = plain_words(named.strain);
    // What only numbers a series, as the B of "Alder B", is no name of an endophyte.
    if (only_numbers(strain) || std::ranges::search(words, strain).empty()) continue;
    return notice("'" + named.strain + "' stands in the name of the variety, and is an endophyte",
                  "write the variety under variety and its endophyte under strain");
  }
}

void SeedCheck::test() {
  const auto percent = percent_in(entry().endophyte_percent);
  const auto& tested = entry().endophyte_tested;
  if (percent && !tested)
    notice("what a test of the endophyte found has no date",
           "state endophyte_tested: the endophyte fades in stored seed");
  if (tested && entry().endophyte_percent.empty())
    notice("the endophyte was tested, but what the test found is not stated",
           "state endophyte_percent");
  const std::optional<CalendarDate>& harvested = entry().seed_harvested;
  if (tested && harvested && *tested < *harvested)
    notice("the endophyte was tested on " + format_date(*tested) +
               ", before the seed was harvested on " + format_date(*harvested),
           "mend one of the dates: a test counts for the lot that was sown");
  if (!percent) return;
  if (const auto fewest = least(seed::kEndophyteCarried);
      lives_in_it() && fewest && *percent < *fewest)
    notice("a test found the endophyte in " + entry().endophyte_percent + " percent, less than " +
               format_number(*fewest),
           "what does not carry it is endophyte-free: take other seed, test it again, or mend the "
           "status");
  const Limit* const free = definitions_.limit_for(seed::kEndophyteFree, entry().species);
  if (entry().endophyte == Endophyte::kFree && free != nullptr && free->ask_above &&
      *percent > *free->ask_above)
    notice("it is called free, but a test found the endophyte in " + entry().endophyte_percent +
               " percent, more than " + format_number(*free->ask_above),
           "take other seed, test it again, or mend the status");
}

// Whether a test of the lot in the year before sowing, or later, found the endophyte. What it found
// too little of has been asked about.
bool SeedCheck::freshly_tested() const {
  const auto& tested = entry().endophyte_tested;
  const auto& harvested = entry().seed_harvested;
  return percent_in(entry().endophyte_percent) && tested && *tested >= year_before(plan_.sown) &&
         (!harvested || *tested >= *harvested);
}

void SeedCheck::age() {
  if (entry().endophyte != Endophyte::kNovel || !plan_.sown.ok() || freshly_tested()) return;
  const auto& harvested = entry().seed_harvested;
  if (!harvested)
    notice("when the seed was harvested is not stated, and a novel endophyte fades in stored seed",
           "state seed_harvested, or a test of the year before sowing");
  else if (*harvested < year_before(plan_.sown))
    notice("its seed was harvested on " + format_date(*harvested) +
               ", more than a year before sowing, and a novel endophyte fades in stored seed",
           "have the lot tested, and state endophyte_percent and endophyte_tested");
}

void SeedCheck::alive_and_pure() {
  const auto germinated = percent_in(entry().germination);
  // Hard and dormant seed is alive and counts in pure live seed, though a label states it apart
  // (7 CFR 201.21).
  const auto alive = germinated
                         ? std::optional(*germinated + percent_in(entry().hard_seed).value_or(0))
                         : std::nullopt;
  if (const auto fewest = least(seed::kGermination);
      alive && fewest && *alive < *fewest - kRounding)
    notice("germination with hard seed is " + format_fixed(*alive, 1) + " percent, less than " +
               format_number(*fewest),
           may_be_share(*germinated)
               ? kWritePercent
               : "take other seed, test it again, or fill packets by pure live seed");
  const auto pure = percent_in(entry().purity);
  if (const auto fewest = least(seed::kPurity); pure && fewest && *pure < *fewest)
    notice(
        "purity is " + entry().purity + " percent, less than " + format_number(*fewest),
        may_be_share(*pure) ? kWritePercent : "take other seed, or fill packets by pure live seed");
}

void SeedCheck::others() {
  for (std::size_t i = 0; i < at_; ++i) {
    const PlanEntry& other = plan_.entries[i];
    // One code or one name twice is a fault that is told elsewhere.
    if (other.role == EntryRole::kFiller || other.code == entry().code) continue;
    names(other);
    if (!entry().seed_lot.empty() && entry().seed_lot == other.seed_lot)
      notice("seed lot '" + entry().seed_lot + "' is that of entry " + other.code + " too",
             "one lot is one variety with one endophyte: mend a lot, unless it is meant so");
  }
}

// One variety under two statuses, or with two strains, is meant.
void SeedCheck::names(const PlanEntry& other) {
  Alike how = alike(other.variety, entry().variety);
  if (how == Alike::kSame && other.endophyte == entry().endophyte)
    how = alike(other.strain, entry().strain);
  if (how == Alike::kSpelledApart)
    notice("'" + entry().label() + "' is spelled otherwise than '" + other.label() + "' of entry " +
               other.code,
           "spell what is one variety or strain in one way: results take them for two");
  if (how == Alike::kLetterApart)
    notice("'" + entry().label() + "' is a letter away from '" + other.label() + "' of entry " +
               other.code,
           "mend the name, unless they are two");
}

}  // namespace

PlanFindings check_seed(const Plan& plan, const Definitions& definitions,
                        const PlanPlaces& places) {
  return SeedCheck(plan, definitions, places).check();
}

}  // namespace ligule::files
