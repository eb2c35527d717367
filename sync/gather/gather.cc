#include "sync/gather/gather.h"

#include <algorithm>
#include <map>

#include "sync/gather/trusted.h"

namespace ligule::gather {
namespace {

// The desk's word on the key that signed a file.
Result<std::string> trusted_label(const ledger::Ledger& ledger, const seal::SeasonFile& season,
                                  const std::string& file) {
  const auto signer = signer_of(ledger, season);
  if (!signer) return std::unexpected(signer.error());
  if (!*signer) {
    return fail(ErrorKind::kNotTrusted,
                "signer not known here: " + seal::fingerprint(season.stream.public_key) +
                    ", which calls itself " + season.stream.device,
                file, "compare the fingerprint with the tablet's own, then ligule-desk trust");
  }
  const std::optional<Signer>& known = *signer;
  if (known->refused) {
    Error refused = *known->refused;
    refused.where = file;
    return std::unexpected(std::move(refused));
  }
  return known->label;
}

// Records made for demonstration and real ones never share a ledger.
Result<void> same_purpose(const ledger::Ledger& ledger, const seal::SeasonFile& season,
                          const std::string& file) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const bool mixed = std::ranges::any_of(
      *streams, [&](const ledger::StreamInfo& held) { return held.demo != season.stream.demo; });
  if (!mixed) return {};
  return fail(ErrorKind::kRefused,
              season.stream.demo ? "these records were made for demonstration, the ledger is real"
                                 : "these records are real, the ledger is for demonstration",
              file, "gather into another ledger");
}

// An error of the ledger, with the file it came by. A record that a whole file holds and the
// ledger cannot take is the file's fault.
Error named(Error error, const std::string& file) {
  if (error.kind == ErrorKind::kInvalid) error.kind = ErrorKind::kDamaged;
  error.where = error.where.empty() ? file : file + ", " + error.where;
  return error;
}

}  // namespace

files::Checked<Gathered> gather_file(ledger::Ledger& ledger, files::FileSystem& files,
                                     const files::Path& file, UtcInstant now,
                                     ledger::Branch branch) {
  const std::string name = file.string();
  const auto one = [](Error error) { return std::unexpected(files::Faults{std::move(error)}); };
  const auto season = seal::read_season_file(files, file);
  if (!season) return std::unexpected(season.error());
  const auto label = trusted_label(ledger, *season, name);
  if (!label) return one(label.error());
  if (const auto same = same_purpose(ledger, *season, name); !same) return one(same.error());
  auto absorbed = ledger.absorb(season->stream, season->span.first, season->span.before,
                                season->bodies, branch);
  if (!absorbed) return one(named(absorbed.error(), name));
  const auto noted = ledger.note_gathered(season->sha256, season->name, season->span, now);
  if (!noted) return one(named(noted.error(), name));
  return Gathered{season->name,
                  season->stream.device,
                  *label,
                  season->span,
                  std::move(*absorbed),
                  season->unread,
                  static_cast<std::int64_t>(season->senseless.size())};
}

Result<std::vector<Gap>> gaps(const ledger::Ledger& ledger) {
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  std::map<StreamId, std::string> devices;
  for (const ledger::StreamInfo& stream : *streams) devices[stream.id] = stream.device;
  // Every stream begins at 1, so what lacks in front is a gap too.
  std::map<StreamId, std::int64_t> held_to;
  std::vector<Gap> gaps;
  for (const ledger::Span& span : *spans) {
    std::int64_t& held = held_to[span.stream];
    if (span.first > held + 1) {
      gaps.push_back({span.stream, devices[span.stream], held + 1, span.first - 1});
    }
    held = span.last;
  }
  return gaps;
}

}  // namespace ligule::gather
