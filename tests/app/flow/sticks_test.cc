// Plans that a stick brings: offered, taken in by one tap, told before they change anything.
#include "app/flow/sticks.h"

#include "app/flow/plan_changes.h"
#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

CheckedPlan new_plan(const std::string& code) {
  CheckedPlan checked;
  checked.path = "/media/stick/" + code;
  checked.plan = annual_plan();
  checked.plan.codes.trial = code;
  checked.text = plan_text(checked.plan);
  checked.digest = "digest of " + code;
  return checked;
}

CheckedPlan revision() {
  CheckedPlan checked = new_plan("G1");
  checked.plan = grass_plan();
  checked.plan.title = "Mended";
  checked.plan.parent = std::string(64, 'a');
  checked.plan.reason = "a third cutting";
  checked.plan.occasions.push_back({"cut3", Job::kHarvest, 2026, 3, {}, std::nullopt});
  checked.text = plan_text(checked.plan);
  return checked;
}

class WithStick : public ::testing::Test {
 protected:
  WithStick() { tablet.settle(); }
  void put_in(StickPlans plans) {
    tablet.stick_answer = std::move(plans);
    tablet.tap(SticksChanged{});
    tablet.settle();
  }
  template <class Page>
  Page page() {
    const View view = view_of(tablet.model);
    const auto* const trials = std::get_if<TrialsView>(&view);
    const auto* const found = trials == nullptr ? nullptr : std::get_if<Page>(&trials->page);
    if (found == nullptr) ADD_FAILURE() << "another page";
    return found == nullptr ? Page{} : *found;
  }
  Tablet tablet;
};

TEST_F(WithStick, AllNewPlansAreTakenInByOneTapOnToday) {
  EXPECT_FALSE(tablet.today().stick.any());
  put_in({{new_plan("N1"), new_plan("N2")}, {}, {}});
  EXPECT_THAT(tablet.today().stick.fresh, ElementsAre("N1", "N2"));
  EXPECT_TRUE(tablet.today().stick.can_load);
  tablet.stick_answer = {};
  const std::size_t before = tablet.ledger.size();
  tablet.tap(LoadSticks{});
  EXPECT_FALSE(tablet.today().stick.any()) << "not twice";
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), before + 2);
  for (std::size_t n = before; n < tablet.ledger.size(); ++n)
    EXPECT_EQ(tablet.ledger[n].kind, kind::kPlan);
  EXPECT_EQ(tablet.ledger[before].plan, "digest of N1");
  EXPECT_THAT(tablet.model.trials, SizeIs(4));
  ASSERT_EQ(tablet.notice(), "notice.plans_kept");
  EXPECT_TRUE(tablet.above().notice->good) << "what was wanted";
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("N1, N2"));
  EXPECT_THAT(tablet.today().due, Contains(testing::Field(&DueRow::trial_code, "N1")));
  tablet.open(new_plan("N2").plan, "vigor");
  EXPECT_EQ(tablet.rate().plots, 2U);
}

TEST_F(WithStick, TheyAreLookedForWhereTheyCanBeTakenIn) {
  const std::size_t looked = tablet.sticks_looked;
  EXPECT_GT(looked, 0U) << "on Today";
  tablet.tap(ShowTrials{});
  tablet.settle();
  EXPECT_EQ(tablet.sticks_looked, looked + 1);
  put_in({{new_plan("N1")}, {}, {}});
  EXPECT_EQ(tablet.sticks_looked, looked + 2);
  EXPECT_THAT(page<TrialListView>().stick.fresh, ElementsAre("N1"));
  tablet.open(grass_plan(), "stand");
  put_in({});
  EXPECT_EQ(tablet.sticks_looked, looked + 2) << "not at a plot";
}

TEST_F(WithStick, WhatCannotBeWrittenIsOfferedAgain) {
  put_in({{new_plan("N1")}, {}, {}});
  tablet.break_disk(true);
  tablet.tap(LoadSticks{});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  tablet.tap(DropUnsaved{});
  EXPECT_THAT(tablet.model.trials, SizeIs(2));
  tablet.tap(ShowToday{});
  tablet.settle();
  EXPECT_THAT(tablet.today().stick.fresh, ElementsAre("N1"));
}

TEST_F(WithStick, WhatARevisionChangesIsToldBeforeItIsTakenIn) {
  put_in({{}, {revision()}, {}});
  EXPECT_THAT(tablet.today().stick.changed, ElementsAre("G1"));
  EXPECT_FALSE(tablet.today().stick.can_load);
  tablet.tap(LoadSticks{});
  tablet.settle();
  EXPECT_NE(tablet.ledger.back().kind, kind::kPlan) << "only what is new";
  tablet.tap(ShowStick{});
  tablet.settle();
  const auto told = page<PlanCheckedView>();
  EXPECT_THAT(told.reasons, ElementsAre("a third cutting"));
  EXPECT_THAT(told.changes, ElementsAre(Words{"plan.change.new_occasions", {"cut3"}},
                                        Words{"plan.change.title", {"Mended"}}));
  tablet.stick_answer = {};
  tablet.tap(LoadPlan{});
  tablet.settle();
  EXPECT_EQ(tablet.model.trials[0].plan.title, "Mended");
  EXPECT_EQ(tablet.notice(), "notice.plans_kept");
}

// Proves: two revisions that the tablet missed come in one act, in order, told together.
TEST_F(WithStick, WhatLeadsToTheNewestRevisionComesWithIt) {
  CheckedPlan newest = revision();
  newest.plan.reason = "and a fourth";
  newest.plan.title = "Mended twice";
  newest.text = plan_text(newest.plan);
  newest.digest = "digest of the newest";
  newest.before = {revision()};
  put_in({{}, {newest}, {}});
  tablet.tap(ShowStick{});
  tablet.settle();
  const auto told = page<PlanCheckedView>();
  EXPECT_THAT(told.reasons, ElementsAre("a third cutting", "and a fourth"));
  EXPECT_THAT(told.changes, Contains(Words{"plan.change.title", {"Mended twice"}}));
  tablet.stick_answer = {};
  tablet.tap(LoadPlan{});
  tablet.settle();
  const std::size_t kept = tablet.ledger.size();
  ASSERT_GE(kept, 2U);
  EXPECT_EQ(tablet.ledger[kept - 2].plan, "digest of G1");
  EXPECT_EQ(tablet.ledger[kept - 1].plan, "digest of the newest");
  EXPECT_EQ(tablet.model.trials[0].plan.title, "Mended twice");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("G1")) << "once";
}

// Proves: the older one is named as older, leads to the newer and is loaded by no tap.
TEST_F(WithStick, AnOlderPlanIsNeverTakenIn) {
  CheckedPlan older = revision();
  older.path = "/media/stick/a-first";
  older.newer = "/media/stick/b-second";
  CheckedPlan newer = revision();
  newer.path = older.newer;
  put_in({{}, {newer}, {}, {older}});
  EXPECT_THAT(tablet.today().stick.changed, ElementsAre("G1"));
  EXPECT_THAT(tablet.today().stick.older, ElementsAre("a-first"));
  tablet.tap(ShowTrials{});
  tablet.tap(LookForPlans{});
  tablet.plan_folders = {{older.path, "a-first", "stick"}, {newer.path, "b-second", "stick"}};
  tablet.settle();
  const auto folders = page<PlanPickView>().folders;
  ASSERT_THAT(folders, SizeIs(2));
  EXPECT_EQ(folders[0].name, "b-second") << "the newer first";
  EXPECT_EQ(folders[0].newer, "");
  EXPECT_EQ(folders[1].newer, "b-second");
  tablet.plan_answer = PlanChecked{older};
  tablet.tap(CheckPlan{older.path});
  tablet.settle();
  EXPECT_FALSE(page<PlanCheckedView>().can_load);
  EXPECT_EQ(page<PlanCheckedView>().newer_name, "b-second");
  const std::size_t before = tablet.ledger.size();
  tablet.tap(LoadPlan{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before);
  tablet.plan_answer = PlanChecked{newer};
  tablet.tap(CheckPlan{page<PlanCheckedView>().newer});
  tablet.settle();
  EXPECT_TRUE(page<PlanCheckedView>().can_load);
  older.newer.clear();
  older.older = true;
  tablet.plan_answer = PlanChecked{older};
  tablet.tap(CheckPlan{older.path});
  tablet.settle();
  EXPECT_TRUE(page<PlanCheckedView>().older);
  EXPECT_FALSE(page<PlanCheckedView>().can_load);
}

// Proves: a revision that drops the plot, the entry and the measure of a value that is still on its
// way to the ledger takes nothing that was given and leaves no card that can't be used.
TEST_F(WithStick, ARevisionThatComesWhileAValueIsOnItsWayLosesNothing) {
  CheckedPlan changed = revision();
  std::erase_if(changed.plan.plots, [](const PlanPlot& plot) { return plot.number == "101"; });
  std::erase_if(changed.plan.entries, [](const PlanEntry& entry) { return entry.code == "A"; });
  for (PlanPlot& plot : changed.plan.plots)
    if (plot.entry == "A") plot.entry = "B";
  std::erase(changed.plan.occasions.at(0).measures, "percent_stand");
  changed.text = plan_text(changed.plan);
  put_in({{}, {changed}, {}});
  tablet.open(grass_plan(), "stand");
  ASSERT_EQ(tablet.rate().plot, "101");
  tablet.choose("percent_stand", "85");
  tablet.tap(ShowToday{});
  tablet.tap(ShowStick{});
  tablet.tap(LoadPlan{});
  const auto given = testing::AllOf(
      testing::Field(&Record::measure, "percent_stand"), testing::Field(&Record::entered, "85"),
      testing::Field(&Record::subject, plot_id(grass_plan().id(), "101").uuid));
  ASSERT_THAT(tablet.ledger, testing::Not(Contains(given))) << "it was slow to be kept";
  tablet.settle();
  EXPECT_EQ(std::ranges::count(tablet.ledger, kind::kPlan, &Record::kind), 1);
  EXPECT_THAT(tablet.ledger, Contains(given)) << "what the plot was given is gone";
  EXPECT_THAT(tablet.claims(rating_id(grass_plan().id(), "stand")),
              Contains(testing::Field(&KnownClaim::record, given)));
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(grass_plan(), "stand");
  for (const std::string_view plot : {"102", "203"}) {
    tablet.tap(GoToPlot{std::string(plot)});
    EXPECT_EQ(tablet.rate().plot, plot);
    const std::size_t kept = tablet.ledger.size();
    tablet.choose("percent_stand", "85");
    tablet.settle();
    EXPECT_EQ(tablet.ledger.size(), kept) << "the card has no such measure any more";
    tablet.choose("seedling_vigor", "4");
    tablet.settle();
    EXPECT_EQ(tablet.ledger.back().measure, "seedling_vigor");
  }
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
}

// Proves: what a card began under the plan before waits under the revision too.
TEST_F(WithStick, WhatIsHalfEnteredWaitsThroughARevision) {
  tablet.open(grass_plan(), "cut1");
  tablet.type("Mower 1");
  tablet.tap(StartRun{});
  tablet.fill(Field::kGross, "31.4");
  tablet.tap(ShowToday{});
  tablet.settle();
  put_in({{}, {revision()}, {}});
  tablet.tap(ShowStick{});
  tablet.tap(LoadPlan{});
  tablet.settle();
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(grass_plan(), "cut1");
  EXPECT_EQ(tablet.text(Field::kGross), "31.4");
}

TEST_F(WithStick, FaultsAreOneTapAway) {
  const Error fault{ErrorKind::kInvalid, "entry D is nowhere", "plots.csv line 4", "name it"};
  put_in({{}, {}, {{"/media/stick/bad", {fault}}}});
  EXPECT_EQ(tablet.today().stick.faulty, 1U);
  tablet.tap(ShowStick{});
  tablet.settle();
  EXPECT_THAT(page<PlanFaultyView>().faults, ElementsAre(fault));
  tablet.tap(TrialsBack{});
  put_in({{}, {revision()}, {{"/media/stick/bad", {fault}}}});
  tablet.tap(ShowStick{});
  tablet.plan_folders = {{"/media/stick/bad", "bad", "stick"}};
  tablet.settle();
  EXPECT_THAT(page<PlanPickView>().folders, SizeIs(1)) << "which of them?";
}

// Scores of the program's own are recorded with the digest of what they mean, which the ledger
// knows: so the trials are read again once their plans are kept.
TEST_F(WithStick, PlansTakenInAreReadAgain) {
  KnownTrial known{new_plan("N1").plan, "digest of N1", {}};
  known.score_digests["texture"] = "digest of texture";
  PlansKnown answer{{known}};
  plans_known(tablet.model, answer);
  ASSERT_THAT(tablet.model.trials, SizeIs(3));
  EXPECT_EQ(tablet.model.trials[2].score_digests.at("texture"), "digest of texture");
  known.plan.title = "Again";
  plans_known(tablet.model, {{known}});
  ASSERT_THAT(tablet.model.trials, SizeIs(3)) << "in its place";
  EXPECT_EQ(tablet.model.trials[2].plan.title, "Again");
  put_in({{new_plan("N2")}, {}, {}});
  tablet.tap(LoadSticks{});
  tablet.settle();
  EXPECT_THAT(tablet.model.trials, SizeIs(4));
}

// --- what a revision changes

TEST(PlanChanges, TheSamePlanChangesNothing) {
  Plan again = grass_plan();
  again.parent = std::string(64, 'a');
  again.reason = "saved again";
  EXPECT_THAT(plan_changes(grass_plan(), again, {}), IsEmpty());
}

TEST(PlanChanges, OccasionsThatComeGoAndMove) {
  Plan after = grass_plan();
  std::erase_if(after.occasions, [](const PlanOccasion& each) {
    return each.code == "cut2" || each.code == "late";
  });
  after.occasions[0].due = after.sown;
  after.occasions[1].due = std::nullopt;
  after.occasions[1].entries = {"A"};
  after.occasions.push_back({"fall", Job::kRate, 2026, 0, {"percent_stand"}, std::nullopt});
  EXPECT_THAT(
      plan_changes(grass_plan(), after, {"late", "stand"}),
      ElementsAre(Words{"plan.change.new_occasions", {"fall"}},
                  Words{"plan.change.no_occasions", {"cut2"}},
                  Words{"plan.change.no_occasions_with_values", {"late"}},
                  Words{"plan.change.due", {"stand", format_date(after.sown)}},
                  Words{"plan.change.no_due", {"cut1"}}, Words{"plan.change.occasions", {"cut1"}}));
}

TEST(PlanChanges, PlotsAndEntriesAreToldByNumberAndCodeNeverByName) {
  Plan after = grass_plan();
  std::swap(after.plots[0].entry, after.plots[1].entry);
  after.plots[2].column += 7;
  after.plots.pop_back();
  after.plots.push_back(after.plots[0]);
  after.plots.back().number = "204";
  after.entries[0].variety = "Aspen Hollow";
  after.entries[1].germination = "91";
  const auto changes = plan_changes(grass_plan(), after, {});
  EXPECT_THAT(changes, ElementsAre(Words{"plan.change.new_plots", {"204"}},
                                   Words{"plan.change.no_plots", {"203"}},
                                   Words{"plan.change.plot_entries", {"101, 102"}},
                                   Words{"plan.change.plot_places", {"103"}},
                                   Words{"plan.change.entry_names", {"A"}},
                                   Words{"plan.change.entry_facts", {"B"}}));
  for (const Words& each : changes)
    for (const std::string& argument : each.arguments)
      EXPECT_THAT(argument, testing::Not(testing::HasSubstr("Aspen")));
}

TEST(PlanChanges, EveryOtherFactIsToldAtLeastAsChanged) {
  Plan after = grass_plan();
  after.field = "Hill";
  Scale own;
  own.code = "texture";
  after.scores.push_back(own);
  EXPECT_THAT(
      plan_changes(grass_plan(), after, {}),
      ElementsAre(Words{"plan.change.new_scores", {"texture"}}, Words{"plan.change.trial", {}}));
  Plan later = after;
  later.scores[0].name = "Leaf texture";
  EXPECT_THAT(plan_changes(after, later, {}),
              ElementsAre(Words{"plan.change.scores", {"texture"}}));
  EXPECT_THAT(plan_changes(after, grass_plan(), {}),
              Contains(Words{"plan.change.no_scores", {"texture"}}));
}

}  // namespace
}  // namespace ligule::flow
