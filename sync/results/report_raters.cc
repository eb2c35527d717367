#include "sync/results/report_raters.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <vector>

#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

constexpr std::string_view kUnknown = "–";

// Whole points of a percent; scores and the index of stages lie closer.
int rater_decimals(ScaleKind scale) {
  if (scale == ScaleKind::kPercent) return 0;
  return scale == ScaleKind::kStages ? 2 : 1;
}

// "6 points": how far apart, without its sign.
std::string points(double apart, ScaleKind scale) {
  std::string text = rounded(std::fabs(apart), rater_decimals(scale));
  const bool one = text == "1";
  text += scale == ScaleKind::kStages ? " index point" : " point";
  return one ? text : text + "s";
}

// What is told as no difference: less than the last digit that is shown, as on the tablet.
bool is_near(double apart, ScaleKind scale) {
  return std::fabs(apart) < std::pow(10.0, -rater_decimals(scale));
}

std::string somebody(const std::string& name) {
  return name.empty() ? std::string("somebody unknown") : name;
}

std::string counted_things(std::size_t n, const char* one) {
  return std::to_string(n) + " " + one + (n == 1 ? "" : "s");
}

// "6 points higher", "0.3 points lower".
std::string higher(double apart, ScaleKind scale) {
  return points(apart, scale) + (apart > 0.0 ? " higher" : " lower");
}

std::string too_few(const RaterAgreement& of) {
  const std::string rater = somebody(of.rater);
  if (of.kind == RaterKind::kPractice)
    return rater + " rated " + counted_things(of.n, "drawn stand") + " on " + of.other +
           ": too few to say how far off.";
  if (of.kind == RaterKind::kRepeat)
    return rater + " rated " + counted_things(of.n, "plot") +
           " again: too few to say by how much that differs.";
  return rater + " rated " + counted_things(of.n, "plot") + " that " + somebody(of.other) +
         " rated too: too few to say by how much they differ.";
}

// What `rater` did, up to the spread.
std::string did(const RaterAgreement& of, double mean) {
  const ScaleKind scale = of.at.scale;
  const bool near = is_near(mean, scale);
  if (of.kind == RaterKind::kPractice)
    return "rated drawn stands " +
           (near ? std::string("as they were drawn")
                 : points(mean, scale) + (mean > 0.0 ? " high" : " low")) +
           " on " + of.other;
  if (of.kind == RaterKind::kRepeat && of.rater == of.other)
    return (near ? std::string("rated much the same") : "rated " + higher(mean, scale)) +
           " the second time";
  const std::string again = of.kind == RaterKind::kRepeat ? "looked again and " : "";
  return again + (near ? "rated much as " + somebody(of.other) + " did"
                       : "rated " + higher(mean, scale) + " than " + somebody(of.other));
}

std::string drift_in_words(const RaterAgreement& of, double alpha) {
  if (!of.drift_p || *of.drift_p > alpha) return {};
  std::string list;
  for (const RaterBlock& block : of.blocks) {
    if (!block.mean_difference) continue;
    if (!list.empty()) list += ", ";
    list += rounded(*block.mean_difference, rater_decimals(of.at.scale)) + " in block " +
            std::to_string(block.block);
  }
  return " The difference changed from block to block: " + list + ".";
}

std::string in_plain_words(const RaterAgreement& of, double alpha) {
  if (!of.mean_difference || !of.spread) return too_few(of);
  const std::string what = of.kind == RaterKind::kPractice ? "stand" : "plot";
  return somebody(of.rater) + " " + did(of, *of.mean_difference) + ", give or take " +
         rounded(*of.spread, rater_decimals(of.at.scale)) + ", on " +
         counted_things(of.n, what.c_str()) + "." + drift_in_words(of, alpha);
}

// "AB 2 points low (standard error 0.8, 24 plots), CD 2 points high (...)".
std::string effects_in_words(const SurveyRaters& of) {
  std::string list;
  for (const SurveyRater& rater : of.raters) {
    if (!list.empty()) list += ", ";
    list += somebody(rater.rater) + " ";
    list += is_near(rater.effect, of.at.scale)
                ? std::string("near the mean (")
                : points(rater.effect, of.at.scale) + (rater.effect > 0.0 ? " high (" : " low (");
    if (rater.standard_error)
      list += "standard error " + rounded(*rater.standard_error, rater_decimals(of.at.scale) + 1) +
              ", ";
    list += counted_things(rater.n, "plot") + ")";
  }
  return list;
}

// "AB, CD and EF".
std::string names_of(const SurveyRaters& of) {
  std::string names;
  for (std::size_t n = 0; n < of.raters.size(); ++n) {
    if (n > 0) names += n + 1 == of.raters.size() ? " and " : ", ";
    names += somebody(of.raters[n].rater);
  }
  return names;
}

std::string p_value(double p) {
  return p < 0.001 ? std::string("below 0.001") : rounded(p, 3);
}

std::string in_plain_words(const SurveyRaters& of, double alpha) {
  const std::string head = names_of(of) + " shared this rating";
  if (of.with_blocks)
    return head + " by whole blocks: " + effects_in_words(of) +
           ", each together with the ground of their blocks, which can't be told apart.";
  if (!of.p) return head + "; too few plots to tell whether one rated higher.";
  const std::string p = " (p " + p_value(*of.p) + ")";
  if (*of.p > alpha)
    return head + "; beside entries and blocks no difference between them can be told" + p + ".";
  return head + "; beside entries and blocks " + effects_in_words(of) + p + ".";
}

std::string shown(const std::optional<double>& number, int decimals) {
  return number ? rounded(*number, decimals) : std::string(kUnknown);
}

std::string shown(const std::optional<Agreed>& agreed) {
  if (!agreed) return std::string(kUnknown);
  std::string text = rounded(agreed->value, 2);
  if (agreed->low && agreed->high)
    text += " (" + rounded(*agreed->low, 2) + " to " + rounded(*agreed->high, 2) + ")";
  return text;
}

std::string against(const RaterAgreement& of) {
  switch (of.kind) {
    case RaterKind::kPractice:
      return "drawn stands, " + of.other;
    case RaterKind::kRepeat:
      return somebody(of.other) + ", first look";
    case RaterKind::kSecond:
      break;
  }
  return somebody(of.other);
}

std::string row_of(const RaterAgreement& of) {
  const int decimals = rater_decimals(of.at.scale) + 1;
  std::string row = element("th", escaped(somebody(of.rater)), "scope=\"row\"") +
                    element("td", escaped(against(of)), "class=\"list\"");
  for (const std::string& cell :
       {std::to_string(of.n), shown(of.mean_difference, decimals), shown(of.spread, decimals),
        shown(of.concordance), shown(of.icc), shown(of.kappa, 2),
        of.drift_p ? p_value(*of.drift_p) : std::string(kUnknown)})
    row += element("td", cell);
  return element("tr", row) + "\n";
}

std::string figures_table(const std::string& rows) {
  std::string head;
  for (const char* name : {"Rater", "Against", "n", "Difference", "Give or take", "Concordance",
                           "ICC(2,1)", "Weighted kappa", "Drift, p"})
    head += element("th", name, "scope=\"col\"");
  return element("div",
                 element("table", "\n" + element("thead", element("tr", head)) + "\n" +
                                      element("tbody", "\n" + rows) + "\n"),
                 "class=\"wide\"") +
         "\n";
}

auto key_of(const RatedAt& at) {
  return std::tie(at.test, at.year, at.occasion, at.measure);
}

std::string rating_named(const RatedAt& at) {
  std::string measure = at.measure;
  std::ranges::replace(measure, '_', ' ');
  return at.test + ", " + at.occasion + ": " + measure;
}

std::string part_of(const RaterFigures& figures, const RatedAt& at, double alpha) {
  std::string items;
  std::string rows;
  const auto item = [&items](const std::string& text) {
    items += element("li", escaped(text)) + "\n";
  };
  for (const RaterAgreement& of : figures.agreements) {
    if (key_of(of.at) != key_of(at)) continue;
    item(in_plain_words(of, alpha));
    rows += row_of(of);
  }
  for (const SurveyRaters& of : figures.surveys)
    if (key_of(of.at) == key_of(at)) item(in_plain_words(of, alpha));
  return element("h3", escaped(rating_named(at))) + "\n" + element("ul", "\n" + items) + "\n" +
         (rows.empty() ? std::string() : figures_table(rows));
}

// Every rating and measure that has a figure, each once, in order.
std::vector<RatedAt> places_of(const RaterFigures& figures) {
  std::vector<RatedAt> places;
  places.reserve(figures.agreements.size() + figures.surveys.size());
  for (const RaterAgreement& of : figures.agreements) places.push_back(of.at);
  for (const SurveyRaters& of : figures.surveys) places.push_back(of.at);
  std::ranges::stable_sort(
      places, [](const RatedAt& a, const RatedAt& b) { return key_of(a) < key_of(b); });
  const auto same = std::ranges::unique(
      places, [](const RatedAt& a, const RatedAt& b) { return key_of(a) == key_of(b); });
  places.erase(same.begin(), same.end());
  return places;
}

constexpr std::string_view kHowToRead =
    "Difference is the mean over the plots that both rated, give or take the standard deviation of "
    "those differences: about two plots in three lie within it. Concordance (Lin 1989, Biometrics "
    "45:255), ICC(2,1) (Shrout and Fleiss 1979, Psychological Bulletin 86:420) and kappa weighted "
    "by squared steps (Cohen 1968, Psychological Bulletin 70:213) are 1 where two rate all alike "
    "and near 0 where they agree no better than chance; brackets are intervals of 95&nbsp;%. A "
    "small p of drift says that the difference was not the same in all blocks. None of this "
    "changes a result: only first values count.";

}  // namespace

std::string raters_section(const RaterFigures& figures, double alpha) {
  if (figures.empty()) return {};
  std::string html = element("h2", "How the raters agree") + "\n";
  for (const RatedAt& at : places_of(figures)) html += part_of(figures, at, alpha);
  if (!figures.agreements.empty())
    html += element("p", std::string(kHowToRead), "class=\"notes\"") + "\n";
  return element("section", "\n" + html, "id=\"raters\"") + "\n";
}

}  // namespace ligule::results
