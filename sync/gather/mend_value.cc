#include "sync/gather/mend_value.h"

#include <algorithm>
#include <utility>

#include "storage/checks/rules.h"
#include "storage/checks/season_rules.h"
#include "storage/checks/stubble.h"
#include "storage/trial/composite.h"
#include "storage/trial/composition.h"
#include "storage/trial/details.h"
#include "storage/trial/first_said.h"
#include "storage/trial/reached.h"
#include "storage/trial/said.h"
#include "storage/trial/sample_bag.h"
#include "sync/gather/finding_words.h"
#include "sync/gather/names.h"
#include "sync/gather/plot_season.h"
#include "sync/gather/ratings_before.h"
#include "sync/gather/settle.h"
#include "sync/gather/standing_weights.h"
#include "sync/gather/take_in.h"

namespace ligule::gather {
namespace {

constexpr std::string_view kValueOption = "--value";

Error none_stands() {
  return {ErrorKind::kNotFound, "no value of this id stands", std::string(kValueOption),
          "give an id that the list names: run it without --value"};
}

// What is put right where it was said: several numbers at once, sentences, visits.
bool has_a_pad_of_its_own(const Record& record) {
  return record.measure == measure::kNote || is_composite_text(record.entered) ||
         record.entered == kNotYetCode || record.entered == kReachedCode;
}

bool shares_a_bag(const Record& record) {
  return !detail(record.details, std::string(sample_bag::kSameBag)).empty();
}

class Mend {
 public:
  Mend(const ledger::Ledger& ledger, const Definitions& definitions, const Mending& wish)
      : ledger_(ledger), definitions_(definitions), wish_(wish) {}

  Result<Mended> make(RecordId value, UuidSequence& ids) {
    if (const auto found = find(value); !found) return std::unexpected(found.error());
    const auto about = about_value();
    if (!about) return std::unexpected(about.error());
    auto records = limits_records(ledger_, definitions_, wish_.now, ids);
    if (!records) return std::unexpected(records.error());
    auto person = person_records(ledger_, wish_.person, wish_.now, ids);
    if (!person) return std::unexpected(person.error());
    std::ranges::move(*person, std::back_inserter(*records));
    Record record = restated(ids);
    Mended mended;
    mended.says = *about + ": " + standing_.measure + " ";
    if (wish_.correct) {
      if (const auto read = correct(record, mended); !read) return std::unexpected(read.error());
      mended.says += record.entered + (record.unit.empty() ? "" : " " + record.unit);
    } else {
      if (const auto can = withhold(record); !can) return std::unexpected(can.error());
      mended.says += "missing";
    }
    mended.id = record.id;
    mended.records = *std::move(records);
    mended.records.push_back(std::move(record));
    return mended;
  }

 private:
  Result<void> find(RecordId value) {
    const auto found = ledger_.find(value);
    if (!found) return std::unexpected(found.error());
    const std::optional<Record>& record = *found;
    if (!record || !record->is_claim() || !record->trial) return std::unexpected(none_stands());
    auto plan = ledger_.plan(*record->trial);
    if (!plan) return std::unexpected(plan.error());
    plan_ = std::move(plan->plan);
    const auto claims = ledger_.claims(*record->trial, record->occasion);
    if (!claims) return std::unexpected(claims.error());
    const auto at = std::ranges::find_if(
        *claims, [&](const ledger::Claim& claim) { return claim.record.id == value; });
    if (at == claims->end()) return std::unexpected(none_stands());
    if (at->record.purpose != Purpose::kSurvey)
      return fail(ErrorKind::kRefused, "a second look is compared, never put right",
                  std::string(kValueOption), "put the first value right");
    if (at->others > 0)
      return fail(ErrorKind::kConflict, "another value stands against it",
                  std::string(kValueOption),
                  "settle first which of them stands, then put that right by the id it gets");
    standing_ = at->record;
    occasion_ = plan_.find_occasion(standing_.occasion.value_or(OccasionId{}));
    return {};
  }

  // Finds its plot too.
  Result<std::string> about_value() {
    const Uuid subject = standing_.subject.value_or(Uuid{});
    plot_ = plan_.find_plot(PlotId{subject});
    if (plot_ == nullptr) {
      const auto found = ledger_.find(RecordId{subject});
      if (!found) return std::unexpected(found.error());
      bag_ = *found;
      if (bag_) plot_ = plan_.find_plot(PlotId{bag_->subject.value_or(Uuid{})});
    }
    const auto names = Names::read(ledger_);
    if (!names) return std::unexpected(names.error());
    return names->about(plan_, subject);
  }

  Record restated(UuidSequence& ids) const {
    Record record = standing_;
    record.id = RecordId{ids.next(wish_.now.utc)};
    record.kind = kind::kCorrection;
    record.format = Record{}.format;
    record.stream = StreamId{};
    record.seq = 0;
    record.at = wish_.now;
    record.person = person_id(wish_.person);
    record.targets = {standing_.id};
    record.reason = wish_.reason;
    record.answers.clear();
    // At a desk the entry's name may be in sight.
    record.blind = false;
    record.source = Source::kTyped;
    record.raw.clear();
    record.details = said::still_said(standing_.details);
    return record;
  }

  Result<void> withhold(Record& record) const {
    if (numbers_a_bag(standing_.measure))
      return fail(ErrorKind::kRefused, "the values of a bag hang on its number", "--missing",
                  "correct it, or take it back in Review");
    if (standing_.state == ValueState::kMissing)
      return fail(ErrorKind::kRefused, "it is missing already", "--missing",
                  "leave it as it is, or give the value with --correct");
    record.state = ValueState::kMissing;
    record.entered.clear();
    record.unit.clear();
    record.value.reset();
    return {};
  }

  Result<Scale> scale() const {
    if (!standing_.definition.empty()) {
      auto held = ledger_.definition(standing_.definition);
      if (!held) return std::unexpected(held.error());
      std::optional<Scale>& scale = *held;
      if (scale) return *std::move(scale);
    }
    const Scale* known = plan_.find_score(standing_.measure);
    const PlanEntry* const entry = plot_ == nullptr ? nullptr : plan_.find_entry(plot_->entry);
    if (known == nullptr && entry != nullptr)
      known = definitions_.scale_for(standing_.measure, entry->species);
    if (known != nullptr) return *known;
    return fail(ErrorKind::kRefused, "nobody knows the scale that it was given on",
                std::string(kValueOption), "put it right on the tablet that gave it");
  }

  // The number, and its unit: the value's own, unless another is written behind it.
  Result<std::pair<std::string, std::string>> entered(const Scale& scale) const {
    const std::string text = wish_.correct.value_or("");
    const std::size_t blank = text.rfind(' ');
    if (blank != std::string::npos) {
      const std::string unit = text.substr(blank + 1);
      if (std::ranges::find(scale.units, unit) != scale.units.end())
        return std::pair(text.substr(0, blank), unit);
    }
    if (standing_.unit.empty() && scale.units.size() > 1)
      return fail(ErrorKind::kInvalid, "what stands there has no unit", "--correct",
                  "write the unit behind the number, as '20.5 " + scale.units.front() + "'");
    return std::pair(text, standing_.unit);
  }

  Result<void> correct(Record& record, Mended& mended) const {
    if (has_a_pad_of_its_own(standing_))
      return fail(ErrorKind::kRefused, "words, visits and several numbers at once are entered anew",
                  "--correct", "put it right on a tablet, in Review, or say --missing");
    if (shares_a_bag(standing_))
      return fail(ErrorKind::kRefused, "this number names a bag of several plots", "--correct",
                  "put it right on a tablet, in Review");
    if (sample_bag::still_dries(standing_))
      return fail(ErrorKind::kRefused, "this sample was still losing water", "--correct",
                  "weigh it again under Dry weights, on the tablet");
    const auto scale = this->scale();
    if (!scale) return std::unexpected(scale.error());
    const auto said = entered(*scale);
    if (!said) return std::unexpected(said.error());
    const auto history = this->history();
    if (!history) return std::unexpected(history.error());
    const checks::Verdict verdict = checks::judge(
        {standing_.measure, &*scale, said->first, said->second, std::nullopt}, plan_, *history);
    const std::string what =
        mended.says + said->first + (said->second.empty() ? "" : " " + said->second) + " ";
    if (verdict.outcome == checks::Outcome::kRefuse) {
      const checks::Finding& finding = verdict.findings.front();
      const bool read = finding.rule->code != "unreadable" && finding.rule->code != "between_steps";
      return fail(ErrorKind::kInvalid,
                  read ? what + words_of(finding)
                       : "'" + said->first + "' is no value of " + standing_.measure,
                  "--correct", "give it as its scale has it");
    }
    record.state = ValueState::kValue;
    record.entered = verdict.value.entered;
    record.unit = verdict.value.unit;
    record.value = verdict.value.value;
    if (standing_.entered == record.entered && standing_.unit == record.unit &&
        standing_.state != ValueState::kMissing)
      return fail(ErrorKind::kRefused, "it says that already", "--correct",
                  "leave --correct out to settle that it is right");
    record.answers = verdict.answered;
    for (const checks::Finding& finding : verdict.findings) {
      record.state = ValueState::kOnHold;
      record.answers.push_back({std::string(finding.rule->code), std::string(kNotAsked)});
      mended.questions.push_back({ErrorKind::kRefused, what + words_of(finding), "--correct",
                                  "it is right? settle it by the id it gets"});
    }
    return {};
  }

  Result<checks::History> history() const {
    checks::History history;
    history.today = wish_.now.local_date;
    const PlanEntry* const entry = plot_ == nullptr ? nullptr : plan_.find_entry(plot_->entry);
    if (entry == nullptr || occasion_ == nullptr) return history;
    history.usual = definitions_.limit_for(standing_.measure, entry->species);
    if (standing_.measure == checks::kStubbleHeight)
      history.least_stubble = checks::least_inches(history.usual);
    const auto held = StandingWeights::read(ledger_, plan_, *occasion_);
    if (!held) return std::unexpected(held.error());
    history.weather = held->weather();
    if (const auto added = add_weights(*held, history); !added)
      return std::unexpected(added.error());
    if (occasion_->job == Job::kRate)
      if (const auto added = add_ratings(entry->species, history); !added)
        return std::unexpected(added.error());
    const bool tare = standing_.measure == measure::kTareWeight;
    if ((!tare && standing_.measure != measure::kGrossWeight) || occasion_->job != Job::kHarvest)
      return history;
    // What was answered about its tare holds for the weight put right too.
    const auto bin = std::ranges::find(standing_.answers, said::kTareMissing, &Answer::rule);
    if (bin != standing_.answers.end() && !history.tare) {
      history.answered.push_back(*bin);
      history.tare_to_come = true;
    }
    const auto season = PlotSeason::read(ledger_, plan_, *occasion_);
    if (!season) return std::unexpected(season.error());
    season->add(*plot_, standing_.at.local_date, definitions_, history);
    history.expected =
        season->among_others(standing_.at.local_date, held->forage()).expected(plot_->number);
    if (tare)
      for (const Record& weight :
           held->of(plan_.plot(*plot_).uuid, measure::kGrossWeight, standing_.part))
        checks::without_what_was_asked(weight.answers, history);
    // It was weighed already, on a day that was asked about then.
    history.last_cut.reset();
    return history;
  }

  // What the plot was rated before; what was right then is judged as of then.
  Result<void> add_ratings(const std::string& species, checks::History& history) const {
    const auto given = first_given(standing_, [&](RecordId id) { return ledger_.find(id); });
    if (!given) return std::unexpected(given.error());
    const auto before = RatingsBefore::read(ledger_, plan_, *occasion_, given->local_date);
    if (!before) return std::unexpected(before.error());
    before->add(*plot_, species, definitions_, history);
    return {};
  }

  // The plot's other weights, and bags in use elsewhere.
  Result<void> add_weights(const StandingWeights& held, checks::History& history) const {
    const Uuid plot = plan_.plot(*plot_).uuid;
    const int part = bag_ ? 1 : standing_.part;
    history.gross = held.mass(plot, measure::kGrossWeight, part);
    history.tare = held.mass(plot, measure::kTareWeight, part);
    for (const int other : held.parts(plot, measure::kGrossWeight)) {
      const auto gross = held.mass(plot, measure::kGrossWeight, other);
      if (other == part || !gross) continue;
      history.other_bags = history.other_bags.value_or(Kilograms{}) + *gross -
                           held.mass(plot, measure::kTareWeight, other).value_or(Kilograms{});
    }
    std::optional<Uuid> bag;
    if (bag_) bag = standing_.subject;
    const std::vector<Record>& numbers = held.of(plot, measure::kBagNumber, 1);
    if (!bag_ && numbers.size() == 1) {
      const auto named = held.bag_of(numbers.front());
      if (!named) return std::unexpected(named.error());
      bag = named->uuid;
    }
    if (bag) {
      history.sample_fresh = held.mass(*bag, measure::kSampleFresh, 1);
      history.sample_dry = held.mass(*bag, measure::kSampleDry, 1);
      history.bag_tare = held.mass(*bag, measure::kBagTare, 1);
    }
    if (!history.bag_tare)
      if (const auto tare = plan_.bag_tare.kilograms()) history.bag_tare = *tare;
    // Dead leaves of a sorted sample are dry.
    if (!bag_ || bag_->measure != measure::kPartBag)
      history.dry_matter =
          definitions_.limit_for(kDryMatterPercent, plan_.find_entry(plot_->entry)->species);
    for (const Record& open : held.open_bags())
      if (open.id != standing_.id)
        history.open_bags.push_back({open.entered, PlotId{open.subject.value_or(Uuid{})}});
    return {};
  }

  const ledger::Ledger& ledger_;
  const Definitions& definitions_;
  const Mending& wish_;
  Plan plan_;
  Record standing_;
  const PlanOccasion* occasion_ = nullptr;
  const PlanPlot* plot_ = nullptr;
  std::optional<Record> bag_;  // the reading that numbered the bag, of a bag's value
};

}  // namespace

Result<Mended> mend_value(const ledger::Ledger& ledger, const Definitions& definitions,
                          RecordId value, const Mending& wish, UuidSequence& ids) {
  return Mend(ledger, definitions, wish).make(value, ids);
}

}  // namespace ligule::gather
