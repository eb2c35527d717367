#include "sync/gather/compare.h"

#include <algorithm>
#include <map>
#include <utility>

namespace ligule::gather {
namespace {

using ledger::Ledger;
using ledger::Span;

std::string run_of(const Ledger& ledger, const std::string& device, std::int64_t first,
                   std::int64_t last) {
  const std::string records = first == last
                                  ? "record " + std::to_string(first) + " of " + device + " is"
                                  : "records " + std::to_string(first) + " to " +
                                        std::to_string(last) + " of " + device + " are";
  return records + " in " + ledger.path();
}

// Bodies by number: of a ledger, from..to of a stream.
Result<std::map<std::int64_t, std::string>> bodies_of(const Ledger& ledger, StreamId stream,
                                                      std::int64_t from, std::int64_t to) {
  std::map<std::int64_t, std::string> bodies;
  const auto read = ledger.each_record(stream, from, to,
                                       [&](std::int64_t seq, std::string_view body, const Digest&) {
                                         bodies.emplace(seq, body);
                                         return true;
                                       });
  if (!read) return std::unexpected(read.error());
  return bodies;
}

constexpr std::int64_t kAtOnce = 10'000;  // records in memory

// What `one` has of a run and `other` lacks or has otherwise. Each first differing record is told
// once: by the ledger that is asked first.
class RunWalk {
 public:
  RunWalk(const Ledger& one, const Ledger& other, std::string device, bool tell_other)
      : one_(one), other_(other), device_(std::move(device)), tell_other_(tell_other) {}

  Result<void> walk(const Span& run, std::vector<std::string>& out) {
    for (std::int64_t from = run.first; from <= run.last && !differs_; from += kAtOnce) {
      const std::int64_t to = std::min(run.last, from + kAtOnce - 1);
      const auto mine = bodies_of(one_, run.stream, from, to);
      if (!mine) return std::unexpected(mine.error());
      const auto theirs = bodies_of(other_, run.stream, from, to);
      if (!theirs) return std::unexpected(theirs.error());
      for (std::int64_t seq = from; seq <= to && !differs_; ++seq) look(seq, *mine, *theirs, out);
    }
    close(out);
    return {};
  }

 private:
  using Bodies = std::map<std::int64_t, std::string>;

  void look(std::int64_t seq, const Bodies& mine, const Bodies& theirs,
            std::vector<std::string>& out) {
    const auto there = theirs.find(seq);
    if (there == theirs.end()) {
      if (lacking_ == 0) lacking_ = seq;
      last_lacking_ = seq;
      return;
    }
    close(out);
    const auto here = mine.find(seq);
    if (here != mine.end() && here->second == there->second) return;
    differs_ = true;
    if (tell_other_)
      out.push_back("record " + std::to_string(seq) + " of " + device_ + " is another in " +
                    other_.path());
  }
  void close(std::vector<std::string>& out) {
    if (lacking_ > 0)
      out.push_back(run_of(one_, device_, lacking_, last_lacking_) + " and not in " +
                    other_.path());
    lacking_ = 0;
  }

  const Ledger& one_;
  const Ledger& other_;
  std::string device_;
  bool tell_other_;
  bool differs_ = false;
  std::int64_t lacking_ = 0;  // first of a run that the other lacks; 0: none is open
  std::int64_t last_lacking_ = 0;
};

Result<void> add(const Ledger& one, const Ledger& other, bool tell_other,
                 std::vector<std::string>& out) {
  const auto streams = one.streams();
  if (!streams) return std::unexpected(streams.error());
  std::map<StreamId, std::string> devices;
  for (const ledger::StreamInfo& stream : *streams) devices[stream.id] = stream.device;
  const auto spans = one.spans();
  if (!spans) return std::unexpected(spans.error());
  for (const Span& span : *spans) {
    RunWalk run(one, other, devices[span.stream], tell_other);
    if (const auto walked = run.walk(span, out); !walked) return walked;
  }
  return {};
}

}  // namespace

Result<std::vector<std::string>> differences(const Ledger& one, const Ledger& other) {
  std::vector<std::string> out;
  if (const auto added = add(one, other, true, out); !added) return std::unexpected(added.error());
  if (const auto added = add(other, one, false, out); !added) return std::unexpected(added.error());
  return out;
}

}  // namespace ligule::gather
