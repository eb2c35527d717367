#include "storage/trial/error.h"

#include <utility>

namespace ligule {

std::string one_line(const Error& error) {
  std::string line;
  if (!error.where.empty()) line += error.where + ": ";
  line += error.what;
  if (!error.mend.empty()) line += " (" + error.mend + ")";
  for (char& c : line) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte == 0x7f) c = ' ';
  }
  return line;
}

std::unexpected<Error> fail(ErrorKind kind, std::string what, std::string where, std::string mend) {
  return std::unexpected(Error{kind, std::move(what), std::move(where), std::move(mend)});
}

}  // namespace ligule
