// Pieces of the Trials screen that stand in two files.
#pragma once

#include <array>
#include <string>
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
// What is to be taken back, and the reasons that do it.
void draw_event_back(const Pen& pen, touch::Cutter& down, const flow::EventBackView& view);
// An event as one line: when, what, where, who.
[[nodiscard]] std::string event_head(const Pen& pen, const flow::EventRow& event);
// Its name: what and when.
[[nodiscard]] std::string event_name(const Pen& pen, const flow::EventRow& event);

}  // namespace ligule::screens
