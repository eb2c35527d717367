#include "sync/desk/entry_name_files.h"

#include <optional>
#include <utility>

#include "sync/desk/ledgers.h"

namespace ligule::desk {
namespace {

// What one of the two files says, into `into`; an answer is what to end with.
template <class File>
std::optional<Exit> file_given(Result<File> file, const std::string& path, Console& console,
                               File& into) {
  if (!file) return refuse_file(console, file.error(), "nothing was analysed");
  if (!file->faults.empty()) {
    return report_faults(
        console, file->faults,
        counted(std::ssize(file->faults), "fault") + " in " + path + "; nothing was analysed");
  }
  into = *std::move(file);
  return std::nullopt;
}

}  // namespace

std::vector<Option> entry_name_options() {
  return {{.name = "--aliases",
           .value = "ALIASES.csv",
           .help = "Names that count under another, or that look alike and are two: "
                   "name,same_as,differs_from,from_year,decided_by,note"},
          {.name = "--varieties",
           .value = "VARIETIES.csv",
           .help = "What is known of entries, how they are printed, and which are withheld: "
                   "name,species,type,endophyte,endophyte_stated_by,market,publish_as,withheld,"
                   "check,note"}};
}

std::expected<results::EntryNames, Exit> entry_names_given(const Arguments& arguments,
                                                           Console& console) {
  results::AliasFile aliases;
  if (const auto path = arguments.find("--aliases")) {
    const auto refused =
        file_given(results::read_aliases(console.files, *path), *path, console, aliases);
    if (refused) return std::unexpected(*refused);
  }
  results::VarietiesFile known;
  if (const auto path = arguments.find("--varieties")) {
    const auto refused =
        file_given(results::read_varieties(console.files, *path), *path, console, known);
    if (refused) return std::unexpected(*refused);
  }
  return results::EntryNames(std::move(aliases.aliases),
                             results::Varieties(std::move(known.varieties)),
                             std::move(aliases.apart));
}

void tell_names(const results::EntryNames& names, Console& console) {
  for (const results::AliasApplied& alias : names.applied())
    console.out << "names: " << results::told(alias) << '\n';
  for (const results::NamesApart& apart : names.apart())
    console.out << "names: " << results::told(apart) << '\n';
  const std::vector<std::string> withheld = names.withheld();
  if (!withheld.empty()) {
    console.out << "withheld: " << counted(std::ssize(withheld), "entry name")
                << " analysed and not printed:";
    for (const std::string& label : withheld)
      console.out << (label == withheld.front() ? " \"" : ", \"") << label << '"';
    console.out << '\n';
  }
  for (const Error& notice : names.notices())
    console.out << "to look at: " << one_line(notice) << '\n';
}

}  // namespace ligule::desk
