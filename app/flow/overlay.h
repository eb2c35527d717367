// What lies above a screen, by value: the lock, a question, NOT SAVED, a notice.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/load.h"
#include "app/flow/look_views.h"
#include "app/flow/model.h"
#include "app/flow/views_common.h"
#include "storage/trial/error.h"

namespace ligule::flow {

struct PhraseView {
  std::string code;  // send back in AnswerQuestion; words: "phrase." + code
  bool keeps = true;

  bool operator==(const PhraseView&) const = default;
};
struct QuestionView {
  Words text;  // "check." ...
  std::string plot;
  std::string measure;
  std::string shown;     // the value, its unit with it
  std::string word;      // key: in place of what is shown
  bool on_hold = false;  // will be kept on hold
  std::vector<PhraseView> phrases;
  OwnNames own_names = {};  // of the measure's trial

  bool operator==(const QuestionView&) const = default;
};
struct UnsavedView {
  std::size_t acts = 0;
  std::vector<std::string> plots;  // without doubles
  Error error;

  bool operator==(const UnsavedView&) const = default;
};
struct LockView {
  bool first = false;      // the first corner was pressed: now the second
  bool not_saved = false;  // something waits behind it to be saved again

  bool operator==(const LockView&) const = default;
};
struct NoticeView {
  Words text;
  std::optional<Error> error;
  bool good = false;  // what was wanted came about; else somebody has to look

  bool operator==(const NoticeView&) const = default;
};
// A cutting that is about to begin before its day.
struct EarlyView {
  int cutting = 0;
  std::string due;
  int days = 0;  // until then

  bool operator==(const EarlyView&) const = default;
};
// A rating or cutting about to be closed with plots open, or with something to look at.
struct ClosingView {
  std::string trial_code;
  std::vector<std::string> open;
  std::vector<ClosingLook> looks = {};
  bool second = false;

  bool operator==(const ClosingView&) const = default;
};
// A load that moves was to be taken.
struct MovingView {
  bool averaging = false;
  std::int64_t seconds = 0;  // that it is averaged over
  LoadView load;
  std::optional<AveragedLoad> wide = {};  // was averaged, and lay far apart: is it kept?

  bool operator==(const MovingView&) const = default;
};
// What can hurt somebody here, to be read first.
struct CautionsView {
  std::vector<std::string> codes;  // words: "caution_title." + code, "caution." + code

  bool operator==(const CautionsView&) const = default;
};
// A block would be cut in two.
struct SplittingView {
  int block = 0;
  std::size_t open = 0;
  std::string machine;  // it was begun with; empty: somebody leaves

  bool operator==(const SplittingView&) const = default;
};
// The bar is set lower than what grows here bears.
struct LowStubbleView {
  std::string setting;
  std::string least;  // with its unit

  bool operator==(const LowStubbleView&) const = default;
};
// Plots of another cutting than the one that is open.
struct DoubtedElsewhere {
  std::string trial;
  int cutting = 0;
  std::vector<std::string> plots;

  bool operator==(const DoubtedElsewhere&) const = default;
};
// A check weight was off.
struct DoubtedView {
  bool was = false;  // not just now
  std::string off;
  std::string allowance;
  std::vector<std::string> plots;  // of the cutting that is open, whose weights are in doubt
  std::size_t weights = 0;         // in all cuttings
  std::vector<DoubtedElsewhere> elsewhere = {};
  std::string when = {};  // "2026-05-04 10:40"

  bool operator==(const DoubtedView&) const = default;
};
// Two neighbours' weights may have been exchanged.
struct SwappedView {
  std::string one;  // plots, with what was weighed for each
  std::string one_weight;
  std::string other;
  std::string other_weight;

  bool operator==(const SwappedView&) const = default;
};
// Nothing else can be tapped while cautions, low stubble, splitting, doubted, swapped, moving, no
// entry, early, closing, lock, question or unsaved is there; a notice stands until the next tap.
// Behind the lock questions and NOT SAVED wait.
struct Overlay {
  std::optional<LockView> lock;
  std::optional<NoEntryView> no_entry;
  std::optional<EarlyView> early;
  std::optional<AsSecond> as_second;
  std::optional<ClosingView> closing;
  std::optional<CautionsView> cautions;
  std::optional<LowStubbleView> low_stubble;
  std::optional<SplittingView> splitting;
  std::optional<MovingView> moving;
  std::optional<DoubtedView> doubted;
  std::optional<SwappedView> swapped;
  std::optional<UnsavedView> unsaved;
  std::optional<QuestionView> question;
  std::optional<NoticeView> notice;

  bool operator==(const Overlay&) const = default;
};
[[nodiscard]] Overlay overlay_of(const Model& model);

}  // namespace ligule::flow
