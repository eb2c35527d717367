// enrol: plans from folders into a ledger.
#include <filesystem>

#include "storage/files/assets.h"
#include "storage/files/plan_folder.h"
#include "sync/desk/ledgers.h"
#include "sync/gather/enrol.h"
#include "sync/seal/begin.h"

namespace ligule::desk {
namespace {

struct Plans {
  std::vector<Plan> plans;
  Definitions definitions;
};

// The tables of every plan have the same names, so what is said of one names its folder too.
Error within(const std::string& folder, Error fault) {
  const std::string inside = (std::filesystem::path(folder) / "").string();
  if (!fault.where.starts_with(inside)) fault.where.insert(0, inside);
  return fault;
}

// Reads and checks every folder; every fault of every one is listed.
files::Checked<Plans> read_plans(const std::vector<std::string>& folders, Definitions definitions,
                                 Console& console) {
  const auto assets = files::find_assets(console.files);
  if (!assets) return std::unexpected(files::Faults{assets.error()});
  const auto schemas = files::load_plan_schemas(console.files, *assets);
  if (!schemas) return std::unexpected(schemas.error());
  Plans read{{}, std::move(definitions)};
  files::Faults faults;
  for (const std::string& folder : folders) {
    auto plan = files::read_plan_folder(console.files, folder, *schemas, read.definitions);
    if (!plan) {
      for (const Error& fault : plan.error()) faults.push_back(within(folder, fault));
      continue;
    }
    for (const Error& notice : plan->notices)
      console.out << "to look at: " << one_line(within(folder, notice)) << "\n";
    read.plans.push_back(std::move(plan->plan));
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return read;
}

struct Wish {
  std::string ledger;
  std::vector<std::string> folders;
  std::optional<std::string> device;
  std::optional<CalendarDate> demo_day;
  bool sown_with_the_others = false;
};

Result<Wish> read_wish(const Arguments& arguments) {
  const auto device = name_given(arguments, "--device");
  if (!device) return std::unexpected(device.error());
  Wish wish{arguments.text("--ledger"),
            arguments.all("FOLDER"),
            *device,
            {},
            arguments.has("--sown-with-the-others")};
  const auto today = arguments.find("--today");
  if (today.has_value() != arguments.has("--demo")) {
    return fail(ErrorKind::kInvalid, "the two go together", "--demo and --today",
                "a demonstration ledger has an invented day: --demo --today 2026-06-01");
  }
  if (!today) return wish;
  const auto day = parse_date(*today);
  if (!day) return fail(ErrorKind::kInvalid, day.error().what, "--today", "write 2026-06-01");
  wish.demo_day = *day;
  return wish;
}

// Whether an existing stream is the one that was asked for.
Result<void> matches(const ledger::StreamInfo& stream, const Wish& wish) {
  if (wish.device && *wish.device != stream.device) {
    return fail(ErrorKind::kConflict, "the ledger is that of " + stream.device, wish.ledger,
                "leave --device out");
  }
  if (stream.demo != wish.demo_day.has_value()) {
    return fail(ErrorKind::kRefused,
                stream.demo ? "the ledger was made for demonstration"
                            : "the ledger is real and can't take part in a demonstration",
                wish.ledger,
                stream.demo ? "give --demo and --today, or another ledger" : "give another ledger");
  }
  return {};
}

void tell(const gather::Enrolled& enrolled, const Plan& plan, Console& console) {
  console.out << "trial " << enrolled.codes.trial << ": ";
  if (enrolled.outcome == gather::EnrolOutcome::kHeld) {
    console.out << "enrolled already as it stands, nothing changed\n";
    return;
  }
  if (enrolled.outcome == gather::EnrolOutcome::kNotInForce) {
    console.out << "enrolled before, but another revision of it is in force, nothing changed\n";
    return;
  }
  const auto size = [](const auto& list) { return static_cast<std::int64_t>(list.size()); };
  console.out << (enrolled.outcome == gather::EnrolOutcome::kNew ? "enrolled, " : "revised, ")
              << counted(size(plan.plots), "plot") << " of "
              << (plan.entries.size() == 1 ? "1 entry"
                                           : std::to_string(plan.entries.size()) + " entries")
              << ", " << counted(size(plan.occasions), "occasion") << "; "
              << counted(static_cast<std::int64_t>(enrolled.scales), "scale")
              << " copied with it\n";
}

Exit enrol_into(ledger::Ledger& ledger, const Wish& wish, const Plans& plans, const Stamp& at,
                Console& console) {
  const auto refuse = [&](const Error& error) {
    return refuse_file(console, error, "nothing was enrolled");
  };
  const auto held = ledger.my_stream();
  if (!held && !wish.device) {
    return refuse({ErrorKind::kRefused, "this ledger begins a stream and needs a name", wish.ledger,
                   "give --device NAME, what people call this tablet or desk"});
  }
  if (held) {
    if (const auto fits = matches(*held, wish); !fits) return refuse(fits.error());
  }
  const Enrolment enrolment{at.local_date, wish.sown_with_the_others};
  if (const auto faults = gather::enrol_faults(&ledger, plans.plans, enrolment); !faults.empty()) {
    return report_faults(console, faults, "nothing was enrolled");
  }
  const seal::Beginning beginning{held ? held->device : *wish.device,
                                  std::string("ligule-desk ") + LIGULE_VERSION, at,
                                  wish.demo_day.has_value()};
  const auto stream = begin_own_stream(ledger, beginning, console);
  if (!stream) return refuse(stream.error());
  if (!held) {
    console.out << wish.ledger << ": ledger of " << stream->device << ", key "
                << seal::fingerprint(stream->public_key) << "\n";
  }
  auto ids = seal::continued_ids(ledger, beginning);
  if (!ids) return refuse(ids.error());
  const auto enrolled =
      gather::enrol(ledger, plans.plans, plans.definitions, *ids, at, wish.sown_with_the_others);
  if (!enrolled) return report_faults(console, enrolled.error(), "nothing was enrolled");
  for (std::size_t i = 0; i < enrolled->size(); ++i) {
    tell((*enrolled)[i], plans.plans[i], console);
  }
  return Exit::kDone;
}

Exit run_enrol(const Arguments& arguments, Console& console) {
  const auto wish = read_wish(arguments);
  if (!wish) return refuse_arguments(console, wish.error());
  const auto summary = [](const files::Faults& faults) {
    return counted(std::ssize(faults), "fault") + "; nothing was enrolled";
  };
  auto definitions = definitions_beside(wish->ledger, console);
  if (!definitions) return refuse_file(console, definitions.error(), summary(definitions.error()));
  const auto plans = read_plans(wish->folders, *std::move(definitions), console);
  if (!plans) return report_faults(console, plans.error(), summary(plans.error()));
  const auto at = moment(plans->plans.front().zone, wish->demo_day);
  if (!at) return refuse_file(console, at.error(), "nothing was enrolled");
  if (const auto faults = gather::enrol_faults(nullptr, plans->plans, {}); !faults.empty()) {
    return report_faults(console, faults, "nothing was enrolled");
  }
  const auto there = console.files.exists(wish->ledger);
  if (!there) return refuse_file(console, there.error(), "nothing was enrolled");
  if (!*there && !wish->device) {
    return refuse_arguments(console, {ErrorKind::kNotFound, "there is no such ledger", wish->ledger,
                                      "give --device NAME to make one"});
  }
  auto ledger =
      *there ? open_to_write(wish->ledger, console) : ledger::Ledger::create(wish->ledger);
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was enrolled");
  return enrol_into(*ledger, *wish, *plans, *at, console);
}

}  // namespace

Command enrol_command() {
  return {
      .name = "enrol",
      .help = "Take plans from folders into a ledger, with the scales their values are given on",
      .options =
          {
              {.name = "FOLDER",
               .value = "FOLDER",
               .help = "Plan folder: trial.csv, entries.csv, plots.csv, occasions.csv, perhaps "
                       "scores.csv",
               .required = true,
               .repeated = true},
              ledger_option("Ledger of the tablet; made when it is not there"),
              {.name = "--device",
               .value = "NAME",
               .help = "What people call the tablet; needed for a new ledger"},
              {.name = "--sown-with-the-others",
               .help = "A revision's new entries and plots were sown on the trial's day, and only "
                       "left out of the plan"},
              {.name = "--demo", .help = "Made for demonstration: ids and key come out the same"},
              {.name = "--today", .value = "YYYY-MM-DD", .help = "With --demo: the invented day"},
          },
      .run = run_enrol,
  };
}

}  // namespace ligule::desk
