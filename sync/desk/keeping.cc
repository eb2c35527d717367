#include "sync/desk/keeping.h"

#include "sync/seal/begin.h"

namespace ligule::desk {

std::vector<Option> keeping_options(std::string only_check_help) {
  return {ledger_option("Ledger that holds the trial's plan"),
          {.name = "--trial",
           .value = "CODE",
           .help = "Trial, where needed with site and station: ridge/north/TF26",
           .required = true},
          {.name = "--only-check", .help = std::move(only_check_help)},
          device_option(),
          today_option()};
}

Result<KeepingAsked> keeping_asked(const Arguments& arguments) {
  KeepingAsked asked;
  asked.ledger = arguments.text("--ledger");
  asked.trial = arguments.text("--trial");
  const auto device = name_given(arguments, "--device");
  if (!device) return std::unexpected(device.error());
  asked.device = *device;
  const auto today = date_given(arguments, "--today");
  if (!today) return std::unexpected(today.error());
  asked.today = *today;
  asked.only_check = arguments.has("--only-check");
  return asked;
}

Result<TrialNow> trial_now(const OpenDesk& desk, const KeepingAsked& asked) {
  auto plan = plan_named(desk.ledger, asked.trial);
  if (!plan) return std::unexpected(plan.error());
  if (const auto fits = day_fits(desk.ledger, desk.demo, asked.today); !fits)
    return std::unexpected(fits.error());
  const auto now = moment(plan->plan.zone, asked.today);
  if (!now) return std::unexpected(now.error());
  return TrialNow{*std::move(plan), *now};
}

Result<void> keep_records(OpenDesk& desk, const KeepingAsked& asked, const Stamp& now,
                          const RecordsMade& make, Console& console) {
  const auto mine = desk.ledger.my_stream();
  const seal::Beginning beginning{mine ? mine->device : asked.device.value_or(""),
                                  std::string("ligule-desk ") + LIGULE_VERSION, now, desk.demo};
  const auto stream = begin_own_stream(desk.ledger, beginning, console);
  if (!stream) return std::unexpected(stream.error());
  auto ids = seal::continued_ids(desk.ledger, beginning);
  if (!ids) return std::unexpected(ids.error());
  auto records = make(*ids);
  if (!records) return std::unexpected(records.error());
  const auto kept = desk.ledger.append(*std::move(records));
  if (!kept) return std::unexpected(kept.error());
  return {};
}

}  // namespace ligule::desk
