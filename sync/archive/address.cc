#include "sync/archive/address.h"

#include <algorithm>
#include <array>
#include <map>
#include <memory>

#include "sync/archive/libpq.h"

namespace ligule::archive {
namespace {

std::unexpected<Error> no_address(std::string what) {
  return fail(ErrorKind::kInvalid, std::move(what), "--archive",
              "write postgresql://USER@HOST:PORT/DATABASE; the password is best kept in ~/.pgpass, "
              "in an address @ is %40, / is %2F, : is %3A and ? is %3F");
}

// What stands behind "postgresql://"; empty where it is no such address.
std::string_view behind_scheme(std::string_view url) {
  for (const std::string_view scheme : {"postgresql://", "postgres://"})
    if (url.starts_with(scheme)) return url.substr(scheme.size());
  return {};
}

// Whether an @ stands where only one part of the address can be meant by it.
bool parts_are_clear(std::string_view rest) {
  const std::string_view authority = rest.substr(0, rest.find_first_of("/?"));
  return std::ranges::count(authority, '@') <= 1 &&
         std::ranges::count(rest, '@') == std::ranges::count(authority, '@');
}

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return byte < 0x20 || byte == 0x7f;
}

// What the library makes of the address; empty where it can't read it. What it says then may hold
// any part of the address.
std::map<std::string, std::string> options_of(const std::string& url) {
  char* said = nullptr;
  const std::unique_ptr<PQconninfoOption, void (*)(PQconninfoOption*)> options(
      pq().PQconninfoParse(url.c_str(), &said), pq().PQconninfoFree);
  if (said != nullptr) pq().PQfreemem(said);
  std::map<std::string, std::string> found;
  if (options == nullptr) return found;
  for (const PQconninfoOption* each = options.get(); each->keyword != nullptr; ++each)
    found[each->keyword] = each->val == nullptr ? "" : each->val;
  return found;
}

}  // namespace

std::string Address::without_secret(std::string_view text) const {
  if (!secret.empty() && text.find(secret) != std::string_view::npos) return {};
  std::string line(text.substr(0, text.find('\n')));
  std::erase_if(line, is_control);
  return line;
}

Result<Address> parse_address(const std::string& url) {
  const std::string_view rest = behind_scheme(url);
  if (rest.empty() || std::ranges::any_of(url, is_control))
    return no_address("that is no address of an archive");
  if (!parts_are_clear(rest)) return no_address("the address of the archive can't be told apart");
  if (find_libpq() == nullptr)
    return fail(ErrorKind::kIo, "PostgreSQL's library is not on this machine", "--archive",
                "install libpq5");
  auto options = options_of(url);
  if (options.empty()) return no_address("that is no address of an archive");
  const std::string& port = options["port"];
  if (port.find_first_not_of("0123456789,") != std::string::npos)
    return no_address("the port in the archive's address is no number");
  Address address;
  address.url = url;
  address.secret = options["password"];
  address.name = "archive";
  if (!options["dbname"].empty()) address.name += " " + options["dbname"];
  if (!options["host"].empty()) address.name += " at " + options["host"];
  if (!options["host"].empty() && !port.empty()) address.name += ":" + port;
  // What stands in two places is a slip, and would be told with the name.
  if (!address.secret.empty() && address.name.find(address.secret) != std::string::npos)
    address.name = "archive";
  return address;
}

}  // namespace ligule::archive
