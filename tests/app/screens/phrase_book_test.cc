#include "app/screens/phrase_book.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/screens/language.h"

namespace ligule::screens {
namespace {

using testing::HasSubstr;
using testing::Optional;
using testing::StrEq;

PhraseBook book(const PhraseBook::Phrases& texts, const PhraseBook::Phrases& places = {}) {
  auto made = PhraseBook::make(texts, places, "errors/xx.json");
  if (!made) ADD_FAILURE() << one_line(made.error());
  return made ? *std::move(made) : PhraseBook();
}

// What makes a phrase unusable.
std::string refusal(const std::string& english, const std::string& said) {
  const auto made = PhraseBook::make({{english, said}}, {}, "errors/xx.json");
  return made ? std::string() : one_line(made.error());
}

TEST(PhraseBook, ATextWithoutHolesIsFoundWhole) {
  const PhraseBook words = book({{"keep one of them", "deje solo una"}});
  EXPECT_THAT(words.text("keep one of them"), Optional(StrEq("deje solo una")));
  EXPECT_EQ(words.text("keep one of them."), std::nullopt);
  EXPECT_EQ(words.text("keep one of the"), std::nullopt);
  EXPECT_EQ(words.text(""), std::nullopt);
  EXPECT_EQ(PhraseBook().text("keep one of them"), std::nullopt);
}

TEST(PhraseBook, HolesStandWhereTheLanguageWantsThem) {
  const PhraseBook words = book({{"plot {0} lies at row {1}", "fila {1}: parcela {0}, {0}"}});
  EXPECT_THAT(words.text("plot 204 lies at row 3"), Optional(StrEq("fila 3: parcela 204, 204")));
  EXPECT_EQ(words.text("plot 204 lies at column 3"), std::nullopt);
}

TEST(PhraseBook, HolesAtBothEndsAndEmptyOnesMatch) {
  const PhraseBook words = book(
      {{"{0} is larger than {1}", "{0} es mayor que {1}"}, {"enter {0}{1} or more", "{0}{1}"}});
  EXPECT_THAT(words.text("swath_length is larger than plot_length"),
              Optional(StrEq("swath_length es mayor que plot_length")));
  EXPECT_THAT(words.text(" is larger than "), Optional(StrEq(" es mayor que ")));
  EXPECT_THAT(words.text("enter 5 cm or more"), Optional(StrEq("5 cm")));
}

TEST(PhraseBook, ThePhraseWithMostOfItsOwnWordsWins) {
  const PhraseBook words =
      book({{"{0} stands twice", "{0} está dos veces"}, {"plot {0} stands twice", "parcela {0}"}});
  EXPECT_THAT(words.text("plot 7 stands twice"), Optional(StrEq("parcela 7")));
  EXPECT_THAT(words.text("entry 7 stands twice"), Optional(StrEq("entry 7 está dos veces")));
}

TEST(PhraseBook, WhatAHoleHoldsIsTranslatedToo) {
  const PhraseBook words = book({{"bag_tare: {0}", "bag_tare: {0}"},
                                 {"'{0}' is not a unit of {1}", "'{0}' no es una unidad de {1}"},
                                 {"weight", "peso"},
                                 {"first at {0}; keep one", "primero en {0}; deje una"}},
                                {{"{0} line {1}", "{0} línea {1}"}});
  EXPECT_THAT(words.text("bag_tare: 'stone' is not a unit of weight"),
              Optional(StrEq("bag_tare: 'stone' no es una unidad de peso")));
  EXPECT_THAT(words.text("first at plots.csv line 9; keep one"),
              Optional(StrEq("primero en plots.csv línea 9; deje una")));
}

TEST(PhraseBook, WhatStandsBetweenQuotesIsNeverTranslated) {
  const PhraseBook words = book({{"'{0}' is not known", "'{0}' no se conoce"}, {"weight", "peso"}});
  EXPECT_THAT(words.text("'weight' is not known"), Optional(StrEq("'weight' no se conoce")));
}

TEST(PhraseBook, APhraseMayHoldOnlyForWhatTheBookKnows) {
  const PhraseBook words = book({{"{0}: {1!}", "{0}: {1}"}, {"it is empty", "está vacío"}});
  EXPECT_THAT(words.text("plots.csv: it is empty"), Optional(StrEq("plots.csv: está vacío")));
  EXPECT_EQ(words.text("plots.csv: it is full"), std::nullopt);
}

TEST(PhraseBook, WhatTheMachineSaysGoesWhereNobodyKnowsIt) {
  const PhraseBook words = book({{"cannot read: {0}", "no se puede leer[: {0}]"},
                                 {"it failed ({0})", "falló[ ({0} en el disco)] hoy"},
                                 {"No space left on device", "no queda espacio"}});
  EXPECT_THAT(words.text("cannot read: No space left on device"),
              Optional(StrEq("no se puede leer: no queda espacio")));
  EXPECT_THAT(words.text("cannot read: Stale file handle"), Optional(StrEq("no se puede leer")));
  EXPECT_THAT(words.text("it failed (No space left on device)"),
              Optional(StrEq("falló (no queda espacio en el disco) hoy")));
  EXPECT_THAT(words.text("it failed (x)"), Optional(StrEq("falló hoy")));
}

TEST(PhraseBook, PlacesAreNoTexts) {
  const PhraseBook words = book({}, {{"{0} line {1}", "{0} línea {1}"}});
  EXPECT_THAT(words.place("plots.csv line 9"), Optional(StrEq("plots.csv línea 9")));
  EXPECT_EQ(words.text("plots.csv line 9"), std::nullopt);
  EXPECT_EQ(words.place("plots.csv"), std::nullopt);
}

TEST(PhraseBook, AnUnusablePhraseIsNamed) {
  EXPECT_EQ(refusal("plot {0}", "parcela {0}"), "");
  const std::string here = "errors/xx.json, 'plot {0}': ";
  EXPECT_THAT(refusal("plot {0}", "parcela"),
              HasSubstr(here + "its translation leaves a hole out"));
  EXPECT_THAT(refusal("plot {0}", "{0} {1}"), HasSubstr(here + "its translation has holes that"));
  EXPECT_THAT(refusal("plot {0}", "parcela {0!}"), HasSubstr("its translation has holes that"));
  EXPECT_THAT(refusal("plot {0}", "parcela [{0}"), HasSubstr("a bracket is not closed"));
  for (const char* said : {"[parcela] {0}", "parcela {0}]", "[{0} [x]]", "{x} {0}"})
    EXPECT_THAT(refusal("plot {0}", said), HasSubstr("a bracket stands where")) << said;
  EXPECT_THAT(refusal("plot {1}", "parcela {1}"), HasSubstr("its holes are not {0}, {1}"));
  EXPECT_THAT(refusal("plot {x}", "parcela"), HasSubstr("its holes are not {0}, {1}"));
  EXPECT_THAT(refusal("{0}{1}", "{0}{1}"), HasSubstr("it has no words of its own"));
  const auto in_places = PhraseBook::make({}, {{"{0} line", "línea"}}, "errors/xx.json");
  ASSERT_FALSE(in_places.has_value());
  EXPECT_EQ(in_places.error().kind, ErrorKind::kInvalid);
}

TEST(ShortDigests, OnlyRunsOfSixtyFourDigitsAreShortened) {
  const std::string digest(64, 'a');
  EXPECT_EQ(with_short_digests("name it as the parent: " + digest),
            "name it as the parent: aaaaaaaa…");
  EXPECT_EQ(with_short_digests(digest + " and " + digest), "aaaaaaaa… and aaaaaaaa…");
  EXPECT_EQ(with_short_digests(digest + "a"), digest + "a");
  EXPECT_EQ(with_short_digests("bad face 0195d742-4780"), "bad face 0195d742-4780");
  EXPECT_EQ(with_short_digests(""), "");
}

TEST(LanguageOfErrors, WithoutABookTheEnglishStays) {
  const Language words({{"error.io", "x"}, {"error.refused", "y"}});
  EXPECT_EQ(words.error({ErrorKind::kIo, "it failed", "a.csv line 2", "try again"}),
            "a.csv line 2: it failed (try again)");
  EXPECT_EQ(words.error({ErrorKind::kIo, "plan " + std::string(64, 'b'), "", ""}),
            "plan bbbbbbbb…");
}

TEST(LanguageOfErrors, WhatHasNoPhraseIsToldByItsKind) {
  const Language words({{"error.io", "La máquina no pudo."}},
                       book({{"try again", "otra vez"}}, {{"{0} line {1}", "{0} línea {1}"}}));
  EXPECT_EQ(words.error({ErrorKind::kIo, "it failed", "a.csv line 2", "try again"}),
            "a.csv línea 2: La máquina no pudo. (otra vez)");
  EXPECT_EQ(words.error({ErrorKind::kIo, "it failed", "/media/stick", "do something"}),
            "/media/stick: La máquina no pudo.");
}

}  // namespace
}  // namespace ligule::screens
