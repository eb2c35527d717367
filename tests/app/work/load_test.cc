#include "app/work/load.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/definitions.h"
#include "storage/trial/details.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

class Load : public testing::Test {
 protected:
  const flow::OccasionProgress& progress(const flow::Today& today, OccasionId occasion) {
    return *std::ranges::find(today.progress, occasion, &flow::OccasionProgress::occasion);
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Definitions definitions_ = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  Folder folder_{true};
  ledger::Ledger ledger_ = started(folder_.file("a.ledger"), 1, "tablet 3");
  TrialsProgress known_;
};

Record person(std::uint64_t n, const char* initials) {
  Record record;
  record.id = {id(n)};
  record.kind = kind::kPerson;
  record.at = at(0);
  record.subject = person_id(initials).uuid;
  record.entered = initials;
  return record;
}

TEST_F(Load, StartTellsPlansPeopleScalesAndWhoseLedgerItIs) {
  need(ledger_.append(
      {plan_record(9, plan()), person(10, "CD"), person(11, "AB"), person(12, "CD")}));
  const flow::Started started = need(load_start(ledger_, definitions_));
  EXPECT_EQ(started.setup.device, "tablet 3");
  EXPECT_FALSE(started.setup.demo);
  ASSERT_EQ(started.trials.size(), 1U);
  EXPECT_EQ(started.trials[0].plan, plan());
  EXPECT_EQ(started.trials[0].digest, sha256(plan_text(plan())).hex());
  ASSERT_EQ(started.people.size(), 2U);
  EXPECT_EQ(started.people[0].initials, "CD");
  EXPECT_EQ(started.people[1].id, person_id("AB"));
  EXPECT_EQ(started.setup.definition_digests.size(), definitions_.scales.size());
  const Scale* scale = definitions_.scale("percent_stand");
  ASSERT_NE(scale, nullptr);
  EXPECT_EQ(started.setup.definition_digests.at("percent_stand"), sha256(scale_text(*scale)).hex());
}

TEST_F(Load, TodayCountsWhatIsDoneAndWhatIsNotSealed) {
  need(ledger_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80"),
                       reading(11, "101", "seedling_vigor", "4"),
                       reading(12, "102", "percent_stand", "70")}));
  const CalendarDate day = at(0).local_date;
  flow::Today today = need(load_today(ledger_, definitions_, day, known_));
  ASSERT_EQ(today.progress.size(), 2U);
  EXPECT_EQ(progress(today, rating()).total, 4);
  EXPECT_EQ(progress(today, rating()).done, 1);
  EXPECT_EQ(progress(today, rating()).values_today, 3);
  EXPECT_EQ(progress(today, cutting()).done, 0);
  EXPECT_EQ(today.unsealed, 5);
  EXPECT_FALSE(today.last_seal);
  EXPECT_FALSE(today.last_copy);
  need(ledger_.note_seal({{id(1)}, 1, 3, at(100).utc, "a.zip", sha256("a")}));
  need(ledger_.note_copy({"a.zip", "/media/stick", at(200).utc}));
  today = need(load_today(ledger_, definitions_, day, known_));
  EXPECT_EQ(today.unsealed, 2);
  EXPECT_EQ(today.last_seal, (flow::SealNote{"a.zip", at(100).utc, 3}));
  EXPECT_EQ(today.last_copy, (flow::CopyNote{"/media/stick", "a.zip", at(200).utc}));
}

TEST_F(Load, TodayKnowsWhatWasClosed) {
  Record closing;
  closing.id = {id(13)};
  closing.kind = kind::kClosed;
  closing.at = at(60);
  closing.person = person_id("AB");
  closing.trial = plan().id();
  closing.plan = sha256(plan_text(plan())).hex();
  closing.occasion = rating();
  closing.reason = "left_open";
  need(
      ledger_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80"), closing}));
  const flow::Today today = need(load_today(ledger_, definitions_, at(0).local_date, known_));
  EXPECT_TRUE(progress(today, rating()).closed);
  EXPECT_FALSE(progress(today, cutting()).closed);
}

TEST_F(Load, AClaimKnowsWhatItReplacedAndTheReadingItBeganWith) {
  const Record first = reading(10, "101", "percent_stand", "80");
  const Record second = correction(11, first, "85");
  need(ledger_.append({plan_record(9, plan()), first, second, correction(12, second, "90"),
                       reading(13, "102", "percent_stand", "70")}));
  const auto loaded = need(load_occasion(ledger_, trial(), rating()));
  ASSERT_EQ(loaded.claims.size(), 2U);
  for (const flow::KnownClaim& claim : loaded.claims) {
    if (claim.record.subject == plot("101").uuid) {
      EXPECT_EQ(claim.record.entered, "90");
      EXPECT_EQ(claim.first, first.id);
      ASSERT_TRUE(claim.before);
      EXPECT_EQ(claim.before->id, second.id);
    } else {
      EXPECT_EQ(claim.first, claim.record.id);
      EXPECT_FALSE(claim.before);
    }
  }
}

TEST_F(Load, ACorrectionWhoseTargetIsNotHereNamesItAsTheFirst) {
  const Record first = reading(10, "101", "percent_stand", "80");
  need(ledger_.append({plan_record(9, plan()), correction(11, first, "85")}));
  const auto loaded = need(load_occasion(ledger_, trial(), rating()));
  ASSERT_EQ(loaded.claims.size(), 1U);
  EXPECT_EQ(loaded.claims[0].first, first.id);
  EXPECT_FALSE(loaded.claims[0].before);
}

// What a scale weighed in other cuttings, for a check weight that is off here.
class LoadElsewhere : public Load {
 protected:
  LoadElsewhere() {
    Plan more = plan();
    for (int n = 2; n <= 3; ++n) {
      PlanOccasion next = more.occasions.front();
      next.code = "cut-" + std::to_string(n);
      next.cutting = n;
      more.occasions.push_back(next);
      others_.push_back(more.occasion(next));
    }
    need(ledger_.append({plan_record(9, more)}));
  }
  static Stamp days_ago(int days) {
    return stamp_at(at(0).utc - std::chrono::hours{24} * days, at(0).offset);
  }
  Record run(std::uint64_t n, OccasionId occasion, int days) {
    Record run;
    run.id = {id(n)};
    run.kind = kind::kHarvestRun;
    run.at = days_ago(days);
    run.trial = trial();
    run.occasion = occasion;
    run.details = details_text({{"machine", "mower 1"}, {"scale", "usb-one"}});
    return run;
  }
  Record check(std::uint64_t n, const std::string& reading, int days) {
    Record check = run(n, cutting(), days);
    check.run = RecordId{id(50)};
    check.kind = kind::kCheckWeight;
    check.entered = reading;
    check.unit = "kg";
    check.value = 20;
    check.details = details_text({{"allowance", "0.05"}, {"mass", "20"}, {"port", "usb-one"}});
    return check;
  }
  Record weight(std::uint64_t n, const Record& run, std::string_view plot) {
    Record weight = reading(n, plot, measure::kGrossWeight, "31.50");
    weight.at = run.at;
    weight.occasion = run.occasion;
    weight.run = run.id;
    weight.unit = "kg";
    weight.source = Source::kScale;
    weight.raw = "S G + 31.50 kg";
    return weight;
  }
  std::vector<OccasionId> brought() {
    std::vector<OccasionId> occasions;
    for (const auto& cutting : need(load_occasion(ledger_, trial(), cutting())).elsewhere)
      occasions.push_back(cutting.occasion);
    return occasions;
  }

  std::vector<OccasionId> others_;
};

TEST_F(LoadElsewhere, WeightsOfScalesComeWithTheirRunsAndWhenTheyHung) {
  const Record today = run(20, others_[0], 0);
  const Record one = weight(21, today, "101");
  Record held = correction(22, one, "31.50");
  held.state = ValueState::kOnHold;
  held.reason = "check_weight_off";
  held.at = at(500);
  Record typed = weight(23, today, "102");
  typed.source = Source::kTyped;
  typed.raw.clear();
  need(ledger_.append({today, one, held, typed}));
  const auto loaded = need(load_occasion(ledger_, trial(), cutting()));
  ASSERT_EQ(loaded.elsewhere.size(), 1U);
  const flow::CuttingWeighed& other = loaded.elsewhere[0];
  EXPECT_EQ(other.trial, trial());
  EXPECT_EQ(other.occasion, others_[0]);
  ASSERT_EQ(other.runs.size(), 1U);
  EXPECT_EQ(other.runs[0].id, today.id);
  ASSERT_EQ(other.claims.size(), 1U) << "what was typed is no scale's";
  EXPECT_EQ(other.claims[0].record.id, held.id);
  ASSERT_TRUE(other.claims[0].weighed);
  EXPECT_EQ(*other.claims[0].weighed, one.at);
  EXPECT_TRUE(need(load_occasion(ledger_, trial(), rating())).elsewhere.empty());
}

TEST_F(LoadElsewhere, ChecksOfEveryCuttingCome) {
  Record there = check(20, "20.00", 1);
  there.occasion = others_[0];
  need(ledger_.append({there, check(21, "20.00", 0)}));
  EXPECT_EQ(need(load_occasion(ledger_, trial(), cutting())).checks.size(), 2U);
}

TEST_F(LoadElsewhere, WhatLiesBeforeTheLastGoodCheckIsLeftWhereItIs) {
  need(ledger_.append({run(20, others_[0], 40), run(21, others_[1], 10)}));
  EXPECT_EQ(brought(), others_) << "no check was ever good";
  need(ledger_.append({check(22, "20.00", 30)}));
  EXPECT_EQ(brought(), std::vector{others_[1]});
  need(ledger_.append({check(23, "23.00", 5)}));
  EXPECT_EQ(brought(), std::vector{others_[1]});
  // Nobody may have answered for what it put in doubt.
  need(ledger_.append({check(24, "20.00", 0)}));
  EXPECT_EQ(brought(), std::vector{others_[1]});
}

TEST_F(LoadElsewhere, AYearAgoIsTooLongAgo) {
  need(ledger_.append({run(20, others_[0], 400), run(21, others_[1], 300), run(22, cutting(), 0)}));
  EXPECT_EQ(brought(), std::vector{others_[1]});
}

TEST_F(Load, AnOccasionBringsItsRunsAndWhoSawTheNames) {
  Record run;
  run.id = {id(20)};
  run.kind = kind::kHarvestRun;
  run.at = at(20);
  run.trial = trial();
  run.occasion = cutting();
  Record elsewhere = run;
  elsewhere.id = {id(21)};
  elsewhere.occasion = rating();
  Record shown;
  shown.id = {id(22)};
  shown.kind = kind::kEvent;
  shown.at = at(22);
  shown.person = person_id("AB");
  shown.trial = trial();
  shown.entered = "names_shown";
  shown.details = details_text({{"occasion", cutting().text()}, {"on", "2026-05-04"}});
  Record repeat = reading(23, "101", "gross_weight", "9");
  repeat.purpose = Purpose::kRepeat;
  repeat.occasion = cutting();
  Record older = reading(25, "101", "percent_stand", "95");
  older.at = at(1);
  const Record stand = reading(26, "101", "percent_stand", "80");
  Record check = run;
  check.id = {id(24)};
  check.kind = kind::kCheckWeight;
  check.run = run.id;
  check.entered = "20.02";
  check.unit = "kg";
  check.value = 20.02;
  check.details = details_text({{"allowance", "0.05"}, {"mass", "20"}});
  need(
      ledger_.append({plan_record(9, plan()), run, elsewhere, shown, repeat, check, stand, older}));
  const auto loaded = need(load_occasion(ledger_, trial(), cutting()));
  EXPECT_TRUE(loaded.claims.empty()) << "a second look is no value of the plot";
  ASSERT_EQ(loaded.again.size(), 1U);
  EXPECT_EQ(loaded.again[0].record.id, repeat.id);
  ASSERT_EQ(loaded.runs.size(), 1U);
  EXPECT_EQ(loaded.runs[0].id, run.id);
  ASSERT_EQ(loaded.checks.size(), 1U);
  EXPECT_EQ(loaded.checks[0].id, check.id);
  ASSERT_EQ(loaded.before.size(), 1U);
  EXPECT_EQ(loaded.before.at("101").stand, (RatedBefore::Value{80, stand.at.local_date}))
      << "the last one";
  EXPECT_FALSE(loaded.before.at("101").stage);
  EXPECT_EQ(loaded.last_cut, elsewhere.at.local_date) << "in another occasion of the trial";
  EXPECT_TRUE(need(load_occasion(ledger_, trial(), rating())).before.empty())
      << "what is rated there itself is not before it";
  EXPECT_EQ(loaded.names_shown_to, std::vector{person_id("AB")});
  EXPECT_TRUE(loaded.claims.empty()) << "a repeat is no business of the screens";
  EXPECT_TRUE(need(load_occasion(ledger_, trial(), rating())).checks.empty());
  EXPECT_TRUE(need(load_occasion(ledger_, trial(), rating())).names_shown_to.empty());
  const std::vector to{std::pair{person_id("AB"), cutting()}};
  EXPECT_EQ(need(load_start(ledger_, definitions_)).names_shown, to);
  EXPECT_EQ(need(load_trial(ledger_, trial())).names_shown, to);
}

TEST_F(Load, ATrialBringsItsEventsWithWhatWasTakenBack) {
  const Record mowing = event(20, "mowing");
  Record shown = event(21, "names_shown");
  shown.person = person_id("AB");
  shown.details = details_text({{"occasion", cutting().text()}, {"on", "2026-05-04"}});
  need(ledger_.append({plan_record(9, plan()), mowing, shown, event(22, "spray"),
                       event_back(23, mowing), event_back(24, shown)}));
  const auto loaded = need(load_trial(ledger_, trial()));
  ASSERT_EQ(loaded.events.size(), 2U);
  EXPECT_EQ(loaded.events[0].record.entered, "spray");
  EXPECT_FALSE(loaded.events[0].taken_back);
  ASSERT_TRUE(loaded.events[1].taken_back);
  EXPECT_EQ(loaded.events[1].taken_back->reason, "mistap");
  EXPECT_EQ(loaded.names_shown.size(), 1U) << "who saw the names has seen them";
}

TEST_F(Load, TodayKnowsTheSpraysThatSaySomethingOfEntry) {
  Record until = event(20, "spray");
  until.details = details_text({{"block", "2"},
                                {"material", "a herbicide"},
                                {"no_entry", "until"},
                                {"no_entry_until", "2026-05-06 14:00"},
                                {"on", "2026-05-04"}});
  Record taken_back = event(21, "spray");
  taken_back.details = details_text({{"no_entry", "not_known"}, {"on", "2026-05-04"}});
  Record none = event(22, "spray");
  none.details = details_text({{"no_entry", "none"}, {"on", "2026-05-04"}});
  need(ledger_.append({plan_record(9, plan()), until, taken_back, none, event(23, "spray"),
                       event_back(24, taken_back)}));
  const flow::Today today = need(load_today(ledger_, definitions_, at(0).local_date, known_));
  ASSERT_EQ(today.sprays.size(), 1U);
  EXPECT_EQ(today.sprays[0].event, until.id);
  EXPECT_EQ(today.sprays[0].trial, trial());
  EXPECT_EQ(today.sprays[0].on, "2026-05-04");
  EXPECT_EQ(today.sprays[0].block, "2");
  EXPECT_EQ(today.sprays[0].material, "a herbicide");
  EXPECT_EQ(until_text(today.sprays[0].no_entry, {}), "2026-05-06 14:00");
}

TEST_F(Load, ABagIsKnownByItsFirstReadingWithItsWeights) {
  Record bag = reading(10, "102", measure::kBagNumber, "12");
  bag.occasion = cutting();
  bag.value.reset();
  Record fresh = reading(11, "102", measure::kSampleFresh, "512");
  fresh.occasion = cutting();
  fresh.subject = bag.id.uuid;
  fresh.unit = "g";
  Record held = fresh;
  held.id = {id(12)};
  held.measure = measure::kSampleDry;
  held.state = ValueState::kOnHold;
  Record renumbered = correction(14, bag, "21");
  renumbered.at.local_date = CalendarDate(date::sys_days(bag.at.local_date) + date::days(2));
  need(ledger_.append({plan_record(9, plan()), bag, renumbered, fresh, held}));
  const auto bags = need(load_bags(ledger_, std::nullopt));
  ASSERT_EQ(bags.size(), 1U);
  EXPECT_EQ(bags[0].bag, bag.id);
  EXPECT_EQ(bags[0].number, "21");
  EXPECT_EQ(bags[0].filled, bag.at.local_date) << "not the day its number was put right";
  EXPECT_EQ(bags[0].plot, "102");
  EXPECT_EQ(bags[0].trial, trial());
  EXPECT_EQ(bags[0].occasion, cutting());
  ASSERT_TRUE(bags[0].fresh);
  EXPECT_EQ(bags[0].fresh->record.entered, "512");
  ASSERT_TRUE(bags[0].dried);
  EXPECT_EQ(bags[0].dried->record.state, ValueState::kOnHold);
  EXPECT_FALSE(bags[0].bag_tare);
}

TEST_F(Load, BagsThatWereDoneComeWhereTheyAreAskedFor) {
  const auto bag = [&](std::uint64_t number, const std::string& plot) {
    Record record = reading(number, plot, measure::kBagNumber, "12");
    record.occasion = cutting();
    record.value.reset();
    return record;
  };
  const auto dried = [&](std::uint64_t number, const Record& of, ValueState state) {
    Record record = reading(number, "101", measure::kSampleDry, "120");
    record.occasion = cutting();
    record.subject = of.id.uuid;
    record.unit = "g";
    record.state = state;
    if (state == ValueState::kMissing) {
      record.entered.clear();
      record.value.reset();
      record.reason = "bag_burst";
    }
    return record;
  };
  const Record done = bag(10, "101");
  const Record burst = bag(11, "102");
  Record shared = bag(12, "201");
  shared.details = details_text({{"same_bag", done.id.text()}});
  need(ledger_.append({plan_record(9, plan()), done, burst, shared,
                       dried(13, done, ValueState::kValue),
                       dried(14, burst, ValueState::kMissing)}));
  EXPECT_TRUE(need(load_bags(ledger_, std::nullopt)).empty());
  const CalendarDate filled = done.at.local_date;
  const auto bags = need(load_bags(ledger_, filled));
  ASSERT_EQ(bags.size(), 2U) << "a plot in another plot's bag has none of its own";
  for (const flow::OpenBag& each : bags) {
    ASSERT_TRUE(each.dried);
    const bool first = each.bag == done.id;
    EXPECT_EQ(each.plot, first ? "101" : "102");
    EXPECT_EQ(each.dried->record.state, first ? ValueState::kValue : ValueState::kMissing);
    EXPECT_EQ(each.also, first ? std::vector<std::string>{"201"} : std::vector<std::string>{});
  }
  EXPECT_TRUE(need(load_bags(ledger_, date::sys_days(filled) + date::days(1))).empty());
}

TEST_F(Load, TheBagOfAPartSaysWhichPartAndItsWeightsAreInThePlotsHistory) {
  const auto number = [&](std::uint64_t at, int part, const std::string& entered) {
    Record record = reading(at, "101", measure::kPartBag, entered);
    record.occasion = cutting();
    record.part = part;
    record.value.reset();
    if (entered.empty()) record.state = ValueState::kZero;
    return record;
  };
  const Record sown = number(10, 1, "31");
  const Record none = number(11, 2, "");
  const Record dead = number(12, 5, "32");
  Record fresh = reading(13, "101", measure::kSampleFresh, "84");
  fresh.occasion = cutting();
  fresh.subject = dead.id.uuid;
  fresh.unit = "g";
  need(ledger_.append({plan_record(9, plan()), sown, none, dead, fresh}));
  const auto bags = need(load_bags(ledger_, std::nullopt));
  ASSERT_EQ(bags.size(), 2U) << "there is no bag of a part there was nothing of";
  EXPECT_EQ(bags[0].part, 1);
  EXPECT_EQ(bags[1].part, 5);
  EXPECT_EQ(bags[1].plot, "101");
  ASSERT_TRUE(bags[1].fresh);
  EXPECT_FALSE(bags[0].fresh);
  const auto records = need(load_history(ledger_, trial(), "101"));
  EXPECT_EQ(records.front().id, fresh.id);
  EXPECT_EQ(records.size(), 4U);
}

// The plot that numbered a common bag gave it up: the others are still in it.
TEST_F(Load, ACommonBagStaysWhenItsFirstPlotIsTakenOut) {
  const auto bag = [&](std::uint64_t number, const std::string& plot) {
    Record record = reading(number, plot, measure::kBagNumber, "12");
    record.occasion = cutting();
    record.value.reset();
    return record;
  };
  const Record first = bag(10, "101");
  Record second = bag(11, "102");
  Record third = bag(12, "201");
  for (Record* member : {&second, &third})
    member->details = details_text({{"same_bag", first.id.text()}});
  Record gone = first;
  gone.id = RecordId{id(13)};
  gone.kind = kind::kWithdrawal;
  gone.targets = {first.id};
  gone.state.reset();
  gone.entered.clear();
  gone.details.clear();
  need(ledger_.append({plan_record(9, plan()), first, second, third, gone}));
  const auto bags = need(load_bags(ledger_, std::nullopt));
  ASSERT_EQ(bags.size(), 1U);
  EXPECT_EQ(bags.front().bag, first.id);
  EXPECT_EQ(bags.front().plot, "102");
  EXPECT_EQ(bags.front().also, std::vector<std::string>{"201"});
}

TEST_F(Load, APlotsHistoryHoldsItsBagsAndEverythingReplacedNewestFirst) {
  const Record first = reading(10, "101", "percent_stand", "80");
  Record bag = reading(11, "101", measure::kBagNumber, "12");
  bag.occasion = cutting();
  bag.value.reset();
  Record dry = reading(12, "101", measure::kSampleDry, "200");
  dry.occasion = cutting();
  dry.subject = bag.id.uuid;
  dry.unit = "g";
  need(ledger_.append({plan_record(9, plan()), first, bag, dry,
                       reading(13, "102", "percent_stand", "70"), correction(14, first, "85")}));
  const auto records = need(load_history(ledger_, trial(), "101"));
  std::vector<RecordId> ids;
  ids.reserve(records.size());
  for (const Record& record : records) ids.push_back(record.id);
  EXPECT_THAT(ids, testing::ElementsAre(RecordId{id(14)}, dry.id, bag.id, first.id));
  EXPECT_TRUE(need(load_history(ledger_, trial(), "103")).empty());
  EXPECT_EQ(error_line(load_history(ledger_, TrialId{}, "101")).substr(0, 10), "not found:");
}

TEST_F(Load, ABrokenLedgerIsAnErrorOfEachLoad) {
  need(ledger_.append(
      {plan_record(9, plan()), person(10, "AB"), reading(11, "101", "percent_stand", "80")}));
  const std::string path = folder_.file("a.ledger");
  ASSERT_EQ(raw_sql(path, "DROP TRIGGER record_no_update; UPDATE record SET body='x'"), "");
  EXPECT_EQ(error_line(load_start(ledger_, definitions_)).substr(0, 8), "damaged:");
  EXPECT_EQ(error_line(load_today(ledger_, definitions_, at(0).local_date, known_)).substr(0, 8),
            "damaged:");
  EXPECT_EQ(error_line(load_occasion(ledger_, trial(), rating())).substr(0, 8), "damaged:");
  EXPECT_EQ(error_line(load_history(ledger_, trial(), "101")).substr(0, 8), "damaged:");
}

}  // namespace
}  // namespace ligule::work
