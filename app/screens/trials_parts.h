// Pieces of the Trials screen that stand in two files.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/screens/pen.h"

namespace ligule::screens {

// What a status shows: the sign of a plot that has one.
[[nodiscard]] touch::Shape shape_of(AsSownStatus status);
inline constexpr std::array kSownStatuses{AsSownStatus::kAsPlanned, AsSownStatus::kHolds,
                                          AsSownStatus::kUnknown, AsSownStatus::kReseeded,
                                          AsSownStatus::kAbandoned};
// Key of a status's words: "sown.as_planned".
[[nodiscard]] std::string_view sown_key(AsSownStatus status);

// What stands stated of the form's plot.
[[nodiscard]] std::string sown_stated(const Language& words, const flow::SownFormView& view);
// Whether that stands in the head of the page; else the form begins with it.
[[nodiscard]] bool sown_head_has_room(const touch::Ui& ui);

struct Chip {
  std::string label;  // with ## and an id
  bool selected = false;
  bool enabled = true;
};
// As many beside each other as keep their words, with that much air beside them, each row as full
// as the others; of usual text rather on two lines than one below another. Gives back the one
// tapped.
[[nodiscard]] std::optional<std::size_t> chips(const Pen& pen, touch::Cutter& down,
                                               const std::vector<Chip>& all, double least_mm,
                                               double height_mm = 13, double air_mm = 5);
void heading(const Pen& pen, touch::Cutter& down, std::string_view key);
// A date in steps of a day, minus is the day before: -1, 0 or 1.
[[nodiscard]] int day_step(const Pen& pen, touch::Cutter& down, std::string_view label,
                           const std::string& day, bool can_later);
// Digits in the lower part of the page, or beside what is typed; gives back the room for that.
[[nodiscard]] touch::Rect draw_digits(const Pen& pen, touch::Cutter& down,
                                      const touch::NumberPad& pad);
void draw_day(const Pen& pen, touch::Cutter& down, std::string_view label, const std::string& day,
              bool can_later);

// What sticks and cards hold: plans, and other tablets' spare copies.
void draw_sources(const Pen& pen, touch::Cutter& down, const flow::PlanPickView& view);
// Is this copy to be gone on from?
void draw_offered_copy(const Pen& pen, touch::Cutter& down, const flow::OfferedCopyView& view);
// Are the letters those of that tablet? Then its file is taken in.
void draw_offered_file(const Pen& pen, touch::Cutter& down, const flow::OfferedFileView& view);
// The soil test, and what tables say of it.
void draw_soil(const Pen& pen, touch::Cutter& down, const std::vector<flow::SoilRow>& rows);
// What a plot really holds.
void draw_sown_form(const Pen& pen, touch::Cutter& down, const flow::SownFormView& view);
// What happened to the trial.
void draw_event_form(const Pen& pen, touch::Cutter& down, const flow::EventFormView& view);
// What is to be taken back, and the reasons that do it.
void draw_event_back(const Pen& pen, touch::Cutter& down, const flow::EventBackView& view);
// An event as one line: when, what, where, who.
[[nodiscard]] std::string event_head(const Pen& pen, const flow::EventRow& event);
// What is known of it beside its words, on one line or several; empty: nothing.
[[nodiscard]] std::string event_facts(const Pen& pen, const flow::EventRow& event);
// Its name: what and when.
[[nodiscard]] std::string event_name(const Pen& pen, const flow::EventRow& event);

}  // namespace ligule::screens
