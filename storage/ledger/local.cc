// Facts of this file alone, outside the chain: what was sealed, what was gathered, whom it trusts.
#include "storage/ledger/database.h"

namespace ligule::ledger {
namespace {

std::int64_t milliseconds(UtcInstant at) {
  return at.time_since_epoch().count();
}

}  // namespace

Result<void> Ledger::note_seal(const Seal& seal) {
  return database_->write([&](Connection& connection) -> Result<void> {
    Query query(connection,
                "INSERT OR REPLACE INTO seal(stream,first,last,sealed_ms,file_name,file_sha256)"
                " VALUES(?,?,?,?,?,?)");
    query.bind(1, seal.stream.uuid).bind(2, seal.first).bind(3, seal.last);
    query.bind(4, milliseconds(seal.at)).bind(5, seal.file_name).bind(6, seal.file_sha256);
    query.run();
    return {};
  });
}

Result<std::vector<Seal>> Ledger::seals() const {
  return database_->read([](Connection& connection) -> Result<std::vector<Seal>> {
    Query query(connection,
                "SELECT stream, first, last, sealed_ms, file_name, file_sha256 FROM seal"
                " ORDER BY sealed_ms, stream, first, last");
    std::vector<Seal> seals;
    while (query.step()) {
      seals.push_back({{query.uuid(0)},
                       query.integer(1),
                       query.integer(2),
                       UtcInstant(std::chrono::milliseconds(query.integer(3))),
                       std::string(query.text(4)),
                       query.digest(5)});
    }
    return seals;
  });
}

Result<void> Ledger::note_copy(const SealCopy& copy) {
  return database_->write([&](Connection& connection) -> Result<void> {
    Query query(connection, "INSERT INTO copy(file_name,place,at_ms) VALUES(?,?,?)");
    query.bind(1, copy.file_name).bind(2, copy.place).bind(3, milliseconds(copy.at));
    query.run();
    return {};
  });
}

Result<std::vector<SealCopy>> Ledger::copies() const {
  return database_->read([](Connection& connection) -> Result<std::vector<SealCopy>> {
    Query query(connection, "SELECT file_name, place, at_ms FROM copy ORDER BY at_ms, rowid");
    std::vector<SealCopy> copies;
    while (query.step()) {
      copies.push_back({std::string(query.text(0)), std::string(query.text(1)),
                        UtcInstant(std::chrono::milliseconds(query.integer(2)))});
    }
    return copies;
  });
}

Result<void> Ledger::trust(const TrustedKey& key) {
  return database_->write([&](Connection& connection) -> Result<void> {
    Query query(connection,
                "INSERT OR REPLACE INTO trusted_key(public_key,label,status) VALUES(?,?,?)");
    query.bind(1, key.key).bind(2, key.label);
    query.bind(3, std::string_view(key.status == Trust::kTrusted ? "trusted" : "revoked"));
    query.run();
    Query drop(connection, "DELETE FROM believed WHERE public_key=?");
    drop.bind(1, key.key);
    drop.run();
    for (const Believed& believed : key.believed) {
      Query add(connection,
                "INSERT OR REPLACE INTO believed(public_key,stream,last,head) VALUES(?,?,?,?)");
      add.bind(1, key.key).bind(2, believed.stream.uuid).bind(3, believed.last);
      add.bind(4, believed.head);
      add.run();
    }
    return {};
  });
}

Result<std::vector<TrustedKey>> Ledger::trusted_keys() const {
  return database_->read([](Connection& connection) -> Result<std::vector<TrustedKey>> {
    Query query(connection,
                "SELECT public_key, label, status FROM trusted_key ORDER BY label, public_key");
    std::vector<TrustedKey> keys;
    while (query.step()) {
      TrustedKey& key = keys.emplace_back();
      key.key = query.key(0);
      key.label = query.text(1);
      key.status = query.text(2) == "revoked" ? Trust::kRevoked : Trust::kTrusted;
    }
    for (TrustedKey& key : keys) {
      Query believed(connection,
                     "SELECT stream, last, head FROM believed WHERE public_key=? ORDER BY stream");
      believed.bind(1, key.key);
      while (believed.step())
        key.believed.push_back(
            {StreamId{believed.uuid(0)}, believed.integer(1), believed.digest(2)});
    }
    return keys;
  });
}

Result<void> Ledger::note_gathered(const Digest& file, std::string_view name, const Span& span,
                                   UtcInstant at) {
  return database_->write([&](Connection& connection) -> Result<void> {
    Query query(connection,
                "INSERT OR IGNORE INTO gathered(file_sha256,file_name,stream,first,last,at_ms)"
                " VALUES(?,?,?,?,?,?)");
    query.bind(1, file).bind(2, name).bind(3, span.stream.uuid).bind(4, span.first);
    query.bind(5, span.last).bind(6, milliseconds(at));
    query.run();
    return {};
  });
}

}  // namespace ligule::ledger
