#include "app/program/arguments.h"

#include <CLI/CLI.hpp>
#include <algorithm>

#include "storage/trial/number.h"

namespace ligule::program {
namespace {

// Smaller than any tablet, larger than any display: a slip of the finger.
constexpr std::int64_t kLeastSide = 200;
constexpr std::int64_t kMostSide = 10'000;
constexpr double kLeastPpi = 30;
constexpr double kMostPpi = 1000;

// As they were written; read further below, so that every message is ours.
struct Texts {
  std::string ledger, size, ppi, today, drive;
  bool headless = false;
};

void describe(CLI::App& app, Texts& texts) {
  app.set_version_flag("--version", std::string("ligule ") + LIGULE_VERSION,
                       "Print the version and end");
  app.add_option("--ledger", texts.ledger,
                 "Ledger to work in; made when it is not there (default: ligule/tablet.ledger "
                 "among your own data)")
      ->type_name("FILE");
  app.add_flag("--headless", texts.headless, "Without a display; needs --drive");
  app.add_option("--size", texts.size, "Size of the window in pixels, such as 1280x800")
      ->type_name("WxH");
  app.add_option("--ppi", texts.ppi, "True dots per inch of the display")->type_name("N");
  app.add_option("--today", texts.today,
                 "Demonstrate on this day: the clock starts at 08:00, and everything recorded is "
                 "marked as a demonstration")
      ->type_name("YYYY-MM-DD");
  app.add_option("--drive", texts.drive,
                 "Play the actions of this file, then end; the exit status tells whether all could "
                 "be done")
      ->type_name("FILE");
  app.footer(
      "Exit status: 0 done; 1 the drive file or one of its actions is at fault, or the ledger is "
      "damaged; 2 bad arguments, or it could not be carried out.");
}

std::unexpected<Error> bad(const std::string& option, std::string what, std::string mend) {
  return fail(ErrorKind::kInvalid, std::move(what), option, std::move(mend));
}

Result<platform::Size> read_size(const std::string& text) {
  const std::size_t cross = std::min(text.find('x'), text.size());
  const auto width = parse_integer(text.substr(0, cross));
  const auto height = parse_integer(text.substr(std::min(cross + 1, text.size())));
  const auto fits = [](const Result<std::int64_t>& side) {
    return side && *side >= kLeastSide && *side <= kMostSide;
  };
  if (!fits(width) || !fits(height))
    return bad("--size", "'" + text + "' is no size of a window", "write 1280x800");
  return platform::Size{static_cast<int>(*width), static_cast<int>(*height)};
}

Result<Arguments> read(const Texts& texts) {
  Arguments arguments;
  arguments.headless = texts.headless;
  if (!texts.ledger.empty()) arguments.ledger = texts.ledger;
  if (!texts.drive.empty()) arguments.drive = texts.drive;
  if (!texts.size.empty()) {
    const auto size = read_size(texts.size);
    if (!size) return std::unexpected(size.error());
    arguments.size = *size;
  }
  if (!texts.ppi.empty()) {
    const auto ppi = parse_number(texts.ppi);
    if (!ppi || *ppi < kLeastPpi || *ppi > kMostPpi)
      return bad("--ppi", "'" + texts.ppi + "' is no number of dots per inch", "write 189");
    arguments.ppi = *ppi;
  }
  if (!texts.today.empty()) {
    const auto today = parse_date(texts.today);
    if (!today)
      return bad("--today", "'" + texts.today + "' is not a date", "write it as 2026-06-01");
    arguments.today = *today;
  }
  if (arguments.headless && !arguments.drive)
    return bad("--headless", "without a display nobody can tap", "give --drive FILE");
  return arguments;
}

}  // namespace

Result<std::variant<Arguments, Told>> parse_arguments(const std::vector<std::string>& given) {
  CLI::App app("Ligule: ratings, harvests and dry weights of plot trials, kept on this tablet.",
               "ligule");
  Texts texts;
  describe(app, texts);
  // The library takes them last first.
  std::vector<std::string> reversed(given.rbegin(), given.rend());
  try {
    app.parse(reversed);
  } catch (const CLI::CallForHelp&) {
    return Told{app.help()};
  } catch (const CLI::CallForVersion& version) {
    return Told{std::string(version.what()) + "\n"};
  } catch (const CLI::ParseError& error) {
    return bad("arguments", error.what(), "ligule --help lists them");
  }
  auto arguments = read(texts);
  if (!arguments) return std::unexpected(std::move(arguments).error());
  return *std::move(arguments);
}

}  // namespace ligule::program
