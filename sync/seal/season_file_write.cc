#include <algorithm>
#include <future>

#include "storage/trial/record_line.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"
#include "sync/seal/season_layout.h"

namespace ligule::seal {
namespace {

// What is to be sealed, read from the ledger.
struct Rows {
  StreamTable table;
  std::string records_csv;
};

Result<Rows> collect(const ledger::Ledger& ledger, const ledger::StreamInfo& stream,
                     std::int64_t first) {
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  std::int64_t last = 0;
  for (const ledger::Span& span : *spans) {
    if (span.stream == stream.id) last = std::max(last, span.last);
  }
  if (first < 1 || first > last) {
    return fail(ErrorKind::kNotFound, "there is no record " + std::to_string(first), ledger.path(),
                "the newest record is " + std::to_string(last));
  }
  const auto before = ledger.digest_at(stream.id, first - 1);
  if (!before) return std::unexpected(before.error());

  Rows rows;
  rows.table = {stream, {stream.id, first, last, *before, *before}};
  rows.table.stream.mine = false;
  rows.records_csv = records_header();
  std::int64_t next = first;
  const auto walked = ledger.each_record(
      stream.id, first, last, [&](std::int64_t seq, std::string_view body, const Digest& digest) {
        if (seq != next) return false;
        rows.records_csv += body;
        rows.records_csv += kLineEnd;
        rows.table.span.head = digest;
        ++next;
        return true;
      });
  if (!walked) return std::unexpected(walked.error());
  if (next != last + 1) {
    return fail(ErrorKind::kDamaged, "record " + std::to_string(next) + " is missing",
                ledger.path(), "restore the ledger from its last copy");
  }
  return rows;
}

Result<void> ledger_whole(const ledger::Ledger& ledger) {
  const auto findings = ledger.check();
  if (!findings) return std::unexpected(findings.error());
  if (findings->empty()) return {};
  Error first = findings->front();
  if (findings->size() > 1) {
    first.what =
        first.what + " (and " + std::to_string(findings->size() - 1) + " more: ledger-check)";
  }
  return std::unexpected(first);
}

struct Made {
  StreamTable table;
  std::string bytes;  // of the season file
};

// What is to be sealed, once the ledger has been found whole. The check takes as long as all else,
// and the bytes are made of what was read before: both at once, where a thread can be had.
Result<Made> checked_and_made(const ledger::Ledger& ledger, const ledger::StreamInfo& stream,
                              std::int64_t first, const SecretKey& key) {
  auto rows = collect(ledger, stream, first);
  std::future<Result<std::string>> bytes;
  if (rows) {
    bytes = std::async(std::launch::async | std::launch::deferred,
                       [&] { return season_bytes(rows->table, rows->records_csv, key); });
  }
  const auto whole = ledger_whole(ledger);
  auto made = rows ? bytes.get() : std::unexpected(rows.error());
  if (!whole) return std::unexpected(whole.error());
  if (!made) return std::unexpected(made.error());
  return Made{std::move(rows->table), *std::move(made)};
}

// Reads a written file back from where it lies and verifies all of it.
Result<SeasonFile> read_back(files::FileSystem& files, const files::Path& file) {
  files.forget_cached(file);
  auto season = read_season_file(files, file, Bodies::kChecked);
  if (season) return std::move(*season);
  return std::unexpected(season.error().front());
}

// What went wrong, after taking the unfinished file away; says so when even that failed.
std::unexpected<Error> without_part(files::FileSystem& files, const files::Path& part,
                                    Error error) {
  if (const auto removed = files.remove(part); !removed) {
    error.mend =
        error.mend.empty() ? "remove " + part.string() : error.mend + "; remove " + part.string();
  }
  return std::unexpected(std::move(error));
}

// Puts bytes under their final name only once they have been read back and hold. They are let go of
// before: twice a season's file is much for a tablet.
Result<void> place(files::FileSystem& files, const files::Path& file, std::string bytes,
                   const Digest& expected) {
  files::Path part = file;
  part += ".part";
  if (const auto written = files.write_durably(part, bytes, files::Access::kOwnerOnly); !written) {
    return written;
  }
  std::string().swap(bytes);
  const auto season = read_back(files, part);
  if (!season) return without_part(files, part, season.error());
  if (season->sha256 != expected) {
    return without_part(files, part,
                        {ErrorKind::kDamaged, "the season file reads back differently",
                         file.string(), "this disk or stick may be worn out: use another"});
  }
  const auto renamed = files.rename(part, file);
  if (!renamed) return without_part(files, part, renamed.error());
  return {};
}

// The same records of the same stream, signed by the same key: what another version of the program
// sealed of them may have other tables beside them, and is as good.
bool same_records(const SeasonFile& held, const StreamTable& expected) {
  return held.stream == expected.stream && held.span == expected.span;
}

// What lies under a season file's name already and is as good: exactly these bytes, or a season
// file of the same records that another version of the program sealed, with other tables beside
// them. Empty where nothing lies there; kConflict where something else does.
Result<std::optional<SeasonFile>> already_there(files::FileSystem& files, const files::Path& file,
                                                const StreamTable& expected) {
  const auto there = files.exists(file);
  if (!there) return std::unexpected(there.error());
  if (!*there) return std::nullopt;
  auto held = read_back(files, file);
  if (held && same_records(*held, expected)) return std::optional(*std::move(held));
  if (!held && held.error().kind == ErrorKind::kIo) return std::unexpected(held.error());
  return fail(ErrorKind::kConflict, "a file of that name with other contents is there",
              file.string(), "verify it, then move it away and seal again");
}

// Whether copy is a season file of these records already. What lies there and is no whole file (a
// torn copy) is put aside under another name. kConflict when it is another season file, also one of
// a later version: it is left as it is.
Result<bool> copied_already(files::FileSystem& files, const files::Path& file,
                            const files::Path& copy, const StreamTable& expected) {
  const auto there = files.exists(copy);
  if (!there) return there;
  if (!*there) return false;
  const auto held = read_back(files, copy);
  if (held && same_records(*held, expected)) return true;
  if (held || held.error().kind == ErrorKind::kNewerVersion) {
    return fail(ErrorKind::kConflict, "a file of that name with other contents is there",
                copy.string(), "move it away, then copy " + file.string() + " again");
  }
  const ErrorKind why = held.error().kind;
  if (why != ErrorKind::kDamaged && why != ErrorKind::kInvalid)
    return std::unexpected(held.error());
  if (const auto aside = set_aside(files, copy); !aside) return std::unexpected(aside.error());
  return false;
}

}  // namespace

Result<Sealed> write_season_file(ledger::Ledger& ledger, files::FileSystem& files,
                                 const SecretKey& key, const SealOrder& order) {
  const auto stream = ledger.my_stream();
  if (!stream) {
    return fail(ErrorKind::kNotFound,
                "nothing was recorded in this ledger since it was made or copied", ledger.path(),
                "a copied or restored ledger begins a stream of its own when it is next used");
  }
  if (stream->public_key != key.public_key()) {
    return fail(ErrorKind::kConflict, "the key is not the one this stream began with",
                secret_key_path(ledger.path()).string(), "bring the ledger's own key back");
  }
  auto made = checked_and_made(ledger, *stream, order.first, key);
  if (!made) return std::unexpected(made.error());
  auto& [table, bytes] = *made;
  const auto seals = ledger.seals();
  if (!seals) return std::unexpected(seals.error());

  const ledger::Span& span = table.span;
  const bool sealed_before = std::ranges::any_of(*seals, [&](const ledger::Seal& seal) {
    return seal.stream == span.stream && seal.first == span.first && seal.last == span.last;
  });
  Sealed sealed{sealed_before ? SealOutcome::kCopied : SealOutcome::kWritten,
                order.folder / (season_name(span) + ".zip"), span, sha256(bytes), bytes.size()};
  const auto there = already_there(files, sealed.file, table);
  if (!there) return std::unexpected(there.error());
  if (const std::optional<SeasonFile>& held = *there) {
    sealed.sha256 = held->sha256;
    sealed.bytes = held->bytes;
    if (sealed_before) {
      sealed.outcome = SealOutcome::kNothingNew;
      return sealed;
    }
  } else if (const auto placed = place(files, sealed.file, std::move(bytes), sealed.sha256);
             !placed) {
    return std::unexpected(placed.error());
  }
  if (!sealed_before) {
    const auto noted = ledger.note_seal({span.stream, span.first, span.last, order.now,
                                         sealed.file.filename().string(), sealed.sha256});
    if (!noted) return std::unexpected(noted.error());
  }
  return sealed;
}

Result<files::Path> copy_season_file(files::FileSystem& files, const files::Path& file,
                                     const files::Path& folder) {
  const auto season = read_season_file(files, file, Bodies::kChecked);
  if (!season) return std::unexpected(season.error().front());
  files::Path copy = folder / file.filename();
  const auto there = copied_already(files, file, copy, {season->stream, season->span});
  if (!there) return std::unexpected(there.error());
  if (*there) return copy;
  const auto copied = files.copy_durably(file, copy, files::Access::kEveryone, kMaxFileBytes);
  if (!copied) return std::unexpected(copied.error());
  const auto again = read_back(files, copy);
  if (!again) return std::unexpected(again.error());
  return copy;
}

}  // namespace ligule::seal
