#include "sync/results/closed_so.h"

#include <array>
#include <string_view>
#include <utility>

#include "storage/trial/details.h"
#include "storage/trial/said.h"

namespace ligule::results {
namespace {

// What the tablet told, by its code (app/flow/closing_looks.cc).
constexpr std::array<std::pair<std::string_view, std::string_view>, 4> kTold{
    {{"odd_run", "one value on many plots running"},
     {"shift_on", "values that fit better one plot further on"},
     {"shift_back", "values that fit better one plot back"},
     {"too_fast", "plots reached faster than anybody walks"}}};

}  // namespace

std::vector<Error> closed_so_notices(const TrialFacts& trial, const std::string& test,
                                     std::optional<int> year) {
  std::vector<Error> notices;
  for (const Record& closed : trial.closings) {
    const PlanOccasion* const occasion =
        closed.occasion ? trial.plan.find_occasion(*closed.occasion) : nullptr;
    if (occasion == nullptr || (year && occasion->year != *year)) continue;
    for (const Answer& answer : closed.answers) {
      if (answer.answer != said::kClosedSo) continue;
      std::string told = answer.rule;
      for (const auto& [code, words] : kTold)
        if (answer.rule == code) told = words;
      std::string what = occasion->code;
      what.append(" was closed with ").append(told);
      const std::string of = detail(closed.details, answer.rule);
      if (!of.empty()) what.append(": ").append(of);
      notices.push_back({ErrorKind::kRefused, std::move(what), test,
                         "look at these plots in Review; until then they count"});
    }
  }
  return notices;
}

}  // namespace ligule::results
