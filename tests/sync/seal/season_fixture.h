// A small stream of records with every kind of cell in it, sealed without a ledger.
#pragma once

#include <string>
#include <vector>

#include "storage/ledger/digest.h"
#include "storage/trial/details.h"
#include "storage/trial/record_line.h"
#include "sync/seal/encoding.h"
#include "sync/seal/season_file.h"

namespace ligule::seal {

inline SecretKey test_key(std::uint8_t fill = 7) {
  Seed seed{};
  seed.fill(fill);
  return SecretKey::from_seed(seed);
}

inline constexpr std::int64_t kTestStart = 1780304400000;  // 2026-06-01 09:00 UTC

class Season {
 public:
  explicit Season(std::uint8_t fill = 7)
      : key(test_key(fill)), ids_([n = std::uint64_t{fill}]() mutable { return n += 977; }) {
    table.stream.id = StreamId{next_id()};
    table.stream.device = "North, 1";
    table.stream.public_key = key.public_key();
    table.span.stream = table.stream.id;
    table.span.first = 1;
    Record first = envelope(kind::kStream);
    first.details = details_text({{"device", table.stream.device},
                                  {"public_key", hex(table.stream.public_key)},
                                  {"software", "ligule test"}});
    add(first);
  }

  // A record that is complete but for its kind's own cells.
  Record envelope(std::string_view what) {
    Record record;
    record.stream = table.stream.id;
    record.seq = static_cast<std::int64_t>(bodies.size()) + 1;
    record.id = RecordId{next_id()};
    record.kind = what;
    record.at = stamp_at(UtcInstant(std::chrono::milliseconds(kTestStart + record.seq * 1000)),
                         std::chrono::minutes(-240));
    return record;
  }
  void add_reading(const std::string& entered, double value) {
    Record record = envelope(kind::kReading);
    const TrialId trial = trial_id({"ridge", "north", "tf26"});
    record.person = person_id("ab");
    record.trial = trial;
    record.plan = sha256("plan").hex();
    record.subject = plot_id(trial, "101").uuid;
    record.measure = "percent_stand";
    record.occasion = rating_id(trial, "2026-stand");
    record.purpose = Purpose::kSurvey;
    record.state = ValueState::kValue;
    record.entered = entered;
    record.unit = "%";
    record.value = value;
    record.definition = sha256("scale").hex();
    record.answers = {{"far_from_last", "seen_again"}};
    record.blind = true;
    record.source = Source::kTapped;
    add(record);
  }
  void add_note(const std::string& words) {
    Record record = envelope(kind::kEvent);
    record.entered = "note";
    record.reason = words;
    add(record);
  }
  // A record made elsewhere, as the next of this stream.
  void take(Record record) {
    record.stream = table.stream.id;
    record.seq = static_cast<std::int64_t>(bodies.size()) + 1;
    add(record);
  }
  // The file of records first..newest.
  [[nodiscard]] std::string sealed_from(std::int64_t first) const {
    StreamTable part = table;
    part.span.first = first;
    std::string rows = records_header();
    for (std::size_t i = 0; i < bodies.size(); ++i) {
      if (static_cast<std::int64_t>(i) + 1 < first) {
        part.span.before = chained(part.span.before, bodies[i]);
      } else {
        rows += bodies[i] + "\r\n";
      }
    }
    return season_bytes(part, rows, key).value();
  }
  void add(const Record& record) { add_body(record_body(record).value()); }
  void add_body(const std::string& body) {
    bodies.push_back(body);
    table.span.head = chained(bodies.size() == 1 ? table.span.before : table.span.head, body);
    table.span.last = static_cast<std::int64_t>(bodies.size());
  }
  [[nodiscard]] std::string records_csv() const {
    std::string text = records_header();
    for (const std::string& body : bodies) text += body + "\r\n";
    return text;
  }
  [[nodiscard]] std::string sealed() const {
    return season_bytes(table, records_csv(), key).value();
  }

  SecretKey key;
  StreamTable table;
  std::vector<std::string> bodies;

 private:
  Uuid next_id() { return ids_.next(UtcInstant(std::chrono::milliseconds(kTestStart))); }
  UuidSequence ids_;
};

inline Season small_season() {
  Season season;
  season.add_reading("85", 85);
  season.add_reading("12.5", 12.5);
  season.add_note("geese, \"many\" of them");
  return season;
}

}  // namespace ligule::seal
