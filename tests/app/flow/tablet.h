// A tablet without a window: drives update() as a person and a writer would.
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <string_view>
#include <vector>

#include "app/flow/progress.h"
#include "app/flow/update.h"
#include "app/flow/views.h"

namespace ligule::flow {

// Two trials at one site. G1: six plots in two blocks, entries A and B tall fescue, C alfalfa.
[[nodiscard]] Definitions test_definitions();
[[nodiscard]] Plan grass_plan();
// W1: the same with entries enough to tell how far plots lie apart, A to H in block 1. The tablet
// has to be given it.
[[nodiscard]] Plan wide_plan(const std::vector<std::string>& block_two = {"D", "E", "F", "G", "H",
                                                                          "C", "A", "B"});
[[nodiscard]] Plan annual_plan();  // A1: two plots of one entry

class Tablet {
 public:
  // Started and signed in as "AB", the morning of the given day (2026-05-04).
  Tablet();
  explicit Tablet(CalendarDate day);

  // What a person does; two seconds pass.
  Effects tap(Intent intent);
  // The writer catches up: every append waiting is kept, loads are answered from what was kept.
  void settle();
  // The same, but copies of the ledger are only begun.
  void settle_but_copies();
  // Writes fail from now on (or work again).
  void break_disk(bool broken) { broken_ = broken; }
  // The program is closed and started again; the ledger stays.
  void restart();
  void sign_in(const std::string& initials);
  void next_day();                                          // with the same person
  void rest(UtcInstant::duration time) { clock_ += time; }  // nobody touches it

  void open(const Plan& plan, std::string_view occasion);
  // Leaves what is open for the map of Review.
  void look_over(const Plan& plan, std::string_view occasion);
  void choose(std::string_view measure, std::string_view entered);
  void type(std::string_view text);
  // A scanner: letters without a pause, then Enter, which some leave out.
  void scan(std::string_view text, bool enter = true);
  void fill(Field field, std::string_view text);
  void answer(std::string_view phrase);

  [[nodiscard]] RateView rate() const;
  [[nodiscard]] WeighingView weighing() const;
  [[nodiscard]] DryView dry() const;
  [[nodiscard]] TodayView today() const;
  [[nodiscard]] ReviewView review() const;
  [[nodiscard]] MapView map() const;
  [[nodiscard]] MapCell on_map(std::string_view plot) const;
  [[nodiscard]] HistoryView history() const;
  [[nodiscard]] DaysEndView days_end() const;
  [[nodiscard]] Overlay above() const { return overlay_of(model); }
  [[nodiscard]] Mark mark(std::string_view plot) const;
  [[nodiscard]] std::string text(Field field) const;
  [[nodiscard]] std::string question() const;  // key; empty: none
  [[nodiscard]] std::string notice() const;
  [[nodiscard]] KnownClaim claim(const Record& record) const;
  // Claims of an occasion as the ledger would give them.
  [[nodiscard]] std::vector<KnownClaim> claims(OccasionId occasion) const;
  // What scales weighed in other cuttings, as the ledger would give it.
  [[nodiscard]] std::vector<CuttingWeighed> weighed_elsewhere(OccasionId here) const;
  // What plots were rated last in other occasions of a trial, as the ledger would give it.
  [[nodiscard]] std::map<std::string, RatedBefore> rated_before(TrialId trial,
                                                                OccasionId here) const;
  // closed: those with a dried weight, or given up, too.
  [[nodiscard]] std::vector<OpenBag> open_bags(bool closed = false) const;
  [[nodiscard]] TrialLoaded trial(TrialId id) const;
  // What the ledger holds about a plot and its bags, newest first.
  [[nodiscard]] std::vector<Record> records_about(TrialId trial, std::string_view plot) const;

  Model model;
  bool reads_cautions = true;  // what lies over the screen is read before anything else is tapped
  bool stops = true;           // splits a block without being asked twice
  bool agrees = true;          // says at every turn of the path that the stake is the one expected
  bool goes_on = true;         // with a rating that others rated, not as second person
  std::vector<Record> ledger;  // everything kept, in order
  std::vector<Cue> cues;
  Today today_answer;  // what LoadToday is answered with
  TabletFacts facts_answer;
  std::optional<Preferences> stored;         // as they were written last
  std::vector<PlanFolder> plan_folders;      // what FindPlans is answered with
  Intent plan_answer = PlanFaulty{};         // and ReadPlan
  StickPlans stick_answer;                   // and LookAtSticks
  std::size_t sticks_looked = 0;             // how often it was asked for
  std::vector<FoundCopy> copies_found;       // what FindPlans finds of other tablets
  LedgerCopied copies_answer;                // what CopyLedger is answered with
  std::size_t copied = 0;                    // how often it was asked for
  Intent over_answer = NotTakenOver{};       // and TakeOver
  std::vector<FoundFile> files_found;        // what FindPlans finds of other tablets' season files
  Intent file_answer = SeasonFileFaulty{};   // and ReadSeasonFile
  Intent gather_answer = NotGatheredHere{};  // and GatherFile

 private:
  void start(CalendarDate day);
  void send(Intent intent);
  void run(const Effect& effect);
  void add_seconds(Today& today) const;  // who is not done as second person

  UtcInstant clock_{};
  std::uint64_t ids_ = 0;
  bool broken_ = false;
  int failed_epoch_ = 0;
  std::vector<Effect> waiting_;
};

}  // namespace ligule::flow
