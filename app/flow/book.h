// Looking into an open occasion: what stands in a slot, what is open on a plot. Used by update and
// views, not by other rooms.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/intents.h"
#include "app/flow/model.h"
#include "storage/trial/reached.h"

namespace ligule::flow {

enum class Durability { kKept, kSaving, kNotSaved };

// Put off, or a stage that is not reached yet.
[[nodiscard]] inline bool is_to_come(const Record& record) {
  return record.state == ValueState::kLater || says_not_yet(record);
}

// What a slot holds when acts under way are counted in.
struct Cell {
  std::optional<KnownClaim> claim;  // empty: nothing entered, or taken back
  Durability durability = Durability::kKept;

  // No value yet, or one to come.
  [[nodiscard]] bool open() const { return !claim || is_to_come(claim->record); }
};

[[nodiscard]] Slot slot_of(const Record& record);  // the record's subject must be set
[[nodiscard]] const KnownTrial& trial_of(const Model& model, const Book& book);
// None: no plan of it is on this tablet.
[[nodiscard]] const KnownTrial* trial_with(const Model& model, TrialId id);
[[nodiscard]] Uuid plot_subject(const Model& model, const Book& book, const PlanPlot& plot);

// What a value given now is of: first, repeat or second.
[[nodiscard]] Purpose purpose_at(const Book& book, const Uuid& subject);
// What stands of that purpose; `cell_at` looks for the one a value given now would be of.
[[nodiscard]] Cell cell_as(const Model& model, const Book& book, const Slot& slot, Purpose purpose);
[[nodiscard]] Cell cell_at(const Model& model, const Book& book, const Slot& slot);
// The claim of `cell_at` without a copy where the book itself holds it; null: nothing. `under_way`
// holds one that acts under way spoke of.
[[nodiscard]] const KnownClaim* claim_at(const Model& model, const Book& book, const Slot& slot,
                                         std::optional<KnownClaim>& under_way);
// What was weighed there; empty: nothing, or why there is none.
[[nodiscard]] std::optional<Kilograms> mass_at(const Model& model, const Book& book,
                                               const Slot& slot);
// The first part, of a gross weight the first bag that stands; of a date the visit that found it
// reached, else the last one.
[[nodiscard]] Cell cell_of(const Model& model, const Book& book, const PlanPlot& plot,
                           std::string_view measure);
// Parts of a measure that stand, in order.
[[nodiscard]] std::vector<int> parts_of(const Model& model, const Book& book, const Uuid& subject,
                                        std::string_view measure);

// The scale a plot's measure is judged on, and the unit a person gives it in; null: none.
[[nodiscard]] const Scale* scale_of(const Model& model, const KnownTrial& trial,
                                    const PlanPlot& plot, std::string_view measure);
// What is usual of a measure on a plot, by the species it holds; null: nobody says.
[[nodiscard]] const Limit* limit_of(const Model& model, const KnownTrial& trial,
                                    const PlanPlot& plot, std::string_view measure);
[[nodiscard]] std::string unit_of(const Setup& setup, std::string_view measure, const Scale& scale);

// The unit a slot is entered in: that of the value standing there, so that a form which shows it
// never turns 30 kg into 30 lb; else the person's.
[[nodiscard]] std::string unit_for(const Setup& setup, std::string_view measure, const Scale& scale,
                                   const Cell& cell);

// Whether a plot of a cutting has its weight and still no sample bag, where the plan wants one. Its
// fresh weight may come later, by the bag's number.
[[nodiscard]] bool bag_is_due(const Model& model, const Book& book, const PlanPlot& plot);
// What the values of a bag are about: the reading that first numbered it, at this plot or, of a
// composite, at another.
[[nodiscard]] RecordId bag_subject(const KnownClaim& number);

enum class PlotState { kOpen, kLater, kDone };
[[nodiscard]] PlotState plot_state(const Model& model, const Book& book, const PlanPlot& plot);
// The first needed measure of a plot without a value, put off ones last; empty when there is none.
[[nodiscard]] std::string next_measure(const Model& model, const Book& book, const PlanPlot& plot);
// The next open plot after `from` along the path, then from its start; when none is open, one that
// was put off. Empty: everything is done. `from` itself counts last.
[[nodiscard]] std::optional<std::size_t> next_open(const Model& model, const Book& book,
                                                   std::size_t from);
[[nodiscard]] std::optional<std::size_t> place_of(const Book& book, std::string_view plot);

// Where a plot's value of a measure is: its own, or that of its sample bag; empty when it has no
// bag.
[[nodiscard]] std::optional<Slot> slot_on(const Model& model, const Book& book,
                                          const PlanPlot& plot, std::string_view measure);

// Parts of notes that stand on a plot.
[[nodiscard]] std::vector<int> note_parts(const Model& model, const Book& book,
                                          const PlanPlot& plot);

// Whether a person may enter values: not too many under way, nothing unsaved, nobody asked.
[[nodiscard]] bool can_enter(const Model& model);
[[nodiscard]] bool names_shown(const Model& model, OccasionId occasion);

// The book of the present screen; null when it has none.
[[nodiscard]] Book* book_of(Screen& screen);
[[nodiscard]] const Book* book_of(const Screen& screen);

// The plots that take part now, along the path: those with a measure of the occasion, and those on
// which something was recorded all the same.
[[nodiscard]] std::vector<PlanPlot> walked(const Model& model, const Book& book);
// A book of what was loaded. Empty when trial or occasion is not known here.
[[nodiscard]] std::optional<Book> open_book(const Model& model, const OccasionLoaded& loaded);
// Other cuttings as far as their weights were loaded.
[[nodiscard]] std::vector<Elsewhere> open_elsewhere(const Model& model,
                                                    std::vector<CuttingWeighed> loaded);
// The book of a cutting that is open on the screen, or lies beside it; null: none is.
[[nodiscard]] const Book* book_with(const Screen& screen, OccasionId occasion);
// Takes the records of a kept act that are about the book's occasion into it.
void fold(Book& book, std::span<const Record> records);

// The numbers of a plot's bags: its sample's first, then those of the parts it was sorted into.
[[nodiscard]] std::vector<Cell> bag_numbers(const Model& model, const Book& book,
                                            const PlanPlot& plot);

// Bags of this occasion that are filled and not dried, by their first bag_number reading, and those
// of other occasions as loaded.
struct FilledBag {
  RecordId bag;
  PlotId plot;
  std::string number;
};
[[nodiscard]] std::vector<FilledBag> bags_filled(const Model& model, const Book& book,
                                                 const std::vector<OpenBag>& open_bags);
// Whether somebody declared the occasion done, words still on their way to the ledger included.
[[nodiscard]] bool is_closed(const Model& model, OccasionId occasion);

}  // namespace ligule::flow
