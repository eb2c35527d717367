// Where an archive is: a PostgreSQL address, read so that its password is never said again.
#pragma once

#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule::archive {

struct Address {
  std::string url;     // as given, for the database's own library only
  std::string name;    // for people: "archive forage at 127.0.0.1:5432", without user or password
  std::string secret;  // the password, plain; empty: none in the address

  // A text of the server or its library, on one line; nothing where it holds the password.
  [[nodiscard]] std::string without_secret(std::string_view text) const;
};

// Reads postgresql://[USER[:PASSWORD]@][HOST][:PORT][/DATABASE][?...] (libpq, "Connection URIs").
// kInvalid for anything else, and where a sign of a password could be taken for another part of the
// address: such a password would come back in what the library says. No error holds any of it.
[[nodiscard]] Result<Address> parse_address(const std::string& url);

}  // namespace ligule::archive
