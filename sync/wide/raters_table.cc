#include "sync/wide/raters_table.h"

#include "sync/results/raters.h"
#include "sync/wide/cells.h"

namespace ligule::wide {
namespace {

using enum files::CellType;
using files::kMayBeEmpty;
using files::kRequired;

}  // namespace

WideTable raters_table(const results::LedgerFacts& facts) {
  WideTable table{
      .name = "raters",
      .description =
          "How far people who rated the same agree; whether an eye changed on the way, concordance "
          "and kappa are in the tables of a gathered ledger.",
      .columns = {{"test", kText, kMayBeEmpty, "what tables call the trial"},
                  {"occasion", kText, kMayBeEmpty, "code of the rating or cutting"},
                  {"measure", kText, kMayBeEmpty, "code of the measure"},
                  {"compared",
                   kWord,
                   kRequired,
                   "second: with another person; repeat: the same plot again; practice: with drawn "
                   "stands of known percent",
                   {"second", "repeat", "practice"}},
                  {"rater", kText, kMayBeEmpty, "initials; empty: nobody knows"},
                  {"other", kText, kMayBeEmpty,
                   "initials of who gave the first value; of practice the day"},
                  {"n", kInteger, kRequired, "plots or stands that both have a value of"},
                  {"mean_difference", kNumber, kMayBeEmpty,
                   "rater less other, on the scale; empty of fewer than three"},
                  {"spread", kNumber, kMayBeEmpty, "standard deviation of the differences"}},
      .primary_key = {"test", "occasion", "measure", "compared", "rater", "other"}};
  const auto names = results::test_names(facts.trials);
  for (std::size_t n = 0; n < facts.trials.size(); ++n) {
    const auto figures = results::raters_of(facts.trials[n], names[n], facts.people);
    for (const results::RaterAgreement& of : figures.agreements) {
      table.add({of.at.test, of.at.occasion, of.at.measure, std::string(name_of(of.kind)), of.rater,
                 of.other, std::to_string(of.n), cell(of.mean_difference), cell(of.spread)});
    }
  }
  return table;
}

}  // namespace ligule::wide
