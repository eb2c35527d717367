#include "storage/trial/sown_together.h"

#include <algorithm>
#include <string>

namespace ligule {
namespace {

void add_to_list(std::string& list, const std::string& one) {
  if (!list.empty()) list += ", ";
  list += one;
}

std::string later_told(const std::string& entries, const std::string& plots,
                       const std::string& sown) {
  if (plots.empty())
    return "entries " + entries + " are new in the trial, which was sown on " + sown;
  if (entries.empty()) return "plots " + plots + " are new in the trial, which was sown on " + sown;
  return "entries " + entries + " and plots " + plots +
         " are new in the trial, which was sown on " + sown;
}

}  // namespace

Result<void> check_sown_together(std::span<const Plan> held, const Plan& revision,
                                 const Enrolment& enrolment) {
  // Sowing may be put off; not that of plots that somebody has been at.
  CalendarDate sown = revision.sown;
  if (enrolment.has_values)
    for (const Plan& plan : held) sown = std::min(sown, plan.sown);
  if (enrolment.sown_with_the_others || !(sown < enrolment.on)) return {};
  const auto known = [&](const std::string& code) {
    return std::ranges::any_of(held,
                               [&](const Plan& plan) { return plan.find_entry(code) != nullptr; });
  };
  const auto stood = [&](const std::string& number) {
    return std::ranges::any_of(held,
                               [&](const Plan& plan) { return plan.find_plot(number) != nullptr; });
  };
  std::string entries;
  std::string plots;
  for (const PlanEntry& entry : revision.entries)
    if (!known(entry.code)) add_to_list(entries, entry.code);
  for (const PlanPlot& plot : revision.plots)
    if (!stood(plot.number) && known(plot.entry)) add_to_list(plots, plot.number);
  if (entries.empty() && plots.empty()) return {};
  return fail(ErrorKind::kRefused, later_told(entries, plots, format_date(sown)),
              "trial " + revision.codes.trial,
              "what is sown later is a trial of its own: give it another trial code. Where it was "
              "sown that day and the plan only left it out, enrol it at the desk with "
              "--sown-with-the-others");
}

}  // namespace ligule
