// Weights from a file held against the plot's season: what a cutting gives, what the year's
// cuttings gave, the last stand, the last cutting.
#include "storage/checks/history.h"
#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

// Tall fescue: a cutting gives 0.1 to 4 ton/acre, by assets/limits.json. Strip 18 ft x 3 ft: 1 lb
// is 0.4033 ton/acre fresh; dry matter is 10 to 50 percent.
class TakeInSeason : public TakeInCommand {
 protected:
  static Plan plan_with_two_cuttings() {
    Plan plan = two_block_plan({"ridge", "north", "TF27"});
    plan.occasions.push_back(
        {"2026-cut-2", Job::kHarvest, 2026, 2, {"gross_weight"}, std::nullopt});
    return plan;
  }
  TakeInSeason() { enrol(plan_, {}); }
  Ran weights(const std::string& csv, const std::map<std::string, std::string>& given = {},
              const std::vector<std::string>& more = {}) {
    std::map<std::string, std::string> options{{"--trial", "TF27"}};
    for (const auto& [name, value] : given) options[name] = value;
    return take_in(csv, options, more);
  }
  std::vector<ledger::Claim> claims_of_season() { return opened().claims(plan_.id()).value(); }
  ValueState state_of(const std::string& plot, int part = 1) {
    for (const ledger::Claim& claim : claims_of_season())
      if (claim.record.subject == plan_.plot(*plan_.find_plot(plot)).uuid &&
          claim.record.part == part && claim.record.measure == measure::kGrossWeight)
        return claim.record.state.value_or(ValueState::kLater);
    ADD_FAILURE() << plot;
    return ValueState::kLater;
  }
  // Puts a record beside those of the desk; they keep together what is common to all.
  void note(std::string_view kind, const std::string& plot, std::string_view measure,
            const std::string& occasion, std::optional<double> value, const std::string& day,
            std::vector<Answer> answers = {}) {
    Record record;
    record.id.uuid.bytes = {0x01, 0x80, 0, 0, 0, 0, 0x70, 0, 0x80};
    record.id.uuid.bytes[15] = static_cast<std::uint8_t>(++noted_);
    record.kind = kind;
    record.at =
        stamp_at(UtcInstant{date::sys_days{parse_date(day).value()} + std::chrono::hours{15}},
                 std::chrono::minutes{-240});
    record.trial = plan_.id();
    record.plan = sha256(plan_text(plan_)).hex();
    for (const PlanOccasion& each : plan_.occasions)
      if (each.code == occasion) record.occasion = plan_.occasion(each);
    if (kind == kind::kAsSown) {
      record.subject = plan_.plot(*plan_.find_plot(plot)).uuid;
      record.entered = measure.empty() ? "reseeded" : measure;
      record.details = details_text({{"since", day}});
    } else if (!plot.empty()) {
      record.subject = plan_.plot(*plan_.find_plot(plot)).uuid;
      record.measure = measure;
      record.purpose = Purpose::kSurvey;
      record.state = ValueState::kValue;
      record.value = value;
      record.entered = value ? std::to_string(*value) : "";
      record.answers = std::move(answers);
      if (measure == measure::kSwathLength) record.unit = "ft";
      if (measure == measure::kGrossWeight) record.unit = "lb";
      record.source = Source::kTyped;
    }
    auto ledger = opened();
    const auto kept = ledger.append({record});
    ASSERT_TRUE(kept) << one_line(kept.error());
  }

  Plan plan_ = plan_with_two_cuttings();
  int noted_ = 0;
};

// 99 lb x 0.1 x 0.4033 = 3.99 ton/acre; 100 lb make 4.03 even with the wettest forage.
TEST_F(TakeInSeason, AYieldThatNoDryMatterMakesUsualIsQuestioned) {
  const Ran ran = weights("Plot,Weight\n101,99\n102,100\n202,0.5\n201,0.49\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(
      ran.out,
      AllOf(HasSubstr("line 3: plot 102: gross_weight 100 lb makes about 4.03 ton/acre of "
                      "dry matter, where 0.1 to 4 are usual (it is right? --accept "
                      "yield_unusual)"),
            HasSubstr("plot 201: gross_weight 0.49 lb makes about 0.1"), HasSubstr("2 on hold"),
            Not(HasSubstr("plot 101")), Not(HasSubstr("plot 202: gross"))));
  EXPECT_EQ(state_of("101"), ValueState::kValue);
  EXPECT_EQ(state_of("102"), ValueState::kOnHold);
  EXPECT_THAT(desk({"settle", "--ledger", ledger_}).out,
              HasSubstr("asked yield_unusual, answered not_asked"));
}

TEST_F(TakeInSeason, ItIsAcceptedWhereItIsRight) {
  const Ran ran = weights("Plot,Weight\n102,100\n", {{"--accept", "yield_unusual"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("0 on hold"));
  EXPECT_EQ(state_of("102"), ValueState::kValue);
}

TEST_F(TakeInSeason, AllBagsOfAPlotAreItsYield) {
  const std::map<std::string, std::string> bags{
      {"--columns", "plot=Plot,part=Bag,gross=Weight,tare=Tare"}};
  const Ran ran =
      weights("Plot,Bag,Weight,Tare\n101,1,53,2\n101,2,52,2\n102,1,52,2\n102,2,51,2\n", bags);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, AllOf(HasSubstr("plot 101: gross_weight 53 lb makes about 4.07 ton/acre"),
                             HasSubstr("plot 101: gross_weight 52 lb makes about 4.07 ton/acre"),
                             HasSubstr("2 on hold"), Not(HasSubstr("plot 102"))));
  // Of a bag that the ledger holds too.
  const Ran third = weights("Plot,Bag,Weight,Tare\n102,3,4,2\n", bags);
  EXPECT_THAT(third.out, HasSubstr("plot 102: gross_weight 4 lb makes about 4.07 ton/acre"));
}

TEST_F(TakeInSeason, TheStripIsAsItWasMeasuredAtThePlot) {
  note(kind::kReading, "102", measure::kSwathLength, "2026-cut-1", 9, "2026-05-20");
  const Ran ran = weights("Plot,Weight\n101,60\n102,60\n");
  EXPECT_THAT(ran.out, AllOf(HasSubstr("plot 102: gross_weight 60 lb makes about 4.84"),
                             Not(HasSubstr("plot 101"))));
}

// Just under and just over what assets/limits.json has for a year.
TEST_F(TakeInSeason, TheYearsCuttingsTogetherAreASeasonsYield) {
  const double most = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS)
                          ->limit_for(kSeasonYield, "tall_fescue")
                          ->ask_above.value();
  // Fresh pounds that make the season's most with a tenth of dry matter, in two cuttings.
  const double all = most / 0.1 / (43560.0 / 54.0 / 2000.0);
  const auto pounds = [&](double share) { return std::to_string(static_cast<int>(all * share)); };
  const std::map<std::string, std::string> any{{"--accept", "yield_unusual"}};
  ASSERT_EQ(weights("Plot,Weight\n101," + pounds(0.5) + "\n102," + pounds(0.5) + "\n", any).exit,
            0);
  const Ran second =
      weights("Plot,Weight\n101," + pounds(0.45) + "\n102," + pounds(0.55) + "\n",
              {{"--cutting", "2"}, {"--date", "2026-07-20"}, {"--accept", "yield_unusual"}});
  ASSERT_EQ(second.exit, 0) << second.err;
  EXPECT_THAT(
      second.out,
      AllOf(HasSubstr("of dry matter with the year's earlier cuttings, where a season gives"),
            HasSubstr("(it is right? --accept season_yield_unusual)"), HasSubstr("plot 102"),
            Not(HasSubstr("plot 101")), HasSubstr("1 on hold")));
}

TEST_F(TakeInSeason, AWeightOfAPlotWithoutAStandIsQuestioned) {
  note(kind::kReading, "101", checks::kPercentStand, "2026-stand", 0, "2026-05-01");
  note(kind::kReading, "102", checks::kPercentStand, "2026-stand", 5, "2026-05-01");
  note(kind::kReading, "201", checks::kPercentStand, "2026-stand", 0, "2026-05-21");
  const Ran ran = weights("Plot,Weight\n101,20\n102,25\n201,26\n");
  EXPECT_THAT(ran.out,
              AllOf(HasSubstr("plot 101: gross_weight 20 lb is of a plot that was rated as "
                              "having no stand (it is right? --accept weight_without_stand)"),
                    HasSubstr("1 on hold")))
      << "of 201 it was rated later";
}

// Proves: a weight of a plot that was given up is kept, on hold, unless somebody stands by it. One
// that was cut before is as any.
TEST_F(TakeInSeason, AWeightOfAnAbandonedPlotIsQuestioned) {
  note(kind::kAsSown, "101", "abandoned", "", std::nullopt, "2026-05-20");
  note(kind::kAsSown, "102", "abandoned", "", std::nullopt, "2026-05-21");
  const Ran ran = weights("Plot,Weight\n101,20\n102,25\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out,
              AllOf(HasSubstr("plot 101: gross_weight 20 lb is of a plot that was abandoned on "
                              "2026-05-20, and counts in no table (it is right? --accept "
                              "weight_abandoned)"),
                    HasSubstr("1 on hold")));
  EXPECT_EQ(state_of("101"), ValueState::kOnHold);
  EXPECT_EQ(state_of("102"), ValueState::kValue);
}

TEST_F(TakeInSeason, AStandOfAnotherYearOrOfWhatStoodThereBeforeIsNone) {
  note(kind::kReading, "101", checks::kPercentStand, "2026-stand", 0, "2025-10-01");
  note(kind::kReading, "102", checks::kPercentStand, "2026-stand", 0, "2026-04-02");
  note(kind::kAsSown, "102", "", "", std::nullopt, "2026-04-20");
  EXPECT_THAT(weights("Plot,Weight\n101,20\n102,25\n").out, HasSubstr("0 on hold"));
}

// Both sides of 20 days.
TEST_F(TakeInSeason, ACuttingSoonAfterTheLastOneIsQuestioned) {
  ASSERT_EQ(weights("Plot,Weight\n101,20\n").exit, 0);
  const auto second = [&](const std::string& day, const std::string& plot) {
    return weights("Plot,Weight\n" + plot + ",20\n", {{"--cutting", "2"}, {"--date", day}},
                   {"--only-check"})
        .out;
  };
  EXPECT_THAT(
      second("2026-06-08", "101"),
      HasSubstr("plot 101: gross_weight 20 lb is of a trial that was cut 19 days before (it "
                "is right? --accept cut_again_soon)"));
  EXPECT_THAT(second("2026-06-09", "101"), HasSubstr("0 on hold"));
  // One that was begun on another day was asked about then.
  note(kind::kHarvestRun, "", "", "2026-cut-2", std::nullopt, "2026-06-07");
  EXPECT_THAT(second("2026-06-08", "101"), HasSubstr("0 on hold"));
}

// Proves: what was said of the weather in the field widens the limits for a file of that cutting.
TEST_F(TakeInSeason, WeatherThatWasSpokenOfWidensTheLimits) {
  note(kind::kReading, "201", measure::kGrossWeight, "2026-cut-1", 0.4, "2026-05-20",
       {{"yield_unusual", "drought"}});
  const Ran ran = weights("Plot,Weight\n202,0.3\n");
  EXPECT_THAT(ran.out, HasSubstr("0 on hold"));
  int found = 0;
  for (const ledger::Claim& claim : claims_of_season()) {
    if (claim.record.entered != "0.3") continue;
    ++found;
    EXPECT_THAT(claim.record.answers, testing::ElementsAre(Answer{"yield_unusual", "drought"}));
  }
  EXPECT_EQ(found, 1);
}

// Proves: the limits that asked stand beside the values, once.
TEST_F(TakeInSeason, TheLimitsThatAskedAreWrittenDownOnce) {
  ASSERT_EQ(weights("Plot,Weight\n101,20\n").exit, 0);
  const auto told = opened().of_kind(kind::kLimits).value();
  ASSERT_EQ(told.size(), 1U);
  const auto definitions = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  EXPECT_EQ(told[0].details, limits_text(definitions.limits));
  EXPECT_EQ(told[0].definition, sha256(told[0].details).hex());
  EXPECT_EQ(opened().limits_told().value(), told[0].definition);
  ASSERT_EQ(weights("Plot,Weight\n102,20.1\n").exit, 0);
  EXPECT_EQ(opened().of_kind(kind::kLimits).value().size(), 1U);
  // A program's own beside the ledger: others from then on.
  write(R"({"limits": [{"measure": "cutting_yield", "species": "tall_fescue", "unit": "ton/acre",
          "ask_above": 5, "source": "ours"}]})",
        "office.ligule.limits.json");
  ASSERT_EQ(weights("Plot,Weight\n202,20.2\n").exit, 0);
  const auto now = opened().of_kind(kind::kLimits).value();
  ASSERT_EQ(now.size(), 2U);
  EXPECT_EQ(state_of("202"), ValueState::kValue);
  EXPECT_EQ(opened().limits_told().value(), now[1].definition);
  EXPECT_NE(now[1].definition, told[0].definition);
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);
}

// Three entries in three blocks, 20, 24 and 18 lb with a little to either side; 303 is one of 20.
class TakeInAmongOthers : public TakeInSeason {
 protected:
  TakeInAmongOthers() { enrol(among_, {}); }
  static std::string rows(const std::string& last) {
    return "Plot,Bag,Weight\n101,1,18.4\n102,1,20.5\n103,1,24.6\n201,1,19.8\n202,1,23.7\n"
           "203,1,17.7\n301,1,24.2\n302,1,18.2\n" +
           last;
  }
  Ran taken(const std::string& csv, const std::string& accept = "") {
    return take_in(csv, {{"--trial", "TF24"},
                         {"--year", "2025"},
                         {"--date", "2025-05-20"},
                         {"--columns", "plot=Plot,part=Bag,gross=Weight"},
                         {"--accept", accept}});
  }
  Plan among_ = sample_plan();
};

// Proves: at the desk too a weight is held against what the other plots of the file let one expect;
// of several bags all together, once.
TEST_F(TakeInAmongOthers, AWeightFarFromWhatTheOthersSuggestIsQuestioned) {
  EXPECT_THAT(taken(rows("303,1,20.2\n")).out, HasSubstr("0 on hold"));
}

TEST_F(TakeInAmongOthers, OneOfThemIsNamedWithHowToKeepIt) {
  const Ran ran = taken(rows("303,1,32.2\n"));
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, AllOf(HasSubstr("plot 303: gross_weight 32.2 lb is far from what the other "
                                       "plots let one expect (it is right? --accept "
                                       "weight_unexpected)"),
                             HasSubstr("1 on hold")));
}

TEST_F(TakeInAmongOthers, ItIsAccepted) {
  const Ran ran = taken(rows("303,1,32.2\n"), "weight_unexpected");
  EXPECT_THAT(ran.out, HasSubstr("0 on hold")) << ran.err;
}

TEST_F(TakeInAmongOthers, ItsBagsAreOneWeightAndAskedAboutOnce) {
  EXPECT_THAT(taken(rows("303,1,12.1\n303,2,8.1\n")).out, HasSubstr("0 on hold"));
}

TEST_F(TakeInAmongOthers, TheLastOfItsBagsIsAskedAbout) {
  EXPECT_THAT(taken(rows("303,1,20.1\n303,2,12.1\n")).out,
              AllOf(HasSubstr("plot 303: gross_weight 12.1 lb is far"), HasSubstr("1 on hold")));
}

// Proves: what is put right at the desk is held against the others as well.
TEST_F(TakeInAmongOthers, AWeightPutRightAtTheDeskIsHeldAgainstThem) {
  ASSERT_EQ(taken(rows("303,1,20.2\n")).exit, 0);
  std::string id;
  const auto held = opened();
  const auto claims = held.claims(among_.id());
  for (const ledger::Claim& claim : claims.value())
    if (claim.record.subject == among_.plot(*among_.find_plot("303")).uuid)
      id = claim.record.id.uuid.text();
  const Ran ran = desk({"settle", "--ledger", ledger_, "--value", id, "--correct", "32.2",
                        "--reason", "misread", "--person", "KV"});
  EXPECT_THAT(ran.out + ran.err, HasSubstr("gross_weight 32.2 lb is far from what"));
}

// Proves: what was answered with a weight is not asked again with the tare that a later file
// brings.
TEST_F(TakeInAmongOthers, ATareThatComesLaterIsNotAskedTheSame) {
  ASSERT_EQ(taken(rows("303,1,33.2\n"), "weight_unexpected").exit, 0);
  const Ran ran = take_in("Plot,Tare\n303,0.5\n", {{"--trial", "TF24"},
                                                   {"--year", "2025"},
                                                   {"--date", "2025-05-20"},
                                                   {"--columns", "plot=Plot,tare=Tare"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("0 on hold"));
}

}  // namespace
}  // namespace ligule::desk
