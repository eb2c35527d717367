// A ledger on a disk that lies: bytes of it changed where the input says.
//
// Input: a byte that names the ledger by its last two bits and says whether it is written to (4)
// and walked whole (8), then changes of five bytes and more: where (three bytes, the first most
// significant), what (one byte: below 128 so many bytes of the input come in the place of what
// stood there, from 128 on the file ends there), and those bytes.
#include <fcntl.h>
#include <unistd.h>

#include <array>
#include <set>
#include <string>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/ledger/salvage.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/targets.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::fuzz {
namespace {

using namespace ledger;

// A file that is written over in place, so that it stays the file it was: a ledger knows its own.
struct File {
  std::string path, bytes;

  void put(std::string_view changed) const {
    const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    require(file >= 0, "a file in memory can be opened");
    const auto wrote = ::write(file, changed.data(), changed.size());
    require(::close(file) == 0 && wrote == static_cast<ssize_t>(changed.size()),
            "a file in memory can be written");
  }
};

// A ledger as it was left, and what else lies beside it.
struct Left {
  File main, log;
  Digest digest;
  std::set<std::string> bodies;  // of all records
};

std::set<std::string> bodies_in(const Ledger& ledger) {
  std::set<std::string> found;
  for (const Span& span : sample::need(ledger.spans()))
    for (std::string& body : sample::bodies(ledger, span.stream, span.first, span.last))
      found.insert(std::move(body));
  return found;
}

void fill(Ledger& ledger) {
  sample::need(ledger.append({sample::plan_record(100, sample::plan())}));
  std::vector<Record> readings{sample::reading(110, "101", "percent_stand", "85"),
                               sample::reading(111, "102", "percent_stand", "70")};
  readings = sample::need(ledger.append(std::move(readings)));
  sample::need(ledger.append({sample::correction(112, readings[0], "80")}));
  sample::need(ledger.append({sample::withdrawal(113, readings[1])}));
  sample::need(ledger.append({sample::event(114, "clipping")}));
}

class Ledgers {
 public:
  Ledgers() : folder_(/*in_memory=*/true) {
    {
      Ledger ledger = sample::started(folder_.file("whole.ligule"), 1);
      fill(ledger);
      sample::need(ledger.trust({ledger::PublicKey{}, "north", Trust::kTrusted}));
    }
    keep("whole.ligule");
    sample::write_bytes(
        folder_.file("version1.ligule"),
        sample::file_bytes(LIGULE_TEST_DATA "/storage/ledger/data/version1.ledger"));
    keep("version1.ligule");
    // Cut off with its write-ahead log beside it, as a tablet whose battery is empty leaves it.
    Ledger open = sample::started(folder_.file("open.ligule"), 50);
    fill(open);
    const std::string main = sample::file_bytes(open.path());
    const std::string log = sample::file_bytes(open.path() + "-wal");
    sample::write_bytes(folder_.file("cut.ligule"), main);
    sample::write_bytes(folder_.file("cut.ligule-wal"), log);
    keep("cut.ligule");
    left_.back().main.bytes = main;
    left_.back().log.bytes = log;
  }
  [[nodiscard]] const Left& at(std::size_t which) const { return left_[which % left_.size()]; }

 private:
  void keep(const std::string& name) {
    const std::string path = folder_.file(name);
    const Ledger ledger = sample::need(Ledger::open(path, Access::kReadOnly));
    left_.push_back({{path, sample::file_bytes(path)},
                     {path + "-wal", {}},
                     sample::need(ledger.digest()),
                     bodies_in(ledger)});
  }

  sample::Folder folder_;
  std::vector<Left> left_;
};

// The change at the beginning of the input, done to the bytes; gives what is left of the input.
std::string_view changed(std::string& bytes, std::string_view input) {
  const auto byte = [&](std::size_t at) { return static_cast<unsigned char>(input[at]); };
  const std::size_t where =
      ((std::size_t{byte(0)} << 16U) | (std::size_t{byte(1)} << 8U) | byte(2));
  const std::size_t what = byte(3);
  input.remove_prefix(4);
  const std::size_t at = where % (bytes.size() + 1);
  if (what >= 128) {
    bytes.resize(at);
    return input;
  }
  const std::string_view put = input.substr(0, std::min(what, bytes.size() - at));
  bytes.replace(at, put.size(), put);
  input.remove_prefix(put.size());
  return input;
}

template <class T>
void answered(const Result<T>& answer) {
  require(answer.has_value() || !answer.error().what.empty(), "an error says what is wrong");
}

// All that can be asked of a ledger: answers or errors, whatever stands in it.
void ask_everything(const Ledger& ledger) {
  answered(ledger.streams());
  const auto spans = ledger.spans();
  answered(ledger.digest());
  for (const Span& span : spans.value_or(std::vector<Span>{})) {
    std::int64_t count = 0;
    const auto read = ledger.each_record(span.stream, span.first, span.last,
                                         [&](std::int64_t, std::string_view body, const Digest&) {
                                           return !body.empty() || ++count < 1000;
                                         });
    answered(read);
  }
  answered(ledger.plans());
  answered(ledger.claims(sample::trial()));
  answered(ledger.claims(sample::trial(), sample::rating()));
  answered(ledger.history(sample::plot("101").uuid));
  answered(ledger.as_sown(sample::trial()));
  answered(ledger.events(sample::trial()));
  answered(ledger.of_kind("person"));
  answered(ledger.open_bags());
  answered(ledger.seals());
  answered(ledger.copies());
  answered(ledger.trusted_keys());
  answered(ledger.newest_id());
  answered(ledger.limits_told());
}

// What the full check calls whole holds the records it was left with. Not where a write-ahead log
// was cut off with it: a changed byte there ends the log at the commit before, as a torn write
// does.
void walk(const Ledger& ledger, const Digest& digest) {
  const auto findings = ledger.check();
  if (!findings || !findings->empty()) return;
  const auto held = ledger.digest();
  require(held.has_value() && *held == digest, "a changed record does not pass the check");
}

// What is given back of a damaged ledger was kept in it.
void give_back(const Left& left) {
  const auto found = salvage(left.main.path);
  answered(found);
  if (!found) return;
  for (const WholeRun& run : found->runs)
    for (const std::string& body : run.bodies)
      require(left.bodies.contains(body), "no record is given back that was not kept");
}

void write_to(const Left& left) {
  auto ledger = Ledger::open(left.main.path);
  if (!ledger) return;
  if (!ledger->my_stream()) answered(ledger->start_stream(sample::start(200)));
  if (const auto added = ledger->append({sample::event(210, "rain")}); !added) return;
  answered(ledger->checkpoint());
}

}  // namespace

void ledger_file(std::string_view input) {
  if (input.empty()) return;
  static const Ledgers ledgers;
  const auto first = static_cast<unsigned char>(input.front());
  const Left& left = ledgers.at(first & 3U);
  input.remove_prefix(1);
  // One run of bytes, so that a place may lie in either file.
  std::string bytes = left.main.bytes + left.log.bytes;
  while (input.size() >= 5) input = changed(bytes, input);
  const std::string main = bytes.substr(0, left.main.bytes.size());
  left.main.put(main);
  ::unlink((left.main.path + "-shm").c_str());
  ::unlink((left.main.path + ".last").c_str());
  if (bytes.size() > main.size())
    left.log.put(std::string_view(bytes).substr(main.size()));
  else
    ::unlink(left.log.path.c_str());
  if (const auto ledger = Ledger::open(left.main.path, Access::kReadOnly)) {
    ask_everything(*ledger);
    if ((first & 8U) != 0 && left.log.bytes.empty()) walk(*ledger, left.digest);
  } else {
    answered(ledger);
    give_back(left);
  }
  require(sample::file_bytes(left.main.path) == main, "reading a ledger changes nothing of it");
  if ((first & 4U) == 0) return;
  if (const auto damaged = Ledger::open(left.main.path); !damaged) {
    require(
        damaged.error().kind != ErrorKind::kDamaged || sample::file_bytes(left.main.path) == main,
        "a damaged ledger is not written to");
    return;
  }
  write_to(left);
}

}  // namespace ligule::fuzz
