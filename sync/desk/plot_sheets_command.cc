// plot-sheets: a rating or cutting on paper, for the day when there is no tablet.
#include <algorithm>

#include "storage/trial/said.h"
#include "sync/desk/plan_to_print.h"
#include "sync/desk/trial_named.h"
#include "sync/print/plot_sheet.h"

namespace ligule::desk {
namespace {

constexpr const char* kNothingMade = "no sheets were made";

// What sheets are made of, from a ledger or a plan folder.
struct SheetFacts {
  Plan plan;
  PlanOccasion occasion;
  Definitions definitions;
  std::vector<AsSown> as_sown;
  std::optional<results::Seen> seen;  // of a ledger
};

Result<PlanOccasion> occasion_of(const Arguments& arguments, const Plan& plan,
                                 const std::vector<OccasionId>& closed) {
  const auto given = occasion_given(arguments, plan);
  if (!given) return std::unexpected(given.error());
  const std::optional<PlanOccasion>& named = *given;
  if (named) return *named;
  const auto today = date_given(arguments, "--today");
  if (!today) return std::unexpected(today.error());
  const auto now = moment(plan.zone, *today);
  if (!now) return std::unexpected(now.error());
  return nearest_due(plan, closed, now->local_date);
}

// Occasions that somebody declared done.
Result<std::vector<OccasionId>> closed_in(const ledger::Ledger& ledger, const Plan& plan) {
  const auto closings = ledger.of_kind(kind::kClosed, plan.id());
  if (!closings) return std::unexpected(closings.error());
  std::vector<OccasionId> closed;
  for (const Record& record : *closings)
    if (record.occasion && !said::closes_second(record)) closed.push_back(*record.occasion);
  return closed;
}

files::Checked<SheetFacts> of_ledger(const Arguments& arguments, const std::string& path,
                                     Console& console) {
  const auto faults = [](const Error& error) { return std::unexpected(files::Faults{error}); };
  const auto ledger = ledger::Ledger::open(path, ledger::Access::kReadOnly);
  if (!ledger) return faults(ledger.error());
  auto definitions = definitions_beside(path, console);
  if (!definitions) return std::unexpected(definitions.error());
  SheetFacts facts;
  facts.definitions = *std::move(definitions);
  auto known = plan_named(*ledger, arguments.text("--trial"));
  if (!known) return faults(known.error());
  facts.plan = std::move(known->plan);
  const auto closed = closed_in(*ledger, facts.plan);
  if (!closed) return faults(closed.error());
  auto occasion = occasion_of(arguments, facts.plan, *closed);
  if (!occasion) return faults(occasion.error());
  facts.occasion = *std::move(occasion);
  auto sown = ledger->as_sown(facts.plan.id());
  if (!sown) return faults(sown.error());
  facts.as_sown = *std::move(sown);
  auto seen = results::last_seen(*ledger, facts.plan, facts.occasion);
  if (!seen) return faults(seen.error());
  facts.seen = *std::move(seen);
  return facts;
}

std::expected<SheetFacts, Exit> of_folder(const Arguments& arguments, const std::string& folder,
                                          Console& console) {
  auto read = plan_of_folder(folder, kNothingMade, console);
  if (!read) return std::unexpected(read.error());
  SheetFacts facts;
  facts.definitions = std::move(read->definitions);
  facts.plan = std::move(read->plan);
  auto occasion = occasion_of(arguments, facts.plan, {});
  if (!occasion) return std::unexpected(refuse_file(console, occasion.error(), kNothingMade));
  facts.occasion = *std::move(occasion);
  return facts;
}

std::expected<SheetFacts, Exit> facts_asked(const Arguments& arguments, Console& console) {
  if (const auto folder = arguments.find("FOLDER")) return of_folder(arguments, *folder, console);
  auto facts = of_ledger(arguments, arguments.text("--ledger"), console);
  if (!facts) return std::unexpected(refuse_file(console, facts.error(), kNothingMade));
  return *std::move(facts);
}

// Whether what was given goes together.
Result<void> is_one_source(const Arguments& arguments) {
  const bool folder = arguments.has("FOLDER");
  if (folder == arguments.has("--ledger"))
    return fail(ErrorKind::kInvalid, "sheets are of a ledger or of a plan folder",
                "FOLDER and --ledger", "give one of the two");
  if (folder != arguments.has("--trial")) return {};
  return fail(ErrorKind::kInvalid,
              folder ? "a folder holds one trial" : "it is not said of which trial", "--trial",
              folder ? "leave it out" : "give its code");
}

Exit write_sheets(const Arguments& arguments, const SheetFacts& facts, Console& console) {
  const auto paper = print::parse_paper(arguments.text("--paper"));
  if (!paper) return refuse_arguments(console, paper.error());
  const auto columns = sheet_columns(facts.plan, facts.occasion, facts.definitions);
  if (std::ranges::all_of(
          columns, [](const SheetColumn& column) { return column.typed == TypedIn::kTablet; }))
    return refuse_arguments(
        console, {ErrorKind::kInvalid, "nothing of " + facts.occasion.code + " is kept on paper",
                  "", "it is for the tablet alone"});
  const print::PlotSheets wish{.plan = &facts.plan,
                               .occasion = &facts.occasion,
                               .definitions = &facts.definitions,
                               .as_sown = facts.as_sown,
                               .seen = facts.seen ? &*facts.seen : nullptr,
                               .paper = *paper,
                               .names = arguments.text("--names") == "open",
                               .unit = arguments.text("--unit")};
  const print::PrintedSheets sheets = print::plot_sheets(wish);
  const std::string out = arguments.text("--out");
  const auto written = console.files.write_durably(out, sheets.html, files::Access::kEveryone);
  if (!written) return refuse_file(console, written.error(), kNothingMade);
  const auto csv = arguments.find("--csv");
  if (csv) {
    const auto table =
        console.files.write_durably(*csv, print::plot_sheets_csv(wish), files::Access::kEveryone);
    if (!table) return refuse_file(console, table.error(), "the table was not made");
  }
  console.out << facts.plan.codes.trial << ' ' << facts.occasion.code << ": "
              << counted(std::ssize(facts.plan.plots), "plot") << " on "
              << counted(static_cast<std::int64_t>(sheets.sheets), "sheet") << ", " << out
              << (csv ? "; to type them, " + *csv : std::string()) << '\n';
  return Exit::kDone;
}

Exit run_plot_sheets(const Arguments& arguments, Console& console) {
  if (const auto one = is_one_source(arguments); !one)
    return refuse_arguments(console, one.error());
  const auto facts = facts_asked(arguments, console);
  if (!facts) return facts.error();
  return write_sheets(arguments, *facts, console);
}

}  // namespace

Command plot_sheets_command() {
  std::vector<Option> options{
      {.name = "FOLDER", .help = "A plan's folder; or --ledger and --trial, with last values"},
      {.name = "--ledger", .value = "LEDGER", .help = "Ledger that holds the trial's plan"},
      {.name = "--trial",
       .value = "CODE",
       .help = "Trial, where needed with site and station: ridge/north/TF26"}};
  for (Option& option : occasion_options()) options.push_back(std::move(option));
  for (Option& option : std::vector<Option>{
           {.name = "--out", .value = "FILE.html", .help = "The sheets", .required = true},
           {.name = "--csv",
           .value = "FILE.csv",
           .help = "The table to fill in at the desk, for from-paper"},
           {.name = "--paper",
           .value = "SIZE",
           .help = "letter or a4",
           .allowed = {"letter", "a4"},
           .standard = "letter"},
           {.name = "--names",
           .value = "HOW",
           .help = "blind, or open: with the entry of each plot",
           .allowed = {"blind", "open"},
           .standard = "blind"},
           {.name = "--unit",
           .value = "UNIT",
           .help = "Of lengths and weights; the first of each scale without it"},
           today_option()})
    options.push_back(std::move(option));
  return {.name = "plot-sheets",
          .help = "Print a rating or cutting on paper, with what each plot had last",
          .options = std::move(options),
          .run = run_plot_sheets};
}

}  // namespace ligule::desk
