// plan-check: whether a folder of tables is a plan that can be meant. Changes nothing.
#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/files/sowing.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/soil_told.h"

namespace ligule::desk {
namespace {

std::string counted_as(std::size_t count, const char* one, const char* several) {
  return std::to_string(count) + " " + (count == 1 ? one : several);
}

// What is wrong with the program's own files, not with the plan: always exit 2.
Exit broken_assets(Console& console, const files::Faults& faults) {
  static_cast<void>(report_faults(console, faults, "the program's assets are not sound"));
  return Exit::kCouldNot;
}

// Whether a ledger, or at least its own limits, is there: one that is only misspelled would else
// limit nothing.
Result<void> is_there(const std::string& ledger, Console& console) {
  for (const files::Path& path : {files::Path(ledger), files::own_limits_path(ledger)}) {
    const auto there = console.files.exists(path);
    if (!there) return std::unexpected(there.error());
    if (*there) return {};
  }
  return fail(ErrorKind::kNotFound, "there is no such ledger, and no limits of its own", ledger,
              "name the ledger that the plan is to go into, or leave --ledger out");
}

Exit run_plan_check(const Arguments& arguments, Console& console) {
  const std::string folder = arguments.text("FOLDER");
  const auto assets = files::find_assets(console.files);
  if (!assets) return broken_assets(console, {assets.error()});
  auto definitions = everybodys_definitions(console);
  if (!definitions) return broken_assets(console, definitions.error());
  if (const auto ledger = arguments.find("--ledger")) {
    if (const auto there = is_there(*ledger, console); !there)
      return refuse_arguments(console, there.error());
    definitions = files::with_own_limits(console.files, *ledger, *std::move(definitions));
    if (!definitions)
      return refuse_file(console, definitions.error(),
                         "the limits beside the ledger are not sound");
  }
  const auto schemas = files::load_plan_schemas(console.files, *assets);
  if (!schemas) return broken_assets(console, schemas.error());
  const auto species = files::load_species_seed(console.files, *assets);
  if (!species) return broken_assets(console, species.error());

  const auto there = console.files.exists(folder);
  if (there && !*there) {
    return refuse_arguments(console, {ErrorKind::kNotFound, "there is no such folder", folder,
                                      "name the folder that holds trial.csv"});
  }
  const auto read = files::read_plan_folder(console.files, folder, *schemas, *definitions);
  if (!read) {
    return report_faults(console, read.error(),
                         counted_as(read.error().size(), "fault", "faults") + " in " + folder);
  }
  for (const Error& notice : read->notices)
    console.out << "to look at: " << one_line(notice) << '\n';
  const Plan& plan = read->plan;
  for (const Error& notice : files::sowing_notices(plan, *species))
    console.out << "to look at: " << one_line(notice) << '\n';
  tell_soil(plan, schemas->soil_tables, *definitions, console);
  console.out << "plan " << plan.codes.station << '/' << plan.codes.site << '/' << plan.codes.trial
              << " is sound: " << counted_as(plan.entries.size(), "entry", "entries") << ", "
              << counted_as(plan.plots.size(), "plot", "plots") << ", "
              << counted_as(plan.occasions.size(), "rating or harvest", "ratings and harvests")
              << '\n';
  return Exit::kDone;
}

}  // namespace

Command plan_check_command() {
  return {
      .name = "plan-check",
      .help = "Check a plan's tables and list every fault; changes nothing",
      .options = {{.name = "FOLDER",
                   .help = "Folder that holds trial.csv, entries.csv, plots.csv, occasions.csv, "
                           "perhaps scores.csv and soil.csv",
                   .required = true},
                  {.name = "--ledger",
                   .value = "LEDGER",
                   .help = "Ledger that the plan is to go into: its own limits are asked first"}},
      .run = run_plan_check,
  };
}

}  // namespace ligule::desk
