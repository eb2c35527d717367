#include "sync/desk/table_output.h"

#include <algorithm>
#include <ctime>
#include <iterator>
#include <set>
#include <utility>

#include "sync/desk/ledgers.h"
#include "sync/results/labels.h"
#include "sync/results/output.h"
#include "sync/results/release.h"

namespace ligule::desk {
namespace {

constexpr std::uint64_t kLargestReleases = std::uint64_t{4} << 20U;

CalendarDate today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  ::localtime_r(&now, &local);
  return date::year{local.tm_year + 1900} / date::month{static_cast<unsigned>(local.tm_mon + 1)} /
         date::day{static_cast<unsigned>(local.tm_mday)};
}

files::Checked<std::vector<results::Release>> releases_in(const std::string& path,
                                                          Console& console) {
  const Result<bool> there = console.files.exists(path);
  if (!there) return std::unexpected(files::Faults{there.error()});
  if (!*there) return std::vector<results::Release>{};
  const Result<std::string> text = console.files.read(path, kLargestReleases);
  if (!text) return std::unexpected(files::Faults{text.error()});
  return results::parse_releases(*text, path);
}

void notice(const std::string& what, const std::string& where, const std::string& mend,
            Console& console) {
  console.out << "to look at: " << one_line({ErrorKind::kNotFound, what, where, mend}) << '\n';
}

// Tests that the tables have, of all folders.
std::set<std::string> tests_of(const std::vector<results::TableFolder>& folders) {
  std::set<std::string> tests;
  for (const results::TableFolder& folder : folders) {
    for (const results::Analysis& analysis : folder.analyses) tests.insert(analysis.test);
    for (const results::TestFacts& facts : folder.text.tests) tests.insert(facts.test);
  }
  return tests;
}

std::set<std::string> sites_of(const std::vector<results::TableFolder>& folders) {
  std::set<std::string> sites;
  for (const results::TableFolder& folder : folders) {
    for (const results::Analysis& analysis : folder.analyses)
      sites.insert(analysis.sites.begin(), analysis.sites.end());
    for (const results::TestFacts& facts : folder.text.tests) sites.insert(facts.site);
  }
  return sites;
}

// What a run before made and this one has nothing of would be taken for part of it.
Result<void> remove_old(const std::string& folder, const std::vector<results::OutputFile>& outputs,
                        files::FileSystem& files) {
  const auto remove = [&](const std::string& name) -> Result<void> {
    const auto made = std::ranges::find(outputs, name, &results::OutputFile::name);
    if (made != outputs.end()) return {};
    const auto removed = files.remove(files::Path(folder) / name);
    if (!removed && removed.error().kind != ErrorKind::kNotFound) return removed;
    return {};
  };
  for (const std::string_view name : results::kOtherTables)
    if (const auto removed = remove(std::string(name)); !removed) return removed;
  const auto measures = files.list(files::Path(folder) / "measures");
  if (!measures) return {};  // there are none
  for (const std::string& measure : *measures) {
    for (const std::string_view name : results::kEveryTable) {
      const auto removed = remove("measures/" + measure + "/" + std::string(name));
      if (!removed) return removed;
    }
  }
  return {};
}

void release_told(const results::ReleaseState& state, Console& console) {
  if (state.released) {
    console.out << "released: revision " << state.releases.size() << " of "
                << format_date(state.releases.back().date) << '\n';
  } else if (state.releases.empty()) {
    console.out << "a draft: nobody has released these tables (--release)\n";
  } else {
    console.out << "a draft: these are not the tables released on "
                << format_date(state.releases.back().date) << '\n';
  }
}

files::Checked<void> add_notes(const ReportWanted& wanted,
                               std::vector<results::TableFolder>& folders, Console& console) {
  std::vector<results::StatedFact> stated;
  std::vector<results::MonthWeather> weather;
  files::Faults faults;
  if (wanted.site_notes) {
    auto read = results::read_site_notes(console.files, *wanted.site_notes);
    if (read)
      stated = *std::move(read);
    else
      std::ranges::move(read.error(), std::back_inserter(faults));
  }
  if (wanted.weather) {
    auto read = results::read_weather(console.files, *wanted.weather);
    if (read)
      weather = *std::move(read);
    else
      std::ranges::move(read.error(), std::back_inserter(faults));
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  const std::set<std::string> tests = tests_of(folders);
  std::set<std::string> told;
  for (const results::StatedFact& fact : stated) {
    if (!tests.contains(fact.test) && told.insert(fact.test).second)
      notice("no test is called \"" + fact.test + "\": its notes stand nowhere",
             wanted.site_notes.value_or(std::string()), "write it as tests.csv has it", console);
  }
  const std::set<std::string> sites = sites_of(folders);
  for (const results::MonthWeather& month : weather) {
    if (!sites.contains(month.site) && told.insert(month.site).second)
      notice("no test lies at \"" + month.site + "\": its weather stands nowhere",
             wanted.weather.value_or(std::string()), "write the site as the report prints it",
             console);
  }
  std::erase_if(stated, [&](const auto& fact) { return !tests.contains(fact.test); });
  for (results::TableFolder& folder : folders) {
    results::add_stated(stated, folder.text.tests);
    folder.text.weather = weather;
  }
  return {};
}

files::Checked<void> write_tables(std::vector<results::TableFolder>& folders,
                                  const std::string& folder, const ReportWanted& wanted,
                                  Console& console) {
  const std::string path = (files::Path(folder) / results::kReleasesFile).string();
  auto releases = releases_in(path, console);
  if (!releases) return std::unexpected(releases.error());
  std::vector<results::FolderFiles> made;
  std::vector<results::OutputFile> outputs;
  made.reserve(folders.size());
  for (results::TableFolder& each : folders) {
    made.push_back(results::folder_files(each));
    std::ranges::move(made.back().tables, std::back_inserter(outputs));
  }
  const std::string digest = results::tables_digest(outputs);
  if (wanted.release) {
    const CalendarDate on = wanted.released_on.value_or(today());
    if (!releases->empty() && on < releases->back().date) {
      return std::unexpected(files::Faults{
          {ErrorKind::kRefused, "a later revision was released already",
           path + ", " + format_date(releases->back().date), "give a day that is not before it"}});
    }
    releases->push_back({on, wanted.released_by, *wanted.release, digest});
    outputs.push_back({results::kReleasesFile, results::releases_csv(*releases)});
  }
  const results::ReleaseState state = results::state_of(*std::move(releases), digest);
  for (results::FolderFiles& each : made)
    outputs.push_back(results::report_file(std::move(each), state));
  const Result<void> written = results::write_output(console.files, folder, outputs);
  if (!written) return std::unexpected(files::Faults{written.error()});
  if (const auto removed = remove_old(folder, outputs, console.files); !removed)
    return std::unexpected(files::Faults{removed.error()});
  release_told(state, console);
  return {};
}

}  // namespace

std::vector<Option> report_options() {
  return {
      {.name = "--level",
       .value = "LEVEL",
       .help = "Level of the LSD and of the marks (default 0.05)",
       .allowed = {"0.01", "0.05", "0.10", "0.20", "0.30"}},
      {.name = "--withhold-lsd",
       .help = "In the report print no LSD where the entries of a column are alike (F not "
               "significant)"},
      {.name = "--plan-order",
       .help = "In the report list entries as the plan or the file has them, not by rank"},
      {.name = "--site-notes",
       .value = "FILE.csv",
       .help = "For the report: test,fact,value (soil, soil test, sowing rate, ...)"},
      {.name = "--weather",
       .value = "FILE.csv",
       .help = "For the report: site,year,month,rain,rain_unit,normal_rain,temperature,"
               "temperature_unit,normal_temperature"},
      {.name = "--release",
       .value = "CHANGED",
       .help = "Release the tables: say what is new in them. Until then the report is a draft"},
      {.name = "--released-by", .value = "WHO", .help = "With --release: who releases them"},
      {.name = "--released-on",
       .value = "DATE",
       .help = "With --release: the day, YYYY-MM-DD (default today)"},
  };
}

Result<ReportWanted> report_wanted(const Arguments& arguments) {
  ReportWanted wanted;
  const auto min_tests = arguments.whole_number("--min-tests", 1, 1000);
  if (!min_tests) return std::unexpected(min_tests.error());
  wanted.min_tests = static_cast<std::size_t>(min_tests->value_or(2));
  if (const auto level = arguments.find("--level"))
    wanted.alpha = results::number(*level).value_or(wanted.alpha);
  wanted.withhold_lsd = arguments.has("--withhold-lsd");
  if (arguments.has("--plan-order")) wanted.order = results::EntryOrder::kPlan;
  wanted.site_notes = arguments.find("--site-notes");
  wanted.weather = arguments.find("--weather");
  const auto date = date_given(arguments, "--released-on");
  if (!date) return std::unexpected(date.error());
  wanted.released_on = *date;
  if (!arguments.has("--release")) {
    if (arguments.has("--released-by") || *date)
      return fail(ErrorKind::kInvalid, "--released-by and --released-on go with --release", "",
                  "say with --release what is new in the tables");
    return wanted;
  }
  auto changed = words_given(arguments, "--release");
  if (!changed) return std::unexpected(changed.error());
  if (!arguments.has("--released-by"))
    return fail(ErrorKind::kInvalid, "--release needs --released-by", "",
                "say who releases the tables: initials, a name or an office");
  auto by = words_given(arguments, "--released-by");
  if (!by) return std::unexpected(by.error());
  if (const std::string fault = results::release_fault(*by, *changed); !fault.empty())
    return fail(ErrorKind::kInvalid, fault, "--release", "say it in fewer words");
  if (wanted.released_on && *wanted.released_on > today())
    return fail(ErrorKind::kInvalid, "that day is still to come", "--released-on",
                "give the day on which the tables are released");
  wanted.release = *std::move(changed);
  wanted.released_by = *std::move(by);
  return wanted;
}

std::string files_told(const results::TableFolder& folder) {
  constexpr std::string_view kLast = "report.html";
  std::string told;
  const auto add = [&told](std::string_view name) {
    if (name != kLast) told.append(told.empty() ? "" : ", ").append(name);
  };
  for (const std::string_view name : results::kEveryTable) add(name);
  for (const results::OutputFile& other : folder.others) add(other.name);
  return told.append(" and ").append(kLast);
}

Exit write_folders(std::vector<results::TableFolder>& folders, const std::string& folder,
                   const ReportWanted& wanted, Console& console) {
  if (const auto added = add_notes(wanted, folders, console); !added)
    return report_faults(console, added.error(), "nothing was written");
  for (results::TableFolder& each : folders) {
    each.text.alpha = wanted.alpha;
    each.text.withhold_lsd = wanted.withhold_lsd;
    each.text.order = wanted.order;
    each.text.min_tests = wanted.min_tests;
  }
  if (const auto written = write_tables(folders, folder, wanted, console); !written)
    return report_faults(console, written.error(), "the tables are not complete");
  return Exit::kDone;
}

}  // namespace ligule::desk
