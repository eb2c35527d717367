// Pieces of the Trials screen that stand in two files.
#pragma once

#include <array>
#include <string_view>

#include "app/screens/pen.h"

namespace ligule::screens {

inline constexpr std::array kSownStatuses{AsSownStatus::kAsPlanned, AsSownStatus::kHolds,
                                          AsSownStatus::kUnknown, AsSownStatus::kReseeded,
                                          AsSownStatus::kAbandoned};
// Key of a status's words: "sown.as_planned".
[[nodiscard]] std::string_view sown_key(AsSownStatus status);

// What a plot really holds.
void draw_sown_form(const Pen& pen, touch::Cutter& down, const flow::SownFormView& view);
// What happened to the trial.
void draw_event_form(const Pen& pen, touch::Cutter& down, const flow::EventFormView& view);

}  // namespace ligule::screens
