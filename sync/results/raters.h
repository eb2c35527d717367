// How far the people who rated a trial agree: second raters, blind repeats, practice, and whether
// some of those who shared one rating gave more than others.
//
// What is compared are standing claims: a first value (purpose survey) with what a second person
// (second) or a later look (repeat) gave to the same plot, measure and occasion; of practice what
// was said of a drawn stand with what was drawn. Entries play no part in any of it but in the
// effects within one rating, and are named nowhere.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "storage/trial/scale.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

enum class RaterKind { kSecond, kRepeat, kPractice };
[[nodiscard]] std::string_view name_of(RaterKind kind);  // "second", "repeat", "practice"

// A coefficient of agreement with its interval of 95 percent.
struct Agreed {
  double value = 0.0;
  std::optional<double> low;
  std::optional<double> high;
};

// What was rated, and when.
struct RatedAt {
  std::string test;
  int year = 0;
  std::string occasion;  // code of the rating or cutting
  std::string measure;
  ScaleKind scale = ScaleKind::kPercent;
};

struct RaterBlock {
  int block = 0;
  std::size_t n = 0;
  std::optional<double> mean_difference;
  std::optional<double> standard_error;
};

// `rater` against `other`, over the plots (of practice: drawn stands) that both have a value of.
// Differences are of `rater` less `other`, in the scale's numbers: points of a percent or score,
// the index of a stage.
struct RaterAgreement {
  RatedAt at;
  RaterKind kind = RaterKind::kSecond;
  std::string rater;  // initials; empty: nobody knows
  std::string other;  // initials of whoever gave the first value; of practice the day, YYYY-MM-DD
  std::size_t n = 0;
  // As checks::rating_offset() has them, so that tablet and desk say the same: empty below three.
  std::optional<double> mean_difference;
  std::optional<double> spread;
  std::optional<Agreed> concordance;  // Lin (1989)
  // The rest is empty of practice: known percents are no rater.
  std::optional<Agreed> icc;  // ICC(2,1), Shrout & Fleiss (1979)
  // Cohen (1968) with squared steps of the scale: those of a score, the stages in their order, of
  // percents the coarse step that the pad offers (5), to the nearest. Empty where a value stands on
  // no step.
  std::optional<double> kappa;
  // Whether the difference is another in some blocks: somebody's eye changed on the way.
  std::optional<double> drift_f;
  std::optional<double> drift_p;
  std::vector<RaterBlock> blocks;  // that have a pair, by number
};

struct SurveyRater {
  std::string rater;
  std::size_t n = 0;    // plots
  double effect = 0.0;  // above the mean of all raters
  std::optional<double> standard_error;
};

// Several people shared one rating: what each gave beside what entries and blocks explain.
struct SurveyRaters {
  RatedAt at;
  bool with_blocks = false;  // they rated whole blocks: person and ground can't be told apart
  std::vector<SurveyRater> raters;
  std::optional<double> f;
  std::optional<double> p;
};

struct RaterFigures {
  std::vector<RaterAgreement> agreements;  // by year, occasion, measure, kind, rater, other
  std::vector<SurveyRaters> surveys;       // by year, occasion, measure
  std::vector<Error> left_out;             // seconds and repeats on hold or in conflict
  std::vector<Error> notices;

  [[nodiscard]] bool empty() const { return agreements.empty() && surveys.empty(); }
};

// Initials by person. People are their initials: two of one name are one person here, and what one
// of them gave after the other is told as a notice and compared with nothing.
using People = std::map<PersonId, std::string>;

// Of every measure on an ordered scale: percents, scores, stages. Whoever corrected a value is its
// rater, whoever only moved or settled it is not (TrialFacts::raters). A plot that one of the two
// has no value of is no pair; a zero counts as 0, as in the tables. Several second people are each
// compared with the first value. test: what results call the trial.
[[nodiscard]] RaterFigures raters_of(const TrialFacts& trial, const std::string& test,
                                     const People& people);

}  // namespace ligule::results
