// take-in: plot weights of a cutting from a CSV file into a ledger.
#include <algorithm>
#include <filesystem>
#include <iterator>
#include <ranges>

#include "sync/desk/keeping.h"
#include "sync/gather/take_in.h"

namespace ligule::desk {
namespace {

constexpr std::uint64_t kMostBytes = std::uint64_t{16} << 20U;
constexpr std::string_view kNothingTaken = "nothing was taken in";

// What was asked for, as far as it can be read without the ledger.
struct Asked {
  std::string path;
  KeepingAsked keeping;
  long year = 0;
  long cutting = 0;
  gather::WeightColumns columns;
  bool leave_blanks = false;
};

Result<Asked> read_asked(const Arguments& arguments) {
  Asked asked;
  asked.path = arguments.text("FILE");
  auto keeping = keeping_asked(arguments);
  if (!keeping) return std::unexpected(keeping.error());
  asked.keeping = *std::move(keeping);
  const auto year = arguments.whole_number("--year", 1, 9999);
  if (!year) return std::unexpected(year.error());
  const auto cutting = arguments.whole_number("--cutting", 1, 99);
  if (!cutting) return std::unexpected(cutting.error());
  asked.year = year->value_or(0);
  asked.cutting = cutting->value_or(0);
  auto columns = gather::parse_weight_columns(arguments.text("--columns"));
  if (!columns) return std::unexpected(columns.error());
  asked.columns = *std::move(columns);
  asked.leave_blanks = arguments.has("--leave-blanks");
  return asked;
}

// What goes with the weights, as far as it is words.
Result<gather::TakeIn> read_take_in(const Arguments& arguments) {
  gather::TakeIn wish;
  wish.unit = arguments.text("--unit");
  wish.sample_unit = arguments.text("--sample-unit");
  wish.accept = arguments.all("--accept");
  const auto date = date_given(arguments, "--date");
  if (!date) return std::unexpected(date.error());
  wish.date = *date;
  const auto person = words_given(arguments, "--operator");
  if (!person) return std::unexpected(person.error());
  wish.person = *person;
  const auto correct = words_given(arguments, "--correct");
  if (!correct) return std::unexpected(correct.error());
  wish.correct = *correct;
  wish.on_paper = arguments.has("--on-paper");
  for (const auto& [key, option] :
       {std::pair("machine", "--machine"), std::pair("cut_width", "--cut-width"),
        std::pair("stubble", "--stubble"), std::pair("surface", "--surface")}) {
    const auto text = words_given(arguments, option);
    if (!text) return std::unexpected(text.error());
    if (!text->empty()) wish.run[key] = *text;
  }
  return wish;
}

std::string joined(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : ", ") + text;
  return all;
}

void tell(const gather::WeightFile& file, const gather::TakeIn& wish, const gather::TakenIn& taken,
          bool only_check, Console& console) {
  for (const Error& question : taken.on_hold)
    console.out << "on hold: " << one_line(question) << '\n';
  for (const Error& notice : taken.notices)
    console.out << "to look at: " << one_line(notice) << '\n';
  if (!file.without_weight.empty())
    console.out << "no weight, left out: plots " << joined(file.without_weight) << '\n';
  if (!taken.not_in_file.empty())
    console.out << "not in the file: plots " << joined(taken.not_in_file) << '\n';
  const std::string name = wish.plan.plan.codes.trial + " cutting " +
                           std::to_string(wish.cutting.cutting) + " of " +
                           std::to_string(wish.cutting.year) + ": ";
  const auto same = static_cast<std::int64_t>(taken.same);
  if (taken.values.empty()) {
    console.out << name << "nothing changed, all " << counted(same, "value") << " of " << file.name
                << (same == 1 ? " is" : " are") << " there already\n";
    return;
  }
  const auto corrected = static_cast<std::int64_t>(taken.corrected);
  console.out << name << counted(std::ssize(taken.values) - corrected, "value")
              << (only_check ? " would be" : "") << " taken in from " << file.name << ", "
              << corrected << " corrected, " << same << " there already, " << taken.on_hold.size()
              << " on hold\n";
}

Exit take_in(OpenDesk& desk, const Asked& asked, gather::TakeIn wish, Console& console) {
  const auto refuse = [&](const Error& error) { return refuse_arguments(console, error); };
  auto trial = trial_now(desk, asked.keeping);
  if (!trial) return refuse(trial.error());
  wish.plan = std::move(trial->plan);
  wish.now = trial->now;
  const auto cutting =
      cutting_of(wish.plan.plan, asked.year, asked.cutting, "--cutting and --year");
  if (!cutting) return refuse(cutting.error());
  wish.cutting = *cutting;
  if (const auto faults = gather::take_in_faults(wish, asked.columns, desk.definitions);
      !faults.empty())
    return refuse(faults.front());
  const auto text = console.files.read(asked.path, kMostBytes);
  if (!text) return refuse_file(console, text.error(), std::string(kNothingTaken));
  wish.sha256 = sha256(*text).hex();
  const std::string name = std::filesystem::path(asked.path).filename().string();
  const auto file = gather::read_weight_file(*text, name, asked.columns, asked.leave_blanks);
  const auto faulty = [&](const files::Faults& faults) {
    return report_faults(console, faults,
                         counted(std::ssize(faults), "fault") + " in " + asked.path + "; " +
                             std::string(kNothingTaken));
  };
  if (!file) return faulty(file.error());
  const auto taken = gather::judge_weights(desk.ledger, *file, wish, desk.definitions);
  if (!taken) return faulty(taken.error());
  if (!asked.keeping.only_check && !taken->values.empty()) {
    if (const auto can = can_write(desk.ledger, asked.keeping.device); !can)
      return refuse(can.error());
    const auto make = [&](UuidSequence& ids) {
      return gather::records_of(desk.ledger, *file, wish, *taken, desk.definitions, ids);
    };
    const auto kept = keep_records(desk, asked.keeping, wish.now, make, console);
    if (!kept) return refuse_file(console, kept.error(), std::string(kNothingTaken));
  }
  tell(*file, wish, *taken, asked.keeping.only_check, console);
  return Exit::kDone;
}

Exit run_take_in(const Arguments& arguments, Console& console) {
  const auto asked = read_asked(arguments);
  if (!asked) return refuse_arguments(console, asked.error());
  auto wish = read_take_in(arguments);
  if (!wish) return refuse_arguments(console, wish.error());
  auto desk = open_desk(asked->keeping.ledger, console);
  if (!desk) return refuse_file(console, desk.error(), std::string(kNothingTaken));
  return take_in(*desk, *asked, *std::move(wish), console);
}

}  // namespace

Command take_in_command() {
  std::vector<Option> options{{.name = "FILE",
                               .value = "FILE.csv",
                               .help = "Table of the weights, a row a plot",
                               .required = true}};
  std::ranges::move(keeping_options("Say what would be taken in, and keep nothing"),
                    std::back_inserter(options));
  std::ranges::move(
      std::vector<Option>{
          {.name = "--year", .value = "YEAR", .help = "Year of the cutting", .required = true},
          {.name = "--cutting", .value = "N", .help = "Which cutting of it", .required = true},
          {.name = "--columns",
           .value = "NAME=HEADING,...",
           .help = "What stands under which heading: plot, part, date, time, gross, tare, bag, "
                   "sample_fresh, sample_dry",
           .required = true},
          {.name = "--unit", .value = "UNIT", .help = "Of gross and tare: kg or lb"},
          {.name = "--sample-unit", .value = "UNIT", .help = "Of samples: g, kg, lb or oz"},
          {.name = "--date",
           .value = "YYYY-MM-DD",
           .help = "Day of the weights, where no column tells it"},
          {.name = "--machine", .value = "NAME", .help = "That cut and weighed", .required = true},
          {.name = "--operator", .value = "INITIALS", .help = "Who ran it", .required = true},
          {.name = "--cut-width", .value = "LENGTH", .help = "With its unit, as 36 in"},
          {.name = "--stubble", .value = "LENGTH", .help = "As it was set, with its unit"},
          {.name = "--surface",
           .value = "SURFACE",
           .help = "Of the crop: dry, dew or rain",
           .allowed = {"dry", "dew", "rain"}},
          {.name = "--accept",
           .value = "RULE",
           .help = "What this rule asks about is right; without it such values stay on hold",
           .repeated = true},
          {.name = "--correct",
           .value = "REASON",
           .help = "Correct weights that stand otherwise, for this reason"},
          {.name = "--leave-blanks", .help = "Pass rows without a weight over, and name them"},
          {.name = "--on-paper",
           .help = "The table was typed from sheets of paper, and its weights say so"}},
      std::back_inserter(options));
  return {
      .name = "take-in",
      .help = "Take plot weights of a cutting from a CSV file into a ledger, by the tablet's rules",
      .options = std::move(options),
      .run = run_take_in};
}

}  // namespace ligule::desk
