#include "sync/desk/plan_to_print.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "storage/files/assets.h"
#include "storage/files/plan_folder.h"
#include "storage/files/sowing.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/trial_named.h"

namespace ligule::desk {
namespace {

std::unexpected<Exit> unsound_assets(Console& console, const files::Faults& faults) {
  static_cast<void>(report_faults(console, faults, "the program's assets are not sound"));
  return std::unexpected(Exit::kCouldNot);
}

std::expected<Plan, Exit> plan_of_ledger(const std::string& path, const std::string& trial,
                                         Console& console) {
  const auto ledger = ledger::Ledger::open(path, ledger::Access::kReadOnly);
  if (!ledger) return std::unexpected(refuse_file(console, ledger.error(), "nothing was printed"));
  auto known = plan_named(*ledger, trial);
  if (!known) return std::unexpected(refuse_arguments(console, known.error()));
  return std::move(known->plan);
}

std::expected<Plan, Exit> plan_asked(const Arguments& arguments, Console& console) {
  const auto folder = arguments.find("FOLDER");
  const auto ledger = arguments.find("--ledger");
  if (folder.has_value() == ledger.has_value())
    return std::unexpected(refuse_arguments(
        console, {ErrorKind::kInvalid, "a plan is a folder, or a trial of a ledger", "",
                  "give its folder, or --ledger FILE --trial CODE"}));
  if (folder) {
    auto read = plan_of_folder(*folder, "nothing was printed", console);
    if (!read) return std::unexpected(read.error());
    return std::move(read->plan);
  }
  return plan_of_ledger(*ledger, arguments.text("--trial"), console);
}

// "15 lb/acre".
print::StatedRate stated_rate(const std::string& text) {
  const std::size_t at = text.find(' ');
  if (at == std::string::npos) return {.text = text, .unit = ""};
  return {.text = text.substr(0, at), .unit = text.substr(at + 1)};
}

}  // namespace

std::expected<PlanOfFolder, Exit> plan_of_folder(const std::string& folder,
                                                 const std::string& nothing, Console& console) {
  const auto assets = files::find_assets(console.files);
  if (!assets) return unsound_assets(console, {assets.error()});
  auto definitions = everybodys_definitions(console);
  if (!definitions) return unsound_assets(console, definitions.error());
  const auto schemas = files::load_plan_schemas(console.files, *assets);
  if (!schemas) return unsound_assets(console, schemas.error());
  if (const auto there = console.files.exists(folder); there && !*there)
    return std::unexpected(
        refuse_arguments(console, {ErrorKind::kNotFound, "there is no such folder", folder,
                                   "name the folder that holds trial.csv"}));
  auto read = files::read_plan_folder(console.files, folder, *schemas, *definitions);
  if (!read) return std::unexpected(report_faults(console, read.error(), nothing));
  return PlanOfFolder{std::move(read->plan), *std::move(definitions)};
}

std::vector<Option> print_options(std::vector<Option> others) {
  std::vector<Option> options{
      {.name = "FOLDER", .help = "Folder of the plan, that holds trial.csv"},
      {.name = "--ledger", .value = "LEDGER", .help = "Instead of a folder: ledger of the plan"},
      {.name = "--trial", .value = "CODE", .help = "With --ledger: which trial"},
      {.name = "--rate",
       .value = "RATE",
       .help = "Pure live seed of entries whose plan states no rate: \"15 lb/acre\""},
      {.name = "--live-seed",
       .value = "WHICH",
       .help =
           "What counts as alive: germinated and hard or dormant seed (all), or what germinated",
       .allowed = {"all", "germinated"},
       .standard = "all"},
      {.name = "--paper",
       .value = "PAPER",
       .help = "letter or a4",
       .allowed = {"letter", "a4"},
       .standard = "letter"},
      {.name = "--names",
       .value = "WHICH",
       .help = "Entries by their codes (blind), or with variety and endophyte (open)",
       .allowed = {"blind", "open"},
       .standard = "blind"}};
  std::ranges::move(others, std::back_inserter(options));
  return options;
}

std::expected<PlanToPrint, Exit> plan_to_print(const Arguments& arguments, double spare,
                                               Console& console) {
  const auto assets = files::find_assets(console.files);
  if (!assets) return unsound_assets(console, {assets.error()});
  const auto species = files::load_species_seed(console.files, *assets);
  if (!species) return unsound_assets(console, species.error());
  auto plan = plan_asked(arguments, console);
  if (!plan) return std::unexpected(plan.error());
  print::SowingWanted wanted{.live = arguments.text("--live-seed") == "germinated"
                                         ? LiveSeed::kGerminatedOnly
                                         : LiveSeed::kGerminatedAndHard,
                             .spare = spare,
                             .border_sown = arguments.find("--border") != "bare"};
  if (const auto rate = arguments.find("--rate")) wanted.rate = stated_rate(*rate);
  auto sowing = print::sowing_of(*plan, *species, wanted);
  if (!sowing) return std::unexpected(refuse_arguments(console, sowing.error()));
  return PlanToPrint{*std::move(plan), *std::move(sowing)};
}

void tell_lacking(const print::Sowing& sowing, Console& console) {
  std::vector<std::pair<std::string, std::string>> reasons;  // with the entries, in their order
  for (const print::EntrySowing& sown : sowing.entries) {
    if (sown.plots == 0 || sown.packet) continue;
    const auto at =
        std::ranges::find(reasons, sown.lacks, &std::pair<std::string, std::string>::first);
    if (at == reasons.end())
      reasons.emplace_back(sown.lacks, sown.code);
    else
      at->second.append(", ").append(sown.code);
  }
  for (const auto& [reason, entries] : reasons)
    console.out << "to look at: no packet weight of " << entries << ": " << reason << '\n';
}

}  // namespace ligule::desk
