#include "sync/desk/entry_name_files.h"

#include <optional>
#include <utility>

#include "sync/desk/ledgers.h"

namespace ligule::desk {
namespace {

// The rows of one of the two files; nothing where it is not given.
template <class File, class Rows>
std::optional<Exit> rows_given(const Result<File>& file, std::vector<Rows> File::*rows,
                               const std::string& path, Console& console, std::vector<Rows>& into) {
  if (!file) return refuse_file(console, file.error(), "nothing was analysed");
  if (!file->faults.empty()) {
    return report_faults(
        console, file->faults,
        counted(std::ssize(file->faults), "fault") + " in " + path + "; nothing was analysed");
  }
  into = (*file).*rows;
  return std::nullopt;
}

}  // namespace

std::vector<Option> entry_name_options() {
  return {{.name = "--aliases",
           .value = "ALIASES.csv",
           .help = "Names that count under another: name,same_as,from_year,decided_by,note"},
          {.name = "--varieties",
           .value = "VARIETIES.csv",
           .help = "What is known of entries, how they are printed, and which are withheld: "
                   "name,species,type,endophyte,endophyte_stated_by,market,publish_as,withheld,"
                   "check,note"}};
}

std::expected<results::EntryNames, Exit> entry_names_given(const Arguments& arguments,
                                                           Console& console) {
  std::vector<results::Alias> aliases;
  if (const auto path = arguments.find("--aliases")) {
    const auto refused = rows_given(results::read_aliases(console.files, *path),
                                    &results::AliasFile::aliases, *path, console, aliases);
    if (refused) return std::unexpected(*refused);
  }
  std::vector<results::Variety> varieties;
  if (const auto path = arguments.find("--varieties")) {
    const auto refused = rows_given(results::read_varieties(console.files, *path),
                                    &results::VarietiesFile::varieties, *path, console, varieties);
    if (refused) return std::unexpected(*refused);
  }
  return results::EntryNames(std::move(aliases), results::Varieties(std::move(varieties)));
}

void tell_names(const results::EntryNames& names, Console& console) {
  for (const results::AliasApplied& alias : names.applied())
    console.out << "names: " << results::told(alias) << '\n';
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
