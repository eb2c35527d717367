// A folder with a demonstration ledger of one trial, and verbs to run the touch program in it.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <string_view>

#include "app/program/run.h"
#include "storage/ledger/ledger.h"

namespace ligule::program_test {

inline constexpr std::string_view kDay = "2026-05-04";

// Ends the program when it fails: nothing can be tested then.
template <class T>
T need(Result<T> result) {
  if (!result) {
    std::fputs((one_line(result.error()) + "\n").c_str(), stderr);
    std::abort();
  }
  return *std::move(result);
}

class InventedSite {
 public:
  InventedSite();
  InventedSite(const InventedSite&) = delete;
  InventedSite& operator=(const InventedSite&) = delete;
  InventedSite(InventedSite&&) = delete;
  InventedSite& operator=(InventedSite&&) = delete;
  ~InventedSite();

  [[nodiscard]] std::string file(std::string_view name) const;
  [[nodiscard]] std::string ledger() const { return file("site.ledger"); }
  // Trial STAND: plots 101 to 120 and 201 to 220, one rating of percent stand, "2026-stand".
  void enrol(bool demo = true) const;
  // Another plan under the same codes.
  void enrol(const Plan& plan, bool demo = true) const;
  [[nodiscard]] static Plan plan();

  // Arguments for a drive file of these lines.
  [[nodiscard]] program::Arguments drive(std::string_view lines) const;
  // What the ledger holds: percent stand by plot number, as entered.
  [[nodiscard]] std::map<std::string, std::string> kept() const;

 private:
  std::filesystem::path folder_;
};

// Sets (or, without a value, takes away) an environment variable until the end of its scope.
class Variable {
 public:
  Variable(std::string name, const std::optional<std::string>& value);
  Variable(const Variable&) = delete;
  Variable& operator=(const Variable&) = delete;
  Variable(Variable&&) = delete;
  Variable& operator=(Variable&&) = delete;
  ~Variable();

 private:
  std::string name_;
  std::optional<std::string> before_;
};

// Lines of a drive that signs AB in and stands on plot 101 of the rating, its stake agreed to; then
// `more`.
[[nodiscard]] std::string on_the_card(std::string_view more);

// One run in this process.
struct Ran {
  program::Exit exit = program::Exit::kDone;
  std::string errors;
};
[[nodiscard]] Ran run(const program::Arguments& arguments,
                      const work::AppendCall& append = work::plain_append(),
                      const std::function<flow::Supply()>& supply = {});

}  // namespace ligule::program_test
