// labels: what is stuck on stakes and seed packets, with a code that the tablet reads.
#include <fmt/format.h>

#include "sync/desk/ledgers.h"
#include "sync/desk/plan_to_print.h"
#include "sync/print/label_sheets.h"

namespace ligule::desk {
namespace {

constexpr long kMostColumns = 8;
constexpr long kMostRows = 24;

Result<print::LabelSheets> sheets_asked(const Arguments& arguments) {
  print::LabelSheets wanted;
  wanted.what =
      arguments.text("--for") == "packets" ? print::LabelFor::kPackets : print::LabelFor::kStakes;
  // Packets are filled entry by entry, stakes are set along the path.
  const std::string usual = wanted.what == print::LabelFor::kPackets ? "entry" : "path";
  wanted.order = arguments.find("--order").value_or(usual) == "entry" ? print::LabelOrder::kEntry
                                                                      : print::LabelOrder::kPath;
  wanted.names = arguments.text("--names") == "open" ? print::Names::kOpen : print::Names::kBlind;
  const auto paper = print::parse_paper(arguments.text("--paper"));
  if (!paper) return std::unexpected(paper.error());
  wanted.paper = *paper;
  const auto columns = arguments.whole_number("--columns", 1, kMostColumns);
  if (!columns) return std::unexpected(columns.error());
  const auto rows = arguments.whole_number("--rows", 1, kMostRows);
  if (!rows) return std::unexpected(rows.error());
  if (const std::optional<long>& number = *columns; number)
    wanted.columns = static_cast<std::size_t>(*number);
  if (const std::optional<long>& number = *rows; number)
    wanted.rows = static_cast<std::size_t>(*number);
  return wanted;
}

Exit run_labels(const Arguments& arguments, Console& console) {
  const auto wanted = sheets_asked(arguments);
  if (!wanted) return refuse_arguments(console, wanted.error());
  const auto asked = plan_to_print(arguments, 0, console);
  if (!asked) return asked.error();
  const auto made = print::label_sheets(asked->plan, asked->sowing, *wanted);
  if (!made) return refuse_arguments(console, made.error());
  const std::string out = arguments.text("--out");
  const auto written = console.files.write_durably(out, made->page, files::Access::kEveryone);
  if (!written) return refuse_file(console, written.error(), "the labels were not written");
  if (wanted->what == print::LabelFor::kPackets) tell_lacking(asked->sowing, console);
  console.out << fmt::format("{}: {} of {:.1f} x {:.1f} mm on {}; print at 100 %\n", out,
                             counted(static_cast<std::int64_t>(made->labels), "label"), made->width,
                             made->height,
                             counted(static_cast<std::int64_t>(made->sheets), "sheet"));
  return Exit::kDone;
}

}  // namespace

Command labels_command() {
  return {.name = "labels",
          .help = "Print labels of stakes or seed packets, with a code that the tablet reads",
          .options = print_options(
              {{.name = "--out", .value = "FILE.html", .help = "Page to print", .required = true},
               {.name = "--for",
                .value = "WHAT",
                .help = "stakes or packets",
                .allowed = {"stakes", "packets"},
                .standard = "stakes"},
               {.name = "--order",
                .value = "ORDER",
                .help = "Along the plot path (stakes, unless said) or by entry (packets)",
                .allowed = {"path", "entry"}},
               {.name = "--columns", .value = "N", .help = "Labels side by side on a sheet (3)"},
               {.name = "--rows", .value = "N", .help = "Labels below each other (8)"}}),
          .run = run_labels};
}

}  // namespace ligule::desk
