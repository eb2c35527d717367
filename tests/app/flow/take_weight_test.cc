// Weights from the scale: one tap for a still load, a question for one that moves.
#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::VariantWith;

constexpr const char* kPort = "/dev/serial/by-id/usb-one";

LoadSeen load(LoadState state, std::string entered = "", std::string unit = "lb") {
  LoadSeen seen;
  seen.state = state;
  seen.raw = "S G + " + entered + " " + unit;
  seen.entered = std::move(entered);
  seen.unit = std::move(unit);
  return seen;
}

class TakeWeightTest : public ScaleHarvestTest {
 protected:
  // A load that moves is averaged over five seconds.
  void mean_of(const char* mean, const char* lowest, const char* highest) {
    on_the_scale(load(LoadState::kMoving, mean));
    tablet.tap(TakeWeight{});
    tablet.tap(AnswerMoving{true});
    LoadTold told{load(LoadState::kMoving, mean), AverageEnded{}};
    told.average->mean = AveragedLoad{mean, "lb", lowest, highest, 47, false, "D"};
    tablet.tap(told);
  }
};

TEST_F(TakeWeightTest, WithoutAPortWeightsAreTyped) {
  tablet.model.preferences.scale.port.clear();
  EXPECT_FALSE(tablet.weighing().load);
  EXPECT_FALSE(tablet.weighing().weigh);
  EXPECT_FALSE(shows_load(tablet.model));
}

TEST_F(TakeWeightTest, TheLoadStandsInThePlaceOfThePad) {
  tablet.tap(Tick{});  // agrees to the stake
  EXPECT_TRUE(tablet.weighing().weigh);
  EXPECT_TRUE(shows_load(tablet.model));
  EXPECT_EQ(tablet.weighing().load->state, LoadState::kSilent) << "nothing was heard yet";
  on_the_scale(load(LoadState::kStill, "31.50"));
  EXPECT_EQ(tablet.weighing().load->shown, "31.50");
  EXPECT_EQ(tablet.weighing().load->unit, "lb");
  EXPECT_TRUE(tablet.weighing().load->can_take);
  tablet.tap(FocusField{Field::kBag});
  EXPECT_FALSE(tablet.weighing().weigh);
}

// Proves: one tap takes a stable weight, and its raw line is kept with it.
TEST_F(TakeWeightTest, OneTapKeepsAStillLoadAndAsksForItsBag) {
  on_the_scale(load(LoadState::kStill, "31.50"));
  const Effects effects = tablet.tap(TakeWeight{});
  EXPECT_THAT(effects, Contains(VariantWith<LoadTaken>(LoadTaken{})));
  tablet.settle();
  const Record& gross = last_of(measure::kGrossWeight);
  EXPECT_EQ(gross.entered, "31.50");
  EXPECT_EQ(gross.unit, "lb");
  EXPECT_EQ(gross.value, 31.5);
  EXPECT_EQ(gross.source, Source::kScale);
  EXPECT_EQ(gross.raw, "S G + 31.50 lb");
  EXPECT_EQ(gross.details, details_text({{"port", "usb-one"}}));
  EXPECT_EQ(tablet.weighing().plot, "101") << "the bag has no number yet";
  EXPECT_EQ(tablet.text(Field::kGross), "31.50");
  tablet.type("12");
  tablet.tap(KeyDone{});
  tablet.type("412");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kBagNumber).entered, "12");
  EXPECT_EQ(last_of(measure::kBagNumber).source, Source::kTyped);
  EXPECT_EQ(tablet.weighing().plot, "102");
  EXPECT_TRUE(tablet.weighing().weigh);
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 1)
      << "what stands is not written again";
}

TEST_F(TakeWeightTest, WhereNoBagIsAskedForTheNextPlotFollows) {
  tablet.tap(ShowToday{});
  tablet.open(grass_plan(), "cut2");
  start();
  take("31.50");
  EXPECT_EQ(tablet.weighing().plot, "102");
}

TEST_F(TakeWeightTest, TheTareThatStandsInTheFormGoesWithIt) {
  tablet.fill(Field::kTare, "2.5");
  tablet.tap(FocusField{Field::kGross});
  take("31.50");
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "2.5");
  EXPECT_EQ(last_of(measure::kTareWeight).source, Source::kTyped);
  EXPECT_EQ(tablet.text(Field::kTare), "2.5");
}

TEST_F(TakeWeightTest, ANetWeightHasNoTareTakenOffAgain) {
  tablet.fill(Field::kTare, "2.5");
  tablet.tap(FocusField{Field::kGross});
  LoadSeen seen = load(LoadState::kStill, "29.00");
  seen.net = true;
  on_the_scale(seen);
  EXPECT_TRUE(tablet.weighing().load->net);
  tablet.tap(TakeWeight{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "0");
  EXPECT_EQ(last_of(measure::kTareWeight).unit, "lb");
  EXPECT_EQ(last_of(measure::kTareWeight).source, Source::kScale);
  EXPECT_EQ(last_of(measure::kGrossWeight).details,
            details_text({{"load", "net"}, {"port", "usb-one"}}));
}

TEST_F(TakeWeightTest, TheTareOfANetWeightStaysWithItAndGoesNoFurther) {
  tablet.fill(Field::kTare, "2.5");
  tablet.tap(FocusField{Field::kGross});
  take("31.50");
  bag("1");
  LoadSeen seen = load(LoadState::kStill, "29.00");
  seen.net = true;
  on_the_scale(seen);
  tablet.tap(TakeWeight{});
  tablet.settle();
  EXPECT_EQ(tablet.text(Field::kTare), "0");
  bag("2");
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "0") << "keeping the bag leaves it";
  EXPECT_EQ(last_of(measure::kTareWeight).kind, kind::kReading);
  EXPECT_EQ(tablet.text(Field::kTare), "2.5") << "the next plot has the tare that was typed";
  take("30.00");
  EXPECT_EQ(last_of(measure::kTareWeight).entered, "2.5");
}

TEST_F(TakeWeightTest, OneLoadIsNotTakenTwiceByTwoTaps) {
  tablet.tap(ShowToday{});
  tablet.open(grass_plan(), "cut2");
  start();
  on_the_scale("31.50");
  tablet.tap(TakeWeight{});
  tablet.tap(TakeWeight{});
  tablet.settle();
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 1);
}

TEST_F(TakeWeightTest, ALoadThatIsNotTakenAfterAllMayBeTakenAgain) {
  tablet.fill(Field::kTare, "40");
  tablet.tap(FocusField{Field::kGross});
  on_the_scale("31.50");
  EXPECT_THAT(tablet.tap(TakeWeight{}), Contains(VariantWith<LoadTaken>(LoadTaken{true})));
  EXPECT_THAT(tablet.tap(AnswerQuestion{"weigh_again"}),
              Contains(VariantWith<LoadTaken>(LoadTaken{false})));
  tablet.fill(Field::kTare, "2");
  tablet.tap(FocusField{Field::kGross});
  take("31.50");
  EXPECT_THAT(tablet.tap(TakeBack{}), Contains(VariantWith<LoadTaken>(LoadTaken{false})));
}

TEST_F(TakeWeightTest, SaidAgainByHandAWeightKeepsItsLine) {
  take("31.50");
  tablet.fill(Field::kTare, "2");
  bag("1");
  EXPECT_EQ(last_of(measure::kGrossWeight).source, Source::kScale);
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 1);
}

TEST_F(TakeWeightTest, TheUnitIsTheScales) {
  on_the_scale(load(LoadState::kStill, "14.20", "kg"));
  tablet.tap(TakeWeight{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).unit, "kg") << "the person's is lb";
  const auto gross = tablet.weighing().fields[1];
  EXPECT_EQ(gross.text, "14.20");
  EXPECT_EQ(gross.unit, "kg");
}

TEST_F(TakeWeightTest, AUnitThatPlotWeightsDoNotHaveIsRefused) {
  on_the_scale(load(LoadState::kStill, "14200", "g"));
  tablet.tap(TakeWeight{});
  EXPECT_EQ(tablet.notice(), "notice.scale_unit");
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 0);
}

TEST_F(TakeWeightTest, NothingIsTakenFromALoadThatIsNone) {
  for (const LoadState state :
       {LoadState::kSilent, LoadState::kGarbled, LoadState::kOverload, LoadState::kUnderload,
        LoadState::kNegative, LoadState::kEmpty, LoadState::kNotLifted, LoadState::kNoScale}) {
    on_the_scale(load(state, "31.50"));
    EXPECT_FALSE(tablet.weighing().load->can_take) << name_of(state);
    tablet.cues.clear();
    EXPECT_THAT(tablet.tap(TakeWeight{}), IsEmpty()) << name_of(state);
    EXPECT_THAT(tablet.cues, ElementsAre(Cue{CueKind::kRefused})) << name_of(state);
  }
  tablet.settle();
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 0);
}

TEST_F(TakeWeightTest, AMovingLoadAsksAndWaitingTakesNothing) {
  on_the_scale(load(LoadState::kMoving, "31.50"));
  EXPECT_TRUE(tablet.weighing().load->can_take);
  tablet.tap(TakeWeight{});
  ASSERT_TRUE(tablet.above().moving);
  EXPECT_FALSE(tablet.above().moving->averaging);
  tablet.tap(GoToPlot{"103"});
  EXPECT_EQ(tablet.weighing().plot, "101") << "nothing else is taken in";
  on_the_scale(load(LoadState::kMoving, "32.10"));
  EXPECT_EQ(tablet.above().moving->load.shown, "32.10");
  tablet.tap(AnswerMoving{false});
  EXPECT_FALSE(tablet.above().moving);
  tablet.settle();
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 0);
}

// Proves: averaged capture over a stated time with the spread kept.
TEST_F(TakeWeightTest, TheMeanOfAMovingLoadIsKeptWithItsSpread) {
  on_the_scale(load(LoadState::kMoving, "31.50"));
  tablet.tap(TakeWeight{});
  EXPECT_THAT(tablet.tap(AnswerMoving{true}), ElementsAre(Effect(AverageLoad{})));
  EXPECT_TRUE(tablet.above().moving->averaging);
  EXPECT_EQ(tablet.above().moving->seconds, 5);
  LoadTold told{load(LoadState::kMoving, "31.70"), AverageEnded{}};
  told.average->mean = AveragedLoad{"31.62", "lb", "31.40", "31.90", 48, false, "D G + 31.70 lb"};
  tablet.tap(told);
  tablet.settle();
  EXPECT_FALSE(tablet.above().moving);
  const Record& gross = last_of(measure::kGrossWeight);
  EXPECT_EQ(gross.entered, "31.62");
  EXPECT_EQ(gross.raw, "D G + 31.70 lb");
  EXPECT_EQ(gross.details, details_text({{"averaged_ms", "5000"},
                                         {"highest", "31.90"},
                                         {"lowest", "31.40"},
                                         {"port", "usb-one"},
                                         {"readings", "48"}}));
}

// The larger of four divisions and 2 % of the mean: 0.04 lb or 0.63 lb of 31.62, 0.04 of 0.50.
TEST_F(TakeWeightTest, AMeanOfReadingsFarApartIsAskedAbout) {
  struct Case {
    const char* mean;
    const char* lowest;
    const char* highest;
    bool asks;
  };
  for (const Case& each : {Case{"31.50", "31.20", "31.83", false},
                           {"31.50", "31.20", "31.84", true},
                           {"0.50", "0.48", "0.52", false},
                           {"0.50", "0.48", "0.53", true}}) {
    mean_of(each.mean, each.lowest, each.highest);
    EXPECT_EQ(tablet.above().moving && tablet.above().moving->wide, each.asks) << each.highest;
    if (each.asks) tablet.tap(AnswerMoving{false});
    stand_by();
  }
}

TEST_F(TakeWeightTest, AWideMeanIsKeptOrLeftForAnotherWeighing) {
  mean_of("12.42", "11.53", "15.00");
  ASSERT_TRUE(tablet.above().moving);
  EXPECT_EQ(tablet.above().moving->wide->highest, "15.00");
  tablet.tap(GoToPlot{"102"});
  EXPECT_EQ(tablet.weighing().plot, "101") << "it is answered first";
  tablet.tap(AnswerMoving{false});
  tablet.settle();
  EXPECT_FALSE(tablet.above().moving);
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 0);
  mean_of("12.42", "11.53", "15.00");
  tablet.tap(AnswerMoving{true});
  tablet.settle();
  EXPECT_FALSE(tablet.above().moving);
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "12.42");
  EXPECT_EQ(detail(last_of(measure::kGrossWeight).details, "highest"), "15.00");
}

// Proves: while nothing can be kept the mean waits with its question.
TEST_F(TakeWeightTest, AWideMeanWaitsUntilItCanBeKept) {
  mean_of("12.42", "11.53", "15.00");
  const auto person = std::exchange(tablet.model.person, std::nullopt);
  tablet.tap(AnswerMoving{true});
  ASSERT_TRUE(tablet.model.moving && tablet.model.moving->wide);
  tablet.model.person = person;
  tablet.tap(AnswerMoving{true});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "12.42");
}

TEST_F(TakeWeightTest, AveragingThatGivesNoMeanSaysSo) {
  on_the_scale(load(LoadState::kMoving, "31.50"));
  tablet.tap(TakeWeight{});
  tablet.tap(AnswerMoving{true});
  tablet.tap(LoadTold{load(LoadState::kSilent), AverageEnded{}});
  EXPECT_EQ(tablet.notice(), "notice.no_average");
  EXPECT_FALSE(tablet.above().moving);
}

TEST_F(TakeWeightTest, AnAverageThatWasStoppedIsNotTaken) {
  on_the_scale(load(LoadState::kMoving, "31.50"));
  tablet.tap(TakeWeight{});
  tablet.tap(AnswerMoving{true});
  tablet.tap(AnswerMoving{false});
  LoadTold told{load(LoadState::kMoving, "31.70"), AverageEnded{}};
  told.average->mean = AveragedLoad{"31.62", "lb", "31.40", "31.90", 48, false, "D"};
  tablet.tap(told);
  tablet.settle();
  EXPECT_EQ(std::ranges::count(tablet.ledger, measure::kGrossWeight, &Record::measure), 0);
}

TEST_F(TakeWeightTest, AWeightUnderTheTareIsAskedAboutBeforeItIsKept) {
  tablet.fill(Field::kTare, "40");
  tablet.tap(FocusField{Field::kGross});
  on_the_scale(load(LoadState::kStill, "31.50"));
  tablet.tap(TakeWeight{});
  EXPECT_EQ(tablet.question(), "check.gross_under_tare");
  tablet.answer("not_known");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).state, ValueState::kOnHold);
  EXPECT_EQ(last_of(measure::kGrossWeight).source, Source::kScale);
}

TEST_F(TakeWeightTest, WeighedAgainIsACorrectionThatSaysSo) {
  take("31.50");
  tablet.tap(FocusField{Field::kGross});
  EXPECT_TRUE(tablet.weighing().weigh);
  take("31.50");
  EXPECT_EQ(tablet.notice(), "notice.weight_stands");
  take("30.00");
  EXPECT_EQ(tablet.question(), "check.weighed_twice");
  stand_by();
  const Record& gross = last_of(measure::kGrossWeight);
  EXPECT_EQ(gross.kind, kind::kCorrection);
  EXPECT_EQ(gross.reason, "weighed_again");
  EXPECT_EQ(gross.entered, "30.00");
}

TEST_F(TakeWeightTest, TakenBackItIsWeighedAnew) {
  take("31.50");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kWithdrawal);
  EXPECT_EQ(tablet.weighing().plot, "101");
  EXPECT_TRUE(tablet.weighing().weigh);
}

TEST_F(TakeWeightTest, DigitsAreAWeightThatIsTyped) {
  tablet.type("3");
  EXPECT_FALSE(tablet.weighing().weigh);
  tablet.tap(TypeWeight{false});
  EXPECT_TRUE(tablet.weighing().weigh);
  tablet.tap(TypeWeight{true});
  EXPECT_FALSE(tablet.weighing().weigh);
  tablet.tap(GoToPlot{"102"});
  EXPECT_TRUE(tablet.weighing().weigh) << "the next plot comes from the scale again";
}

TEST_F(TakeWeightTest, NothingIsTakenBeforeTheStakeIsAgreedTo) {
  tablet.agrees = false;
  tablet.tap(ShowToday{});
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  start();
  ASSERT_TRUE(tablet.weighing().stake.any());
  EXPECT_FALSE(tablet.weighing().weigh);
  on_the_scale(load(LoadState::kStill, "31.50"));
  EXPECT_THAT(tablet.tap(TakeWeight{}), IsEmpty());
}

TEST_F(TakeWeightTest, AWeightThatIsNotSavedStaysOnItsPlot) {
  tablet.break_disk(true);
  take("31.50");
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_EQ(tablet.weighing().plot, "101");
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kGrossWeight).entered, "31.50");
}

// --- the port

class ScaleChoiceTest : public ::testing::Test {
 protected:
  ScaleChoiceTest() {
    tablet.facts_answer.ports = {kPort, "/dev/serial/by-id/usb-two"};
    tablet.model.line_forms = {{"plain", {{"en", "Number"}, {"es", "Número"}}},
                               {"flags", {{"en", "Flags"}}}};
    tablet.tap(ShowTablet{});
    tablet.tap(ShowScale{});
    tablet.settle();
  }
  ScaleView scale() const { return *std::get<TabletView>(view_of(tablet.model)).scale; }
  static std::string chosen(const PreferenceView& row) {
    const auto at = std::ranges::find(row.options, true, &OptionView::selected);
    return at == row.options.end() ? "" : at->code;
  }
  Tablet tablet;
};

TEST_F(ScaleChoiceTest, WithoutAPortOnlyPortsAreOffered) {
  ASSERT_EQ(scale().rows.size(), 1U);
  EXPECT_EQ(chosen(scale().rows[0]), "none");
  EXPECT_EQ(scale().rows[0].options[1].name, "usb-one");
  EXPECT_EQ(scale().load.state, LoadState::kNoScale);
}

TEST_F(ScaleChoiceTest, APortIsListenedToAndRemembered) {
  const Effects effects = tablet.tap(Choose{Preference::kScalePort, kPort});
  ScaleChoice wanted;
  wanted.port = kPort;
  EXPECT_THAT(effects, Contains(VariantWith<UseScale>(UseScale{wanted})));
  tablet.settle();
  EXPECT_EQ(tablet.stored->scale, wanted);
  ASSERT_EQ(scale().rows.size(), 5U);
  EXPECT_EQ(chosen(scale().rows[1]), "plain") << "the first there is";
  EXPECT_EQ(chosen(scale().rows[2]), "9600");
  EXPECT_EQ(chosen(scale().rows[3]), "8N1");
  EXPECT_EQ(chosen(scale().rows[4]), "1");
  EXPECT_TRUE(shows_load(tablet.model));
}

TEST_F(ScaleChoiceTest, SettingsAreTakenFromWhatIsOffered) {
  tablet.tap(Choose{Preference::kScalePort, kPort});
  tablet.tap(Choose{Preference::kScaleForm, "flags"});
  tablet.tap(Choose{Preference::kScaleBaud, "19200"});
  tablet.tap(Choose{Preference::kScaleFraming, "7E1"});
  tablet.tap(Choose{Preference::kScaleInterval, "5"});
  const ScaleChoice wanted{kPort, "flags", 19200, "7E1", 5};
  EXPECT_EQ(tablet.model.preferences.scale, wanted);
  for (const auto& [what, code] : {std::pair{Preference::kScalePort, "/dev/ttyNowhere"},
                                   {Preference::kScaleForm, "other"},
                                   {Preference::kScaleBaud, "9601"},
                                   {Preference::kScaleFraming, "5O2"},
                                   {Preference::kScaleInterval, "3"}}) {
    EXPECT_THAT(tablet.tap(Choose{what, code}), IsEmpty()) << code;
  }
  EXPECT_EQ(tablet.model.preferences.scale, wanted);
}

TEST_F(ScaleChoiceTest, FormsAreNamedInThePersonsLanguage) {
  tablet.model.languages = {{"en", "English"}, {"es", "Español"}};
  tablet.tap(Choose{Preference::kScalePort, kPort});
  tablet.tap(Choose{Preference::kLanguage, "es"});
  EXPECT_EQ(scale().rows[1].options[0].name, "Número");
  EXPECT_EQ(scale().rows[1].options[1].name, "Flags") << "it has no Spanish name";
}

TEST_F(ScaleChoiceTest, AnUnpluggedPortStaysChosen) {
  tablet.tap(Choose{Preference::kScalePort, kPort});
  tablet.facts_answer.ports.clear();
  tablet.tap(ShowTablet{});
  tablet.tap(ShowScale{});
  tablet.settle();
  EXPECT_EQ(chosen(scale().rows[0]), kPort);
  tablet.tap(Choose{Preference::kScalePort, "none"});
  EXPECT_EQ(scale().rows.size(), 1U);
  EXPECT_TRUE(tablet.model.preferences.scale.port.empty());
}

}  // namespace
}  // namespace ligule::flow
