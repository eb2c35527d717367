// from-paper: what stands on plot sheets into a ledger, from a table or typed line by line.
#include <algorithm>
#include <filesystem>
#include <iterator>
#include <set>

#include "sync/desk/keeping.h"
#include "sync/desk/typing.h"
#include "sync/gather/paper_file.h"

namespace ligule::desk {
namespace {

constexpr std::uint64_t kMostOfTable = std::uint64_t{4} << 20U;
constexpr const char* kNothingKept = "nothing was kept";

// What the sheet is of, and what stands in its head.
Result<gather::FromPaper> read_from_paper(const Arguments& arguments, const OpenDesk& desk,
                                          const KeepingAsked& asked) {
  gather::FromPaper wish;
  auto trial = trial_now(desk, asked);
  if (!trial) return std::unexpected(trial.error());
  wish.plan = std::move(trial->plan);
  wish.now = trial->now;
  const auto occasion = occasion_given(arguments, wish.plan.plan);
  if (!occasion) return std::unexpected(occasion.error());
  const std::optional<PlanOccasion>& given = *occasion;
  if (!given)
    return fail(ErrorKind::kInvalid, "it is not said which rating or cutting was rated",
                "--rating and --cutting", "give the one that stands on the sheet");
  wish.occasion = *given;
  auto rater = words_given(arguments, "--rater");
  if (!rater) return std::unexpected(rater.error());
  wish.rater = *std::move(rater);
  const auto date = date_given(arguments, "--date");
  if (!date) return std::unexpected(date.error());
  wish.date = date->value_or(CalendarDate{});
  wish.unit = arguments.text("--unit");
  wish.names_printed = arguments.text("--names") == "open";
  wish.accept = arguments.all("--accept");
  return wish;
}

// Whether a line's faults tell of a whole column; all others begin with the plot.
bool tell_of_column(const files::Faults& faults, const std::string& measure) {
  return std::ranges::any_of(
      faults, [&](const Error& fault) { return fault.what.starts_with(measure + " is "); });
}

// Every line of the table, or none. A column that can't be typed is told once.
files::Faults add_table(gather::PaperSheet& sheet, std::vector<gather::PaperLine> lines) {
  files::Faults faults;
  std::set<std::string> told;
  for (gather::PaperLine& line : lines) {
    std::erase_if(line.texts, [&](const auto& box) { return told.contains(box.first); });
    const auto judged = sheet.add(line);
    if (judged) continue;
    faults.insert(faults.end(), judged.error().begin(), judged.error().end());
    for (const auto& [measure, text] : line.texts)
      if (tell_of_column(judged.error(), measure)) told.insert(measure);
  }
  return faults;
}

// What was typed and could not be kept is no more on any screen: so that nobody types it twice.
void give_back(const gather::PaperSheet& sheet, Console& console) {
  console.out << "what was typed, to be given again line by line:\n";
  for (const gather::JudgedLine& line : sheet.lines())
    if (!line.values.empty()) console.out << line.values.front().raw << '\n';
}

std::size_t values_in(const gather::PaperSheet& sheet) {
  std::size_t values = 0;
  for (const gather::JudgedLine& line : sheet.lines()) values += line.values.size();
  return values;
}

void tell_lines(const gather::PaperSheet& sheet, Console& console) {
  for (const gather::JudgedLine& line : sheet.lines()) {
    for (const Error& question : line.on_hold)
      console.out << "on hold: " << one_line(question) << '\n';
    for (const Error& notice : line.notices)
      console.out << "to look at: " << one_line(notice) << '\n';
  }
}

void tell_sum(const gather::PaperSheet& sheet, const gather::FromPaper& wish, bool only_check,
              Console& console) {
  std::string open;
  for (const std::string& plot : sheet.path())
    if (!sheet.is_done(plot)) open.append(open.empty() ? "" : ", ").append(plot);
  if (!open.empty()) console.out << "still open: plots " << open << '\n';
  std::int64_t on_hold = 0;
  std::size_t same = 0;
  for (const gather::JudgedLine& line : sheet.lines()) {
    on_hold += std::ranges::count(line.values, ValueState::kOnHold, &gather::PaperValue::state);
    same += line.same;
  }
  console.out << wish.plan.plan.codes.trial << ' ' << wish.occasion.code << ": "
              << counted(static_cast<std::int64_t>(values_in(sheet)), "value")
              << (only_check ? " would be" : "") << " kept from paper, " << same
              << " there already, " << on_hold << " on hold\n";
}

Exit from_table(gather::PaperSheet& sheet, gather::FromPaper& wish, const std::string& path,
                Console& console) {
  const auto text = console.files.read(path, kMostOfTable);
  if (!text) return refuse_file(console, text.error(), kNothingKept);
  wish.file = std::filesystem::path(path).filename().string();
  wish.sha256 = sha256(*text).hex();
  auto lines = gather::read_paper_file(*text, wish.file);
  const files::Faults faults = lines ? add_table(sheet, *std::move(lines)) : lines.error();
  if (!faults.empty())
    return report_faults(
        console, faults,
        counted(std::ssize(faults), "fault") + " in " + path + "; " + kNothingKept);
  tell_lines(sheet, console);
  return Exit::kDone;
}

Exit from_paper(OpenDesk& desk, const KeepingAsked& asked, const std::optional<std::string>& file,
                gather::FromPaper wish, Console& console) {
  if (const auto faults = gather::from_paper_faults(wish, desk.definitions); !faults.empty())
    return refuse_arguments(console, faults.front());
  // Before anybody types a whole trial for nothing.
  if (const auto can = can_write(desk.ledger, asked.device); !can && !asked.only_check)
    return refuse_arguments(console, can.error());
  auto sheet = gather::PaperSheet::read(desk.ledger, wish, desk.definitions);
  if (!sheet) return refuse_file(console, sheet.error(), kNothingKept);
  for (const Error& notice : sheet->notices())
    console.out << "to look at: " << one_line(notice) << '\n';
  if (file) {
    if (const Exit read = from_table(*sheet, wish, *file, console); read != Exit::kDone)
      return read;
  } else if (type_sheet(*sheet, wish.unit, console) == TypingEnd::kQuit) {
    console.out << kNothingKept << '\n';
    return Exit::kDone;
  }
  if (values_in(*sheet) > 0 && !asked.only_check) {
    const auto make = [&](UuidSequence& ids) { return sheet->records(ids); };
    const auto kept = keep_records(desk, asked, wish.now, make, console);
    if (!kept && !file) give_back(*sheet, console);
    if (!kept) return refuse_file(console, kept.error(), kNothingKept);
  }
  tell_sum(*sheet, wish, asked.only_check, console);
  return Exit::kDone;
}

Exit run_from_paper(const Arguments& arguments, Console& console) {
  const auto asked = keeping_asked(arguments);
  if (!asked) return refuse_arguments(console, asked.error());
  auto desk = open_desk(asked->ledger, console);
  if (!desk) return refuse_file(console, desk.error(), kNothingKept);
  auto wish = read_from_paper(arguments, *desk, *asked);
  if (!wish) return refuse_arguments(console, wish.error());
  return from_paper(*desk, *asked, arguments.find("FILE"), *std::move(wish), console);
}

}  // namespace

Command from_paper_command() {
  std::vector<Option> options{
      {.name = "FILE",
       .value = "FILE.csv",
       .help = "The filled in table of plot-sheets --csv; without it lines are typed"}};
  std::ranges::move(keeping_options("Say what would be kept, and keep nothing"),
                    std::back_inserter(options));
  std::ranges::move(occasion_options(), std::back_inserter(options));
  for (Option& option : std::vector<Option>{
           {.name = "--rater",
  .value = "INITIALS",
  .help = "Who rated, as on the sheet",
  .required = true},
           {.name = "--date",
           .value = "YYYY-MM-DD",
           .help = "When, as on the sheet",
           .required = true},
           {.name = "--unit",
           .value = "UNIT",
           .help = "Of lengths, in or cm; the first of each scale without it"},
           {.name = "--names",
           .value = "HOW",
           .help = "Whether the sheet named the entries: blind or open",
           .allowed = {"blind", "open"},
           .standard = "blind"},
           {.name = "--accept",
           .value = "RULE",
           .help = "What this rule asks about is right; may be given more than once",
           .repeated = true}})
    options.push_back(std::move(option));
  return {.name = "from-paper",
          .help = "Type what was written on plot sheets into a ledger, by the tablet's rules",
          .options = std::move(options),
          .run = run_from_paper};
}

}  // namespace ligule::desk
