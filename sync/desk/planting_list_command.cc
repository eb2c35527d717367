// planting-list: which packet goes into which plot, and how much seed a trial takes.
#include "storage/trial/number.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/plan_to_print.h"
#include "sync/print/planting_list.h"

namespace ligule::desk {
namespace {

constexpr const char* kNotWritten = "the planting list was not written";

// "10%" or "10", as a share.
Result<double> spare_of(std::string text) {
  if (text.ends_with('%')) text.pop_back();
  const auto percent = parse_number(text);
  if (percent && *percent >= 0 && *percent <= 100) return *percent / 100;
  return fail(ErrorKind::kInvalid, "'" + text + "' is no spare", "--spare",
              "give 0 to 100 percent, such as 10%");
}

Exit run_planting_list(const Arguments& arguments, Console& console) {
  const auto spare = spare_of(arguments.text("--spare"));
  if (!spare) return refuse_arguments(console, spare.error());
  const auto paper = print::parse_paper(arguments.text("--paper"));
  if (!paper) return refuse_arguments(console, paper.error());
  const auto asked = plan_to_print(arguments, *spare, console);
  if (!asked) return asked.error();
  const print::PlantingPage wanted{
      .paper = *paper,
      .names = arguments.text("--names") == "open" ? print::Names::kOpen : print::Names::kBlind};
  const std::string out = arguments.text("--out");
  const auto written = console.files.write_durably(
      out, print::planting_page(asked->plan, asked->sowing, wanted), files::Access::kEveryone);
  if (!written) return refuse_file(console, written.error(), kNotWritten);
  if (const auto csv = arguments.find("--csv")) {
    const auto table = console.files.write_durably(
        *csv, print::planting_table(asked->plan, asked->sowing), files::Access::kEveryone);
    if (!table) return refuse_file(console, table.error(), "the table was not written");
  }
  tell_lacking(asked->sowing, console);
  console.out << out << ": planting list of " << asked->plan.codes.trial << ", "
              << counted(static_cast<std::int64_t>(asked->plan.plots.size()), "plot") << '\n';
  return Exit::kDone;
}

}  // namespace

Command planting_list_command() {
  return {
      .name = "planting-list",
      .help = "Print which seed packet goes into which plot, and how much seed each entry takes",
      .options = print_options(
          {{.name = "--out", .value = "FILE.html", .help = "Page to print", .required = true},
           {.name = "--csv", .value = "FILE.csv", .help = "The same as a table, one row a plot"},
           {.name = "--spare",
            .value = "PERCENT",
            .help = "Seed on top of what the plots take",
            .standard = "10%"}}),
      .run = run_planting_list};
}

}  // namespace ligule::desk
