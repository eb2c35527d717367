// lay-out: from a list of entries and a site sheet to a plan folder with drawn plots.
#include <sys/random.h>

#include <algorithm>
#include <iterator>

#include "storage/design/blind_code.h"
#include "storage/files/assets.h"
#include "storage/files/entry_list.h"
#include "storage/files/occasion_list.h"
#include "storage/files/plan_check.h"
#include "storage/files/plan_folder.h"
#include "storage/files/plan_lists.h"
#include "storage/files/soil_check.h"
#include "storage/files/sowing.h"
#include "storage/trial/number.h"
#include "sync/desk/lay_out_sheet.h"
#include "sync/desk/lay_out_told.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/soil_told.h"

namespace ligule::desk {
namespace {

constexpr std::uint64_t kLargestList = 16U << 20U;
constexpr const char* kNothing = "nothing was laid out";

struct Given {
  files::SiteSheet sheet;
  files::EntryList list;
  files::OccasionList occasions;
  files::PlanList<Scale> scores;
  files::PlanList<SoilTest> soil;
};

struct Books {
  Definitions definitions;
  files::PlanSchemas schemas;
  std::vector<SpeciesSeed> seed;
};

files::Checked<Books> books(Console& console) {
  const auto assets = files::find_assets(console.files);
  if (!assets) return std::unexpected(files::Faults{assets.error()});
  auto definitions = everybodys_definitions(console);
  if (!definitions) return std::unexpected(definitions.error());
  auto schemas = files::load_plan_schemas(console.files, *assets);
  if (!schemas) return std::unexpected(schemas.error());
  auto seed = files::load_species_seed(console.files, *assets);
  if (!seed) return std::unexpected(seed.error());
  return Books{*std::move(definitions), *std::move(schemas), *std::move(seed)};
}

// What one file gives; its faults go to those of all.
template <class Read>
auto read_file(const std::string& file, Console& console, files::Faults& faults, const Read& read)
    -> std::optional<typename std::invoke_result_t<const Read&, const std::string&>::value_type> {
  const auto text = console.files.read(file, kLargestList);
  if (!text) {
    faults.push_back(text.error());
    return std::nullopt;
  }
  auto made = read(*text);
  if (made) return *std::move(made);
  std::ranges::move(made.error(), std::back_inserter(faults));
  return std::nullopt;
}

// A table that goes into the plan as it is: the one that an option names; without it the one that
// lies in the folder already, by its name there. Nothing: there is neither.
template <class Read>
auto read_table(const char* option, const char* name, const Arguments& arguments, Console& console,
                files::Faults& faults, const Read& read)
    -> std::optional<typename std::invoke_result_t<const Read&, const std::string&,
                                                   const std::string&>::value_type> {
  const auto with_name = [&](const std::string& file) {
    return [&read, file](const std::string& text) { return read(text, file); };
  };
  if (const auto given = arguments.find(option))
    return read_file(*given, console, faults, with_name(*given));
  const std::string held = (files::Path(arguments.text("--out")) / name).string();
  const auto there = console.files.exists(held);
  if (!there) faults.push_back(there.error());
  if (!there || !*there)
    return typename std::invoke_result_t<const Read&, const std::string&,
                                         const std::string&>::value_type{};
  return read_file(held, console, faults, with_name(held));
}

files::Checked<Given> read_given(const Arguments& arguments, const Books& books, Console& console) {
  files::Faults faults;
  const std::string sheet_file = arguments.text("--site-sheet");
  auto sheet = read_file(sheet_file, console, faults, [&](const std::string& text) {
    return files::read_site_sheet(text, sheet_file, books.schemas.trial, kLayOutLines);
  });
  // What a faulty sheet does not say must not make list and occasions faulty.
  std::string species = sheet ? std::string() : books.definitions.species.front().code;
  if (sheet && sheet->lines.contains("species")) species = sheet->lines.at("species").value;
  const CalendarDate sown = sheet ? sheet->plan.sown : date::year{2000} / 1 / 1;
  const std::string list_file = arguments.text("--entries");
  auto list = read_file(list_file, console, faults, [&](const std::string& text) {
    return files::read_entry_list(text, list_file, books.schemas.entries, books.definitions,
                                  species);
  });
  auto occasions =
      read_table("--occasions", "occasions.csv", arguments, console, faults,
                 [&](const std::string& text, const std::string& file) {
                   return files::read_occasion_list(text, file, books.schemas.occasions, sown);
                 });
  auto scores = read_table("--scores", "scores.csv", arguments, console, faults,
                           [&](const std::string& text, const std::string& file) {
                             return files::read_score_list(text, file, books.schemas.scores);
                           });
  auto soil = read_table("--soil", "soil.csv", arguments, console, faults,
                         [&](const std::string& text, const std::string& file) {
                           return files::read_soil_list(text, file, books.schemas.soil);
                         });
  if (!faults.empty() || !sheet || !list || !occasions || !scores || !soil)
    return std::unexpected(std::move(faults));
  return Given{*std::move(sheet), *std::move(list), *std::move(occasions), *std::move(scores),
               *std::move(soil)};
}

std::unexpected<files::Faults> keep_away(const std::string& folder, std::string what,
                                         std::string mend) {
  return std::unexpected(
      files::Faults{{ErrorKind::kRefused, std::move(what), folder, std::move(mend)}});
}

// Whether a plan stands in the folder already; refused where nobody said that it may be replaced.
files::Checked<bool> holds_plan(const Arguments& arguments, Console& console) {
  const std::string folder = arguments.text("--out");
  const auto there = console.files.exists(files::Path(folder) / "trial.csv");
  if (!there) return std::unexpected(files::Faults{there.error()});
  if (*there && !arguments.has("--replace"))
    return keep_away(folder, "a plan is there already",
                     "give another folder; --replace draws a plan anew that was never enrolled. "
                     "One that is enrolled or sown is revised by hand: name it as the parent");
  return *there;
}

// Whether that plan is this trial's, and none that is enrolled.
files::Checked<void> may_replace(const std::string& folder, const Books& books,
                                 const TrialCodes& codes, Console& console) {
  const auto old = files::read_plan_folder(console.files, folder, books.schemas, books.definitions);
  if (!old) return std::unexpected(old.error());
  if (!old->plan.parent.empty())
    return keep_away(folder, "the plan that is there revises one that is enrolled",
                     "a trial that is enrolled is never laid out anew");
  if (old->plan.codes != codes)
    return keep_away(folder, "another trial is there: " + old->plan.codes.trial,
                     "give another folder");
  return {};
}

// What was given, by the option, else by the sheet; else a number that nobody chose.
Result<std::uint64_t> seed_of(const Arguments& arguments, const Plan& plan) {
  const std::string given = arguments.find("--seed").value_or(plan.random_seed);
  if (!given.empty()) {
    const auto number = parse_integer(given);
    if (number && static_cast<std::uint64_t>(*number) < design::kSeeds)
      return static_cast<std::uint64_t>(*number);
    return fail(ErrorKind::kInvalid, "'" + given + "' is no seed",
                arguments.has("--seed") ? "--seed" : "random_seed of the site sheet",
                "write a whole number of up to 18 digits, or leave it out: then one is drawn");
  }
  std::uint64_t drawn = 0;
  if (::getrandom(&drawn, sizeof drawn, 0) != static_cast<ssize_t>(sizeof drawn))
    return fail(ErrorKind::kIo, "the machine gives no random numbers", {}, "give --seed");
  return design::Draw(drawn).below(design::kSeeds);
}

std::string filler_code(const std::vector<PlanEntry>& entries) {
  std::string code = "FILL";
  while (std::ranges::find(entries, code, &PlanEntry::code) != entries.end()) code += 'X';
  return code;
}

struct LaidPlan {
  Plan plan;
  design::LaidOut laid;
};

// Which entries are drawn, by their place in the list, and which one fills.
struct Drawn {
  std::vector<std::size_t> entries;
  std::vector<int> repeats;
  std::optional<std::size_t> filler;
};
Drawn drawn_of(const files::EntryList& list) {
  Drawn drawn;
  for (std::size_t i = 0; i < list.entries.size(); ++i) {
    if (list.entries[i].role == EntryRole::kFiller) {
      drawn.filler = i;
      continue;
    }
    drawn.entries.push_back(i);
    drawn.repeats.push_back(list.repeats[i]);
  }
  return drawn;
}

void fill_plots(LaidPlan& made, const Drawn& drawn) {
  Plan& plan = made.plan;
  std::optional<std::size_t> filler = drawn.filler;
  if (made.laid.fillers > 0 && !filler) {
    PlanEntry entry;
    entry.code = filler_code(plan.entries);
    entry.species = plan.entries.front().species;
    entry.variety = kNamelessFiller;
    entry.role = EntryRole::kFiller;
    filler = plan.entries.size();
    plan.entries.push_back(std::move(entry));
  }
  plan.plots.reserve(made.laid.plots.size());
  for (const design::LaidPlot& plot : made.laid.plots) {
    const std::size_t entry = plot.entry ? drawn.entries[*plot.entry] : filler.value_or(0);
    plan.plots.push_back({std::to_string(plot.number), plot.block, plan.entries[entry].code,
                          plot.row, plot.column, static_cast<int>(plan.plots.size()) + 1,
                          plot.incomplete_block});
  }
}

files::Checked<LaidPlan> make_plan(const Given& given, const std::string& list_file,
                                   const std::string& sheet_file, std::uint64_t seed) {
  const Drawn drawn = drawn_of(given.list);
  const auto wish = lay_out_wish(given.sheet, sheet_file, drawn.repeats);
  if (!wish) return std::unexpected(wish.error());
  design::Draw draw(seed);
  auto laid = design::lay_out(*wish, draw);
  if (!laid) {
    laid.error().where = drawn.entries.size() < 2 ? list_file : sheet_file;
    return std::unexpected(files::Faults{laid.error()});
  }
  LaidPlan made{given.sheet.plan, *std::move(laid)};
  Plan& plan = made.plan;
  plan.random_seed = std::to_string(seed);
  plan.entries = given.list.entries;
  if (!given.list.coded) {
    if (plan.entries.size() > design::kMostBlindCodes)
      return std::unexpected(
          files::Faults{{ErrorKind::kInvalid, "there are more entries than blind codes", list_file,
                         "give the list a column Code"}});
    const auto codes = design::blind_codes(plan.entries.size(), draw);
    for (std::size_t i = 0; i < codes.size(); ++i) plan.entries[i].code = codes[i];
  }
  fill_plots(made, drawn);
  plan.occasions = given.occasions.occasions;
  plan.soil = given.soil.items;
  plan.scores = given.scores.items;
  return made;
}

// As plan-check judges it, at the lines of the list and the sheet.
files::PlanFindings judge(const Given& given, const LaidPlan& made, const std::string& sheet_file,
                          const Books& books) {
  files::PlanPlaces places;
  places.trial = sheet_file;
  places.entries = given.list.places;
  places.occasions = given.occasions.places;
  places.scores = given.scores.places;
  places.soil = given.soil.places;
  files::PlanFindings found = files::check_plan(made.plan, books.definitions, places);
  const files::PlanFindings of_soil =
      files::check_soil(made.plan, books.schemas.soil_tables, places);
  std::ranges::copy(of_soil.faults, std::back_inserter(found.faults));
  std::ranges::copy(beyond_field(given.sheet, made.plan), std::back_inserter(found.faults));
  std::ranges::copy(of_soil.notices, std::back_inserter(found.notices));
  std::ranges::copy(files::sowing_notices(made.plan, books.seed),
                    std::back_inserter(found.notices));
  std::ranges::copy(given.list.notices, std::back_inserter(found.notices));
  std::ranges::copy(odd_in_lay_out(made.plan, made.laid), std::back_inserter(found.notices));
  return found;
}

void tell(const LaidPlan& made, const files::PlanFindings& found, const std::string& folder,
          const Books& books, Console& console) {
  tell_lay_out(made.plan, made.laid, console.out);
  for (const Error& notice : found.notices)
    console.out << "to look at: " << one_line(notice) << '\n';
  tell_soil(made.plan, books.schemas.soil_tables, books.definitions, console);
  console.out << "the field as one stands in front of it, the last row at the top:\n"
              << field_map(made.plan) << "written to " << folder
              << "\nnext: print labels and the planting list from this folder; look over "
                 "occasions.csv; then\n  ligule-desk enrol --ledger LEDGER --device NAME "
              << folder << '\n';
}

Exit run_lay_out(const Arguments& arguments, Console& console) {
  const std::string folder = arguments.text("--out");
  const std::string sheet_file = arguments.text("--site-sheet");
  const auto summary = [](const files::Faults& faults) {
    return counted(std::ssize(faults), "fault") + "; " + kNothing;
  };
  const auto read = books(console);
  if (!read) return refuse_file(console, read.error(), "the program's assets are not sound");
  const auto held = holds_plan(arguments, console);
  if (!held) return report_faults(console, held.error(), summary(held.error()));
  const auto given = read_given(arguments, *read, console);
  if (!given) return report_faults(console, given.error(), summary(given.error()));
  if (*held) {
    const auto may = may_replace(folder, *read, given->sheet.plan.codes, console);
    if (!may) return report_faults(console, may.error(), summary(may.error()));
  }
  const auto seed = seed_of(arguments, given->sheet.plan);
  if (!seed) return refuse_arguments(console, seed.error());
  const auto made = make_plan(*given, arguments.text("--entries"), sheet_file, *seed);
  if (!made) return report_faults(console, made.error(), summary(made.error()));
  const files::PlanFindings found = judge(*given, *made, sheet_file, *read);
  if (!found.faults.empty()) return report_faults(console, found.faults, summary(found.faults));
  if (const auto written =
          files::write_plan_folder(console.files, folder, made->plan, read->schemas);
      !written)
    return refuse_file(console, written.error(), "the plan was not written whole");
  // What stands there must read back as what was laid out, whatever disk it is.
  const auto back =
      files::read_plan_folder(console.files, folder, read->schemas, read->definitions);
  if (!back) return report_faults(console, back.error(), summary(back.error()));
  if (plan_text(back->plan) != plan_text(made->plan))
    return refuse_file(console,
                       {ErrorKind::kDamaged, "the plan reads back as another one", folder,
                        "write it to another disk"},
                       kNothing);
  tell(*made, found, folder, *read, console);
  return Exit::kDone;
}

}  // namespace

Command lay_out_command() {
  return {
      .name = "lay-out",
      .help = "Draw a trial's plots from a list of entries and a site sheet, into a plan folder",
      .options =
          {
              {.name = "--entries",
               .value = "LIST.csv",
               .help = "Entries under the headings people use: variety, endophyte, species, lot",
               .required = true},
              {.name = "--site-sheet",
               .value = "SHEET.csv",
               .help = "Two columns, what and value: the trial, its sizes, design, blocks",
               .required = true},
              {.name = "--out",
               .value = "FOLDER",
               .help = "Plan folder to write; made when it is not there",
               .required = true},
              {.name = "--occasions",
               .value = "FILE.csv",
               .help = "Ratings and cuttings, as occasions.csv; due may be days after sowing: +21. "
                       "Without these three options the tables of those names in FOLDER are taken"},
              {.name = "--scores",
               .value = "FILE.csv",
               .help = "Scores of the program's own that occasions name, as scores.csv"},
              {.name = "--soil", .value = "FILE.csv", .help = "Soil tests, as soil.csv"},
              {.name = "--seed",
               .value = "NUMBER",
               .help = "What the drawing begins with, up to 18 digits; without it one is drawn"},
              {.name = "--replace",
               .help = "Draw a plan anew that stands in the folder and was never enrolled; its "
                       "occasions, scores and soil tests stay"},
          },
      .run = run_lay_out,
  };
}

}  // namespace ligule::desk
