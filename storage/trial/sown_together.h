// Entries of a trial are sown together: what is sown later is a test of its own, since plots of
// another age can't be compared with the others. Pure; the ledger keeps everybody to it.
#pragma once

#include <span>
#include <string_view>

#include "storage/trial/calendar.h"
#include "storage/trial/error.h"
#include "storage/trial/plan.h"

namespace ligule {

// The reason that a plan's record gives where a person vouches that what the plan adds was sown
// with the others, and only left out of the plan before.
inline constexpr std::string_view kSownWithTheOthers = "sown_with_the_others";

// When a plan is taken in, and what is said with it.
struct Enrolment {
  CalendarDate on{};
  bool sown_with_the_others = false;  // somebody vouches for it
  bool has_values = false;            // the trial has some, so it was sown as its plans said
};

// kRefused, with every code and number, where a revision adds entries, or plots of entries that
// were there, was sown on a day before it is taken in (of a trial that has values the earliest day
// that any of its plans says), and nobody vouches. held: the trial's plans
// until now; what stood in any of them was sown with it. Names no variety: whoever reads it may be
// about to rate blind. That plots of one sowing are compared and others not is common practice, no
// source.
[[nodiscard]] Result<void> check_sown_together(std::span<const Plan> held, const Plan& revision,
                                               const Enrolment& enrolment);

}  // namespace ligule
