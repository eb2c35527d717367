#include "app/touch/text.h"

#include <gmock/gmock.h>

#include "app/touch/key.h"
#include "tests/app/touch/bench_app.h"

namespace ligule::touch_test {
namespace {

using namespace ligule::touch;  // NOLINT: a test
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST(LabelOf, IsWhatStandsBeforeTheId) {
  EXPECT_EQ(label_of("Vigor 5##v5"), "Vigor 5");
  EXPECT_EQ(label_of("Vigor 5###v5"), "Vigor 5");
  EXPECT_EQ(label_of("#5"), "#5");
}

TEST(Wrap, BreaksAtSpacesAndNewlines) {
  Bench bench([](Ui& ui) {
    const float width = text_width(ui, "three short words", Font::kBody) + 1;
    EXPECT_THAT(wrap(ui, "three short words here\nnew", Font::kBody, width),
                ElementsAre("three short words", "here", "new"));
    EXPECT_THAT(wrap(ui, "", Font::kBody, width), ElementsAre(""));
    // A no-break space keeps a number and its unit together.
    EXPECT_THAT(wrap(ui, "three short\xC2\xA0words", Font::kBody, width - 20).size(), 2U);
  });
}

TEST(Wrap, BreaksAWordThatIsWiderThanTheLine) {
  Bench bench([](Ui& ui) {
    const float width = text_width(ui, "establish", Font::kBody);
    EXPECT_THAT(wrap(ui, "est-abl/ishment", Font::kBody, width),
                ElementsAre("est-abl/", "ishment"));
    EXPECT_THAT(wrap(ui, "establishment", Font::kBody, width), ElementsAre("establish", "ment"));
  });
}

TEST(TextFit, ShortenedTextIsAFaultUnlessItMayBe) {
  for (const bool may : {false, true}) {
    Bench bench([&](Ui& ui) {
      text(ui, {50, 50, 300, 100},
           {.text = "a note that is much too long for this", .may_cut = may});
    });
    EXPECT_TRUE(shows(bench.seen(), "\xE2\x80\xA6"));
    EXPECT_EQ(geometry_faults(bench.seen()).size(), may ? 0U : 1U);
  }
}

TEST(TextFit, TwoLinesInAStripForOneAreAFault) {
  Bench bench([](Ui& ui) {
    text(ui, {50, 50, 300, 90}, {.text = "words that need two lines", .lines = 2});
  });
  EXPECT_THAT(geometry_faults(bench.seen()), ElementsAre(HasSubstr("is shortened")));
}

TEST(TextFit, AWordThatGoesOnInTheNextLineIsAFault) {
  const auto faults = [](std::string_view words) {
    Bench bench([&](Ui& ui) {
      const float width = text_width(ui, "establish", Font::kBody);
      text(ui, {50, 50, 50 + width, 300}, {.text = words, .lines = 6});
    });
    return geometry_faults(bench.seen()).size();
  };
  EXPECT_EQ(faults("an establishment"), 1U);
  EXPECT_EQ(faults("an establish ment"), 0U);
  // The name of a file has to be broken somewhere.
  EXPECT_EQ(faults("season-0195d742-4780-70b3.zip"), 0U);
}

// Large text (5 mm) gives way to the usual 3.5 mm, and never to a smaller one.
TEST(TextFit, LargeTextStandsInTheUsualSizeWhereItHasNoRoom) {
  // share: of the width its line takes.
  const auto height = [](float share, bool large) {
    Bench bench(
        [&](Ui& ui) {
          const float width = text_width(ui, "one line", Font::kBody) * share;
          text(ui, {50, 50, 50 + width, 50 + ui.mm(8)}, {.text = "one line"});
        },
        glasses()[0], {.large_text = large});
    EXPECT_THAT(geometry_faults(bench.seen()), IsEmpty());
    return bench.seen().widgets.front().drawn.height();
  };
  const float usual = height(1.1F, false);
  EXPECT_GT(height(1.1F, true), usual * 1.3F);
  EXPECT_NEAR(height(0.8F, true), usual, 1.5);
}

// Proves: a list never mixes two sizes; one line too long brings all of its kind to the usual size.
TEST(OneSize, WhereOneLineGivesWayAllOfItsListDo) {
  const auto heights = [](float share, bool list) {
    const auto lines = [share](Ui& ui) {
      const float width = text_width(ui, "a longer line", Font::kBody) * share;
      text(ui, {50, 50, 50 + width, 50 + ui.mm(8)}, {.text = "short"});
      text(ui, {50, 150, 50 + width, 150 + ui.mm(8)}, {.text = "a longer line"});
    };
    Bench bench(
        [&](Ui& ui) {
          if (list) {
            auto one = ui.same_size("list");
            lines(ui);
          } else {
            lines(ui);
          }
        },
        glasses()[0], {.large_text = true});
    std::vector<float> drawn;
    for (const Widget& widget : bench.seen().widgets) drawn.push_back(widget.drawn.height());
    return drawn;
  };
  const auto apart = heights(0.8F, false);
  EXPECT_GT(apart[0], apart[1] * 1.3F) << "by themselves they differ";
  const auto together = heights(0.8F, true);
  EXPECT_FLOAT_EQ(together[0], together[1]);
  EXPECT_FLOAT_EQ(together[0], apart[1]);
  const auto roomy = heights(1.1F, true);
  EXPECT_FLOAT_EQ(roomy[0], apart[0]) << "both have room: both are large";
  EXPECT_FLOAT_EQ(roomy[1], apart[0]);
}

TEST(TextFit, NoRoomIsReported) {
  Bench bench([](Ui& ui) { text(ui, {}, {.text = "Plot"}); });
  EXPECT_THAT(geometry_faults(bench.seen()), ElementsAre("no room for \"Plot\""));
}

TEST(KeyLabel, ShrinksBeforeItIsCut) {
  Bench bench([](Ui& ui) {
    EXPECT_FALSE(key(ui, {50, 50, 250, 200}, {.label = "most vigorous", .font = Font::kValue}));
  });
  EXPECT_THAT(geometry_faults(bench.seen()), IsEmpty());
}

TEST(KeyLabel, TooLongIsAFault) {
  Bench bench([](Ui& ui) {
    EXPECT_FALSE(key(ui, {50, 50, 200, 200}, {.label = "establishmentandvigor"}));
  });
  EXPECT_THAT(geometry_faults(bench.seen()), ElementsAre(HasSubstr("is shortened")));
}

TEST(KeyLabel, EmptyRectangleIsReported) {
  Bench bench([](Ui& ui) { EXPECT_FALSE(key(ui, {}, {.label = "Keep##k"})); });
  EXPECT_THAT(geometry_faults(bench.seen()), ElementsAre("no room for \"Keep\""));
}

}  // namespace
}  // namespace ligule::touch_test
