// What can go wrong in the field or in a file, as a value.
//
// Every expected failure in Ligule is an Error: a kind that a caller can act on and three short
// texts for a person (what, where, how to mend). Nothing throws across a room; an assertion is for
// our own mistakes only.
#pragma once

#include <expected>
#include <string>
#include <string_view>

namespace ligule {

enum class ErrorKind {
  kInvalid,       // read and judged not so: a faulty plan, CSV, record, season file
  kNotFound,      // no such file, trial, plot, record
  kRefused,       // a check says that this cannot be meant
  kConflict,      // two things that cannot both stand: a fork, another plan under the same codes
  kIo,            // the machine could not carry it out: no space, no rights, a stick pulled out
  kDamaged,       // bytes are not what they were when written
  kNotTrusted,    // signed by a key that nobody has vouched for, or one that was revoked
  kNewerVersion,  // written by a later version than this program reads
};

struct Error {
  ErrorKind kind;
  std::string what;   // what is wrong, in the words of the trade: "plot 204 stands twice"
  std::string where;  // file, line, column or screen; may be empty
  std::string mend;   // what a person can do about it; may be empty

  bool operator==(const Error&) const = default;
};

template <class T>
using Result = std::expected<T, Error>;

// "where: what (mend)" on one line, the form every command prints. Control characters become
// spaces.
[[nodiscard]] std::string one_line(const Error& error);

// Short for std::unexpected(Error{...}).
[[nodiscard]] std::unexpected<Error> fail(ErrorKind kind, std::string what, std::string where = {},
                                          std::string mend = {});

}  // namespace ligule
