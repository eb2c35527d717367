#include "sync/desk/archive_commands.h"

#include <cstdlib>
#include <filesystem>

#include "sync/archive/archive.h"
#include "sync/desk/gathering.h"
#include "sync/gather/trusted.h"

namespace ligule::desk {
namespace {

// A folder that only this user can look into, gone with all in it at the end.
class FolderOfTheMoment {
 public:
  static Result<FolderOfTheMoment> make() {
    std::error_code failed;
    const auto above = std::filesystem::temp_directory_path(failed);
    std::string path = (above / "ligule-archive-XXXXXX").string();
    if (failed || ::mkdtemp(path.data()) == nullptr)
      return fail(ErrorKind::kIo, "no folder can be made for what is drawn from the archive",
                  above.string(), "name another in TMPDIR");
    return FolderOfTheMoment(path);
  }
  FolderOfTheMoment(FolderOfTheMoment&& other) noexcept : path_(std::move(other.path_)) {
    other.path_.clear();
  }
  FolderOfTheMoment& operator=(FolderOfTheMoment&&) = delete;
  FolderOfTheMoment(const FolderOfTheMoment&) = delete;
  FolderOfTheMoment& operator=(const FolderOfTheMoment&) = delete;
  ~FolderOfTheMoment() {
    std::error_code unheard;
    if (!path_.empty()) std::filesystem::remove_all(path_, unheard);
  }
  [[nodiscard]] std::string file(const std::string& name) const { return path_ + "/" + name; }

 private:
  explicit FolderOfTheMoment(std::string path) : path_(std::move(path)) {}
  std::string path_;
};

// An error of the archive, with the file that came by.
Error of_file(Error error, const std::string& file) {
  if (error.kind == ErrorKind::kInvalid) error.kind = ErrorKind::kDamaged;
  if (error.kind == ErrorKind::kIo) return error;
  error.where = error.where.empty() ? file : file + ", " + error.where;
  return error;
}

files::Checked<gather::Gathered> take_file(archive::Archive& archive, const ledger::Ledger& desk,
                                           const std::string& file, ledger::Branch branch,
                                           Console& console) {
  const auto season = seal::read_season_file(console.files, file);
  if (!season) return std::unexpected(season.error());
  const auto label =
      gather::vouched_label(desk, season->stream, season->span, file, gather::Vouched::kByKey);
  if (!label) return std::unexpected(files::Faults{label.error()});
  auto absorbed = archive.take(*season, branch);
  if (!absorbed) return std::unexpected(files::Faults{of_file(absorbed.error(), file)});
  gather::Gathered gathered;
  gathered.name = season->name;
  gathered.device = season->stream.device;
  gathered.label = *label;
  gathered.span = season->span;
  gathered.absorbed = *std::move(absorbed);
  gathered.unread = season->unread;
  gathered.senseless = season->senseless.count;
  gathered.remarks = season->remarks.count;
  return gathered;
}

// Gaps, how many records, and the digest. Conflicts are told by tables.
Result<void> tell_archive(archive::Archive& archive, Console& console) {
  const auto streams = archive.streams();
  if (!streams) return std::unexpected(streams.error());
  const auto spans = archive.spans();
  if (!spans) return std::unexpected(spans.error());
  const std::vector<gather::Gap> gaps = gather::gaps(*streams, *spans);
  for (const gather::Gap& gap : gaps) console.out << "gap: " << gap.line() << "\n";
  std::int64_t records = 0;
  for (const ledger::Span& span : *spans) records += span.last - span.first + 1;
  console.out << archive.name() << ": " << counted(records, "record") << ", "
              << counted(std::ssize(gaps), "gap") << "\n"
              << "ledger digest: " << ledger::digest_of_spans(*spans).hex() << "\n";
  return {};
}

}  // namespace

Option archive_option(std::string help) {
  return {.name = "--archive", .value = "URL", .help = std::move(help)};
}

Exit gather_into_archive(const Arguments& arguments, Console& console) {
  const auto desk = ledger::Ledger::open(arguments.text("--ledger"), ledger::Access::kReadOnly);
  if (!desk) return refuse_file(console, desk.error(), "nothing was gathered");
  auto archive = archive::Archive::open(arguments.text("--archive"), ledger::Access::kReadWrite);
  if (!archive) return refuse_arguments(console, archive.error());
  const ledger::Branch branch =
      arguments.has("--branch") ? ledger::Branch::kChosen : ledger::Branch::kAny;
  const std::vector<std::string> files = arguments.all("FILE");
  const auto take = [&](const std::string& file) {
    return take_file(*archive, *desk, file, branch, console);
  };
  const auto lost = [&] { return archive->lost(); };
  std::vector<Refused> refused = take_each(files, take, lost, console);
  std::optional<Error> went_away;
  if (archive->lost() && !refused.empty()) {
    went_away = refused.back().faults.front();
    refused.pop_back();
  }
  Exit exit = Exit::kDone;
  for (const Refused& each : refused)
    exit = std::max(exit, refuse_file(console, each.faults, each.file + " was not gathered"));
  if (went_away) return refuse_arguments(console, *went_away);
  if (const auto told = tell_archive(*archive, console); !told)
    return refuse_arguments(console, told.error());
  return exit;
}

Exit tables_of_archive(const std::string& url, const TablesWanted& wanted, Console& console) {
  auto archive = archive::Archive::open(url, ledger::Access::kReadOnly);
  if (!archive) return refuse_arguments(console, archive.error());
  const auto folder = FolderOfTheMoment::make();
  if (!folder) return refuse_arguments(console, folder.error());
  const std::string path = folder->file("archive.ledger");
  {
    auto drawn = ledger::Ledger::create(path);
    if (!drawn) return refuse_file(console, drawn.error(), "nothing was analysed");
    const auto poured = archive->pour_into(*drawn);
    if (!poured && archive->lost()) return refuse_arguments(console, poured.error());
    if (!poured) return refuse_file(console, poured.error(), "nothing was analysed");
  }
  TablesWanted of_archive = wanted;
  of_archive.source = archive->database();
  return tables_of_ledger(path, of_archive, console);
}

}  // namespace ligule::desk
