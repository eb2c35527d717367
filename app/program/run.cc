#include "app/program/run.h"

#include <atomic>
#include <functional>
#include <future>
#include <memory>
#include <new>
#include <ostream>
#include <span>
#include <utility>

#include "app/platform/loop.h"
#include "app/platform/power.h"
#include "app/platform/window.h"
#include "app/program/application.h"
#include "app/program/drive.h"
#include "app/program/opening.h"
#include "app/program/station.h"
#include "app/program/threshold.h"
#include "app/work/preferences.h"
#include "app/work/space.h"
#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/plan_folder.h"
#include "storage/files/words.h"
#include "storage/ledger/file_form.h"

namespace ligule::program {
namespace {

Exit report(std::ostream& errors, const Error& error) {
  errors << "ligule: " << one_line(error) << "\n";
  return error.kind == ErrorKind::kDamaged ? Exit::kJudged : Exit::kCouldNot;
}

Exit report(std::ostream& errors, const files::Faults& faults) {
  for (const Error& fault : faults) report(errors, fault);
  return Exit::kCouldNot;
}

// What assets/ gives to a run.
struct Read {
  Definitions definitions;
  Languages languages;
  std::vector<flow::LanguageName> names;  // of the languages, by code
  files::PlanSchemas schemas;
  std::vector<scale::LineForm> line_forms;
};

Result<std::vector<scale::LineForm>> read_line_forms(files::FileSystem& files,
                                                     const files::Path& assets) {
  constexpr std::uint64_t kLargest = 1U << 20U;
  const files::Path file = assets / "indicators.json";
  const auto text = files.read(file, kLargest);
  if (!text) return std::unexpected(text.error());
  return scale::parse_line_forms(*text, file.string());
}

// Errors are written in it: its book of phrases has only what a crew should read in other words.
constexpr const char* kErrorLanguage = "en";

files::Checked<screens::Language> with_phrases(files::FileSystem& files, const files::Path& assets,
                                               const std::string& code,
                                               screens::Language::Texts texts) {
  const auto phrases = files::load_phrases(files, assets, code);
  if (!phrases) return std::unexpected(phrases.error());
  auto book =
      screens::PhraseBook::make(phrases->texts, phrases->places, "errors/" + code + ".json");
  if (!book) return std::unexpected(files::Faults{std::move(book).error()});
  return screens::Language(
      std::move(texts), *std::move(book),
      code == kErrorLanguage ? screens::Untold::kAsWritten : screens::Untold::kByKind);
}

// Every language that has words.
files::Checked<void> read_languages(files::FileSystem& files, const files::Path& assets,
                                    Read& read) {
  const auto codes = files::languages(files, assets);
  if (!codes) return std::unexpected(files::Faults{codes.error()});
  for (const std::string& code : *codes) {
    auto words = files::load_words(files, assets, code);
    if (!words) return std::unexpected(std::move(words).error());
    read.names.push_back({code, words->name});
    auto language = with_phrases(files, assets, code, std::move(words->texts));
    if (!language) return std::unexpected(std::move(language).error());
    read.languages.emplace(code, *std::move(language));
  }
  if (!read.languages.contains(kErrorLanguage))
    return std::unexpected(files::Faults{{ErrorKind::kNotFound, "English words are missing",
                                          "words/en.json", "install the program again"}});
  return {};
}

files::Checked<Read> read_assets(files::FileSystem& files) {
  const auto assets = files::find_assets(files);
  if (!assets) return std::unexpected(files::Faults{assets.error()});
  auto definitions = files::load_definitions(files, *assets);
  if (!definitions) return std::unexpected(std::move(definitions).error());
  auto schemas = files::load_plan_schemas(files, *assets);
  if (!schemas) return std::unexpected(std::move(schemas).error());
  auto line_forms = read_line_forms(files, *assets);
  if (!line_forms) return std::unexpected(files::Faults{std::move(line_forms).error()});
  Read read{*std::move(definitions), {}, {}, *std::move(schemas), *std::move(line_forms)};
  if (auto words = read_languages(files, *assets, read); !words)
    return std::unexpected(std::move(words).error());
  return read;
}

platform::WindowOptions window_of(const Arguments& arguments) {
  platform::WindowOptions options;
  options.headless = arguments.headless;
  options.size = arguments.size;
  options.ppi = arguments.ppi;
  return options;
}

using PageOf = std::function<screens::BeforePage(const screens::Language&)>;

// What people chose, or why that can't be known; and the display as it says of itself.
flow::PreferencesRead read_preferences(files::FileSystem& files, const files::Path& ledger,
                                       std::vector<flow::LanguageName> names,
                                       const platform::Window& window) {
  flow::PreferencesRead read;
  read.languages = std::move(names);
  read.display = {window.ppi(), window.size().width, window.size().height};
  auto preferences = work::load_preferences(files, work::preferences_path(ledger.string()));
  if (preferences)
    read.preferences = *std::move(preferences);
  else
    read.error = std::move(preferences).error();
  return read;
}

// Where season files go: a folder beside the ledger.
files::Path season_folder(const files::Path& ledger) {
  return ledger.parent_path() / "season-files";
}

// What this machine has left. A driven run is to come out the same on every machine: it asks none.
std::function<flow::Supply()> supply_of(const Arguments& arguments, const files::Path& ledger) {
  if (arguments.drive) return {};
  return [ledger] {
    const platform::Power power = platform::power_now();
    const work::Space space = work::space_of(ledger);
    return flow::Supply{power.percent, power.plugged, space.free_bytes, space.ledger_bytes};
  };
}

Exit play(const Arguments& arguments, std::span<const Action> actions, platform::Window& window,
          platform::Loop& loop, Station& station, const touch::Ui& ui, std::ostream& errors) {
  if (!arguments.drive) {
    if (auto ran = loop.run(); !ran) return report(errors, ran.error());
    return Exit::kDone;
  }
  Driver driver(window, loop, *station.clock,
                [&ui]() -> const touch::Register& { return ui.seen(); });
  if (auto played = driver.play(actions, arguments.drive->string()); !played) {
    report(errors, played.error());
    return Exit::kJudged;
  }
  return Exit::kDone;
}

// As people left it: no flash of white at night.
flow::LookView last_look(const flow::PreferencesRead& preferences) {
  flow::Model before;
  before.preferences = preferences.preferences;
  before.display = preferences.display;
  return flow::look_of(before);
}

// Shows a page before there is a tablet to work on, and takes from `actions` what was played on it.
// The key that was tapped; empty: none was.
Result<std::optional<std::size_t>> show_page(const Arguments& arguments,
                                             std::span<const Action>& actions, const Read& read,
                                             files::FileSystem& files, const files::Path& ledger,
                                             const PageOf& page_of) {
  auto window = platform::Window::open(window_of(arguments));
  if (!window) return std::unexpected(std::move(window).error());
  const flow::LookView look = last_look(read_preferences(files, ledger, read.names, **window));
  (*window)->set_ppi(look.ppi);
  touch::Ui ui(**window, touch_look(look));
  auto words = read.languages.find(look.language);
  if (words == read.languages.end()) words = read.languages.find(kErrorLanguage);
  platform::RealClock real;
  platform::DrivenClock driven(0);
  platform::Clock& clock = arguments.drive ? static_cast<platform::Clock&>(driven) : real;
  Threshold threshold(ui, clock, page_of(words->second));
  platform::Loop loop(**window, threshold, clock);
  if (!arguments.drive) {
    if (auto ran = loop.run(); !ran) return std::unexpected(std::move(ran).error());
    return threshold.tapped();
  }
  Driver driver(**window, loop, clock, [&ui]() -> const touch::Register& { return ui.seen(); });
  const auto played =
      driver.play_until(actions, arguments.drive->string(), [&] { return threshold.finished(); });
  if (!played) return std::unexpected(played.error());
  actions = actions.subspan(*played);
  return threshold.tapped();
}

bool somebody_looks(const Arguments& arguments) {
  return arguments.drive || !arguments.headless;
}

// Whoever starts the program from an icon sees no terminal: what keeps the tablet closed is shown.
Exit stay_closed(const Arguments& arguments, std::span<const Action> actions, const Read& read,
                 files::FileSystem& files, const files::Path& ledger, const Error& error,
                 std::ostream& errors) {
  const Exit exit = report(errors, error);
  if (!somebody_looks(arguments)) return exit;
  const auto shown =
      show_page(arguments, actions, read, files, ledger,
                [&](const screens::Language& words) { return screens::closed_page(words, error); });
  if (!shown && arguments.drive) report(errors, shown.error());
  return exit;
}

// Opens the ledger while the window stands already; errors of open_station() and of drawing. Where
// the window is closed meanwhile the ledger is opened all the same, and the run ends.
Result<Station> open_before_eyes(platform::Window& window, const Read& read,
                                 files::FileSystem& files, const StationWish& wish) {
  const flow::LookView look = last_look(read_preferences(files, wish.ledger, read.names, window));
  window.set_ppi(look.ppi);
  auto words = read.languages.find(look.language);
  if (words == read.languages.end()) words = read.languages.find(kErrorLanguage);
  std::atomic<bool> opened = false;
  auto opening = std::async(std::launch::async, [&]() -> Result<Station> {
    // Whatever comes of it, the window must not wait for ever.
    const std::unique_ptr<std::atomic<bool>, void (*)(std::atomic<bool>*)> told(
        &opened, [](std::atomic<bool>* flag) {
          *flag = true;
          platform::Window::wake();
        });
    try {
      return open_station(files, wish);
    } catch (const std::bad_alloc&) {
      return fail(ErrorKind::kIo, "there is not enough memory for this", wish.ledger.string(),
                  "close other programs, then do it again");
    }
  });
  touch::Ui ui(window, touch_look(look));
  platform::RealClock clock;
  Opening page(ui, clock, words->second, opened);
  platform::Loop loop(window, page, clock);
  const auto ran = loop.run();
  auto station = opening.get();
  if (!ran) return std::unexpected(ran.error());
  return station;
}

// A ledger that an older version wrote is brought to this one only when somebody was told what
// happens, and after it was copied as it is. Empty: go on.
std::optional<Exit> before_older(const Arguments& arguments, std::span<const Action>& actions,
                                 const Read& read, files::FileSystem& files,
                                 const files::Path& ledger, std::ostream& errors) {
  if (const auto there = files.exists(ledger); !there || !*there) return {};
  const auto form = ledger::file_form(ledger.string());
  if (!form || !form->older()) return {};  // what is wrong with it is told where it is opened
  const auto closed = [&](const Error& error) {
    return stay_closed(arguments, actions, read, files, ledger, error, errors);
  };
  const auto copy = ledger::copy_before(files, ledger, *form);
  if (!copy) return closed(copy.error());
  const auto keep = [&]() -> std::optional<Exit> {
    if (auto kept = ledger::keep_copy(files, ledger, *copy); !kept) return closed(kept.error());
    return {};
  };
  if (!somebody_looks(arguments)) return keep();
  const auto tapped =
      show_page(arguments, actions, read, files, ledger, [&](const screens::Language& words) {
        return screens::older_page(words, form->records, copy->filename().string());
      });
  if (!tapped) {
    const Exit exit = report(errors, tapped.error());
    return arguments.drive ? Exit::kJudged : exit;
  }
  if (*tapped != 0U) return Exit::kDone;  // not now
  return keep();
}

Exit run_in(const Arguments& arguments, std::span<const Action> actions, Station station, Read read,
            std::unique_ptr<platform::Window> window, files::FileSystem& files,
            const RunParts& parts) {
  flow::PreferencesRead preferences =
      read_preferences(files, station.ledger.path(), std::move(read.names), *window);
  preferences.line_forms = work::form_names(read.line_forms);
  const std::function<Stamp()> now = stamps(*station.clock, station.zone);
  const std::function<flow::Supply()> supply =
      parts.supply ? parts.supply : supply_of(arguments, station.ledger.path());
  work::Settings settings;
  settings.definitions = std::move(read.definitions);
  settings.now = now;
  settings.version = LIGULE_VERSION;
  settings.season_folder = season_folder(station.ledger.path());
  settings.media = work::media_roots();
  settings.schemas = std::move(read.schemas);
  settings.plans = files::Path(station.ledger.path()).parent_path() / "plans";
  settings.line_forms = std::move(read.line_forms);
  settings.watch_sticks =
      !arguments.drive;  // a driven run comes out the same whatever is plugged in
  settings.wake = platform::Window::wake;
  settings.append = parts.append;
  auto worker = work::Worker::start(std::move(station.ledger), files, std::move(station.ids),
                                    std::move(settings));
  if (!worker) return report(parts.errors, worker.error());
  const flow::LookView look = last_look(preferences);
  window->set_ppi(look.ppi);
  touch::Ui ui(*window, touch_look(look));
  platform::Sound sound(arguments.headless);
  Application application(
      {*window, ui, *station.clock, sound, **worker, read.languages, now, preferences, supply});
  platform::Loop loop(*window, application, *station.clock);
  return play(arguments, actions, *window, loop, station, ui, parts.errors);
}

}  // namespace

Exit run(const Arguments& arguments, const RunParts& parts) {
  std::vector<Action> all;
  if (arguments.drive) {
    auto drive = read_drive(*arguments.drive);
    if (!drive) {
      const Exit exit = report(parts.errors, drive.error());
      return drive.error().kind == ErrorKind::kInvalid ? Exit::kJudged : exit;
    }
    all = *std::move(drive);
  }
  std::span<const Action> actions = all;
  const auto files = files::real_file_system();
  auto read = read_assets(*files);
  if (!read) return report(parts.errors, read.error());
  const auto path = arguments.ledger ? Result<files::Path>(*arguments.ledger) : usual_ledger();
  if (!path) return report(parts.errors, path.error());
  auto definitions = files::with_own_limits(*files, *path, std::move(read->definitions));
  if (!definitions) return report(parts.errors, definitions.error());
  read->definitions = *std::move(definitions);
  if (const auto ended = before_older(arguments, actions, *read, *files, *path, parts.errors))
    return *ended;
  auto window = platform::Window::open(window_of(arguments));
  if (!window) return report(parts.errors, window.error());
  const StationWish wish{*path, arguments.today, arguments.drive.has_value()};
  // What is driven does the same on every machine, however long it takes there.
  auto station = arguments.drive ? open_station(*files, wish)
                                 : open_before_eyes(**window, *read, *files, wish);
  if (!station) {
    window->reset();
    return stay_closed(arguments, actions, *read, *files, *path, station.error(), parts.errors);
  }
  return run_in(arguments, actions, *std::move(station), *std::move(read), *std::move(window),
                *files, parts);
}

}  // namespace ligule::program
