// planting-list: which packet goes into which plot, and how much seed a trial takes.
#include "storage/files/seed_on_hand.h"
#include "storage/trial/number.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/plan_to_print.h"
#include "sync/print/planting_list.h"

namespace ligule::desk {
namespace {

constexpr std::uint64_t kMostOfStore = 16U << 20U;
constexpr const char* kNotWritten = "the planting list was not written";

// "10%" or "10", as a share.
Result<double> spare_of(std::string text) {
  if (text.ends_with('%')) text.pop_back();
  const auto percent = parse_number(text);
  if (percent && *percent >= 0 && *percent <= 100) return *percent / 100;
  return fail(ErrorKind::kInvalid, "'" + text + "' is no spare", "--spare",
              "give 0 to 100 percent, such as 10%");
}

void list_up(std::string& list, const std::string& name) {
  list.append(list.empty() ? "" : ", ").append(name);
}

// What is short, and what of it nobody can say.
void tell_lots(const PlanToPrint& asked, const std::vector<print::LotSowing>& lots,
               const std::string& file, Console& console) {
  std::string not_stated, not_known, without;
  for (const print::LotSowing& lot : lots) {
    if (!lot.on_hand) list_up(not_stated, lot.lot);
    if (!lot.wanted) list_up(not_known, lot.lot);
    if (const auto lacking = lot.lacking(); lacking && lot.wanted && lot.on_hand)
      console.out << "to look at: seed lot " << lot.lot << " is "
                  << print::store_text(*lacking, lot.decimals())
                  << " short: " << print::store_text(*lot.on_hand, lot.decimals()) << " on hand, "
                  << print::store_text(*lot.wanted, lot.decimals()) << " wanted with the spare\n";
  }
  for (const PlanEntry& entry : asked.plan.entries)
    if (entry.seed_lot.empty()) list_up(without, entry.code);
  if (!not_stated.empty())
    console.out << "to look at: " << file << " does not say how much there is of " << not_stated
                << '\n';
  if (!not_known.empty())
    console.out << "to look at: how much is wanted is not known of " << not_known << '\n';
  if (!without.empty())
    console.out << "to look at: the plan names no seed lot of " << without << '\n';
}

// What --on-hand tells of each lot; without it nothing.
std::expected<std::vector<print::LotSowing>, Exit> lots_asked(const Arguments& arguments,
                                                              const PlanToPrint& asked,
                                                              Console& console) {
  const auto file = arguments.find("--on-hand");
  if (!file) return {};
  const auto text = console.files.read(*file, kMostOfStore);
  if (!text) return std::unexpected(refuse_file(console, text.error(), kNotWritten));
  const auto on_hand = files::read_seed_on_hand(*text, *file);
  if (!on_hand) return std::unexpected(report_faults(console, on_hand.error(), kNotWritten));
  auto lots = print::lots_of(asked.plan, asked.sowing, *on_hand);
  tell_lots(asked, lots, *file, console);
  return lots;
}

Exit run_planting_list(const Arguments& arguments, Console& console) {
  const auto spare = spare_of(arguments.text("--spare"));
  if (!spare) return refuse_arguments(console, spare.error());
  const auto paper = print::parse_paper(arguments.text("--paper"));
  if (!paper) return refuse_arguments(console, paper.error());
  const auto asked = plan_to_print(arguments, *spare, console);
  if (!asked) return asked.error();
  auto lots = lots_asked(arguments, *asked, console);
  if (!lots) return lots.error();
  const print::PlantingPage wanted{
      .paper = *paper,
      .names = arguments.text("--names") == "open" ? print::Names::kOpen : print::Names::kBlind,
      .lots = *std::move(lots)};
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
           {.name = "--on-hand",
            .value = "FILE.csv",
            .help = "How much seed there is of each lot (columns Seed lot, Seed on hand), to be "
                    "told what is short; the list of entries may be it"},
           {.name = "--border",
            .value = "HOW",
            .help = "Whether the border is sown as fillers are (filler), or stays bare",
            .allowed = {"filler", "bare"},
            .standard = "filler"},
           {.name = "--spare",
            .value = "PERCENT",
            .help = "Seed on top of what the plots take",
            .standard = "10%"}}),
      .run = run_planting_list};
}

}  // namespace ligule::desk
