// What a plot really holds, being stated: on the Trials screen, or in one tap from the card of the
// plot one stands at. Used by update and views; not for other rooms.
#pragma once

#include <string>

#include "app/flow/turn.h"
#include "app/flow/views.h"

namespace ligule::flow {

// What is said on the form; false: the intent is about something else.
bool state_on(const Turn& turn, const KnownTrial& trial, SownForm& form, const Intent& intent);
// Keeps what the form says, of two plots in one act where they were exchanged; false: nothing was
// kept, and a notice says why where a person can mend it.
bool keep_sown(Turn& turn, const KnownTrial& trial, const SownForm& form,
               const std::string& reason);
// What was stated of a plot last; null: nothing.
[[nodiscard]] const AsSown* stated_of(const KnownTrial& trial, const PlanPlot& plot);
[[nodiscard]] SownFormView sown_view(const Model& model, const KnownTrial& trial,
                                     const SownForm& form);

// --- over the card
// Opens the form of the plot one stands at; the card waits below as it is.
void show_stands(Turn& turn);
// Somebody names a plot that was abandoned: its form asks what stands there, so that it can be
// recorded after all. False: it was not, or nothing can be stated now.
bool ask_abandoned(Turn& turn, const Book& book, const std::string& number);
// While it is open; false: the intent is not of it.
bool in_stands(Turn& turn, const Intent& intent);
// A statement is kept: the card that is open walks the plots that take part now.
void sown_changed(Turn& turn, const Act& act);
// What the card shows of it.
[[nodiscard]] StandsView stands_view(const Model& model, const Book& book);

}  // namespace ligule::flow
