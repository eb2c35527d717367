// Pages of Review. Part of views.h.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/views_common.h"
#include "app/flow/views_fields.h"

namespace ligule::flow {

// A plot on the map.
struct MapCell {
  std::string plot;
  int row = 0;  // in the field, from 1
  int column = 0;
  Mark mark = Mark::kOpen;
  bool conflict = false;        // several values stand that differ
  bool odd = false;             // of a comparison: it changed as others did not
  std::string shown;            // the value as entered; empty: none
  std::optional<double> share;  // where the value lies between the ends of the legend, 0 to 1

  bool operator==(const MapCell&) const = default;
};
struct LegendStep {
  double share = 0;
  std::string text;

  bool operator==(const LegendStep&) const = default;
};
struct MapView {
  int rows = 0;
  int columns = 0;
  std::vector<MapCell> cells;
  std::vector<LegendStep> legend;  // ends and middle; empty: nothing that can be ordered
  std::string unit;
  std::string against;  // code of the occasion subtracted; empty: plain values

  bool operator==(const MapView&) const = default;
};
struct OccasionRow {
  TrialId trial;
  OccasionId occasion;
  std::string trial_code;
  std::string code;
  int done = 0;
  int total = 0;
  bool chosen = false;

  bool operator==(const OccasionRow&) const = default;
};
struct OccasionListView {
  bool against = false;  // the row tapped is compared with: ReviewAgainst
  std::vector<OccasionRow> rows;

  bool operator==(const OccasionListView&) const = default;
};
struct AskedView {
  std::string rule;    // words: "asked." + this
  std::string answer;  // words: "phrase." + this

  bool operator==(const AskedView&) const = default;
};
struct HistoryRow {
  RecordId id;
  std::string kind;  // words: "history." + this, with {0} what was replaced
  std::string date;
  std::string clock;
  std::string initials;    // empty: the program itself
  std::string measure;     // empty: not about a value
  std::string occasion;    // code
  std::string shown;       // with its unit; empty: no value
  std::string shown_word;  // key of words to show instead
  std::string said;        // key of words that were said with it
  std::string part = {};   // key of words: the part of a sorted sample it is about
  int bag = 0;             // of a second bag of the plot and on: which
  Mark mark = Mark::kKept;
  std::string reason;                 // a code with words "reason." + this, or somebody's own words
  std::vector<std::string> replaced;  // values it stands for, with their units
  std::vector<AskedView> asked;
  bool standing = false;
  bool conflict = false;
  bool can_mend = false;  // MendValue of id

  bool operator==(const HistoryRow&) const = default;
};
struct HistoryView {
  std::string plot;
  int block = 0;
  std::string names;  // empty while blind
  bool loaded = false;
  std::vector<HistoryRow> rows;  // newest first

  bool operator==(const HistoryView&) const = default;
};
// Puts one standing value right.
enum class MendPad { kNone, kSteps, kNumber };
struct ClaimView {
  RecordId id;  // MendValue of it chooses it
  std::string shown;
  std::string who;
  std::string date;
  std::string clock;
  Mark mark = Mark::kKept;
  bool chosen = false;
  std::string word = {};  // key: in place of what is shown
  std::string said = {};  // key: said with it

  bool operator==(const ClaimView&) const = default;
};
struct MendView {
  std::string plot;
  std::string measure;
  std::string unit;
  std::vector<ClaimView> claims;  // that stand; the chosen one is put right
  std::vector<Mend> ways;
  Mend what = Mend::kCorrect;
  MendPad pad = MendPad::kNone;
  bool decimals = false;
  std::vector<ChoiceView> choices;  // kSteps
  std::string scale;                // code and kind of the measure's scale: what a step looks like
  ScaleKind kind = ScaleKind::kScore;
  bool own_words = false;            // of a program's own score: their words are texts
  std::string typed;                 // kNumber
  std::vector<std::string> reasons;  // words: "reason." + code
  bool can_do = false;               // a reason can be tapped

  bool operator==(const MendView&) const = default;
};
// A plot beside the one that was asked about, along the path or across it.
struct NeighbourView {
  std::string plot;
  std::string shown;  // with its unit; empty: nothing
  Mark mark = Mark::kOpen;
  bool here = false;    // the one asked about
  bool across = false;  // in the next row of the field, not on the path

  bool operator==(const NeighbourView&) const = default;
};
// One value that a rule asked about or that is on hold; without any, nothing is left to settle.
struct QuestionsView {
  std::size_t count = 0;
  std::size_t place = 0;           // from 1
  std::optional<RecordId> before;  // ShowQuestion
  std::optional<RecordId> after;
  ClaimView claim;
  std::string plot;
  std::string measure;
  std::vector<AskedView> asked;
  std::vector<NeighbourView> beside;
  std::vector<std::string> reasons;  // for which it stands; empty: values contradict each other
  bool can_do = false;

  bool operator==(const QuestionsView&) const = default;
};

// How one person's values lie beside another's, or beside their own first ones, in points of the
// scale.
enum class Lies { kLike, kHigher, kLower };
struct BlockLies {
  int block = 0;
  Lies lies = Lies::kLike;
  std::string by;  // without a sign

  bool operator==(const BlockLies&) const = default;
};
struct AgreementRow {
  std::string measure;
  std::string rater;
  std::string other;  // who rated first; empty: the rater did
  Lies lies = Lies::kLike;
  std::string by;            // without a sign
  std::string give_or_take;  // one standard deviation
  std::size_t plots = 0;
  bool by_block = false;               // there were plots enough to look block by block
  std::vector<BlockLies> blocks = {};  // that differ by more than chance; empty: none do

  bool operator==(const AgreementRow&) const = default;
};
struct AgreementView {
  std::vector<AgreementRow> rows;  // by measure, as the card lists them

  bool operator==(const AgreementView&) const = default;
};

}  // namespace ligule::flow
