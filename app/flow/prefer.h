// Preferences: what is chosen, and by whom. Shared by update and views; not for other rooms.
#pragma once

#include <vector>

#include "app/flow/intents.h"
#include "app/flow/views.h"

namespace ligule::flow {

struct Turn;

// Of the person who holds the tablet; of nobody else's while nobody does.
[[nodiscard]] const PersonChoices& choices_of(const Model& model);
// Sets Setup::units by the choices that hold now.
void use_units(Model& model);

// The person who holds the tablet now has it their way.
void take_up(Turn& turn);
void choose_preference(Turn& turn, const Choose& intent);
void preferences_read(Turn& turn, PreferencesRead outcome);

void show_tablet(Turn& turn);
void measure_glass(Turn& turn);
void step_glass(Turn& turn, int by);
void keep_glass(Turn& turn);
void own_glass(Turn& turn);

[[nodiscard]] std::vector<OptionView> languages_of(const Model& model);
[[nodiscard]] std::vector<PreferenceView> preferences_of(const Model& model);
[[nodiscard]] bool can_step_glass(const Model& model, double ppi, int by);

}  // namespace ligule::flow
