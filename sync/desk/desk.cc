// The only file that knows the command-line library.
#include "sync/desk/desk.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <new>
#include <sstream>

#include "sync/desk/command.h"

namespace ligule::desk {
namespace {

// Where the library puts what it read of one option; must outlive the parsing.
struct Slot {
  std::string name;
  std::vector<std::string> values;
  bool flag = false;
};

struct Prepared {
  Command command;
  CLI::App* app = nullptr;
  std::vector<std::unique_ptr<Slot>> slots;
};

void declare(const Option& option, Prepared& prepared) {
  auto& slot = *prepared.slots.emplace_back(std::make_unique<Slot>());
  slot.name = option.name;
  if (option.value.empty() && option.name.starts_with('-')) {
    prepared.app->add_flag(option.name, slot.flag, option.help);
    return;
  }
  CLI::Option* made = prepared.app->add_option(option.name, slot.values, option.help);
  made->type_name(option.value);
  made->required(option.required);
  // Without these a list option would swallow the words after it.
  made->type_size(1);
  made->expected(1, option.repeated ? CLI::detail::expected_max_vector_size : 1);
  if (option.name.starts_with('-')) made->allow_extra_args(false);
  if (!option.allowed.empty()) {
    // The library's own check lists the choices in braces; this says it in words.
    made->check(
        [allowed = option.allowed](const std::string& given) -> std::string {
          if (std::ranges::find(allowed, given) != allowed.end()) return {};
          std::string choices;
          for (const std::string& choice : allowed) {
            if (!choices.empty()) choices += ", ";
            choices += choice;
          }
          return "\"" + given + "\" cannot be used (it is one of: " + choices + ")";
        },
        "");
  }
}

Arguments collect(const Prepared& prepared) {
  Arguments arguments;
  for (std::size_t i = 0; i < prepared.slots.size(); ++i) {
    const Slot& slot = *prepared.slots[i];
    for (const std::string& value : slot.values) arguments.add(slot.name, value);
    if (slot.flag) arguments.add(slot.name, "");
    const std::string& standard = prepared.command.options[i].standard;
    if (slot.values.empty() && !standard.empty()) arguments.add(slot.name, standard);
  }
  return arguments;
}

// The library's messages run over several lines at times; ours are one.
std::string flat(std::string text) {
  std::ranges::replace(text, '\n', ' ');
  while (!text.empty() && text.back() == ' ') text.pop_back();
  return text;
}

// What is not understood is said again; an address in it may hold a password, with any sign in it.
std::string without_address(std::string text) {
  const std::size_t at = text.find("://");
  if (at != std::string::npos) text.replace(at + 3, std::string::npos, "...");
  return text;
}

// The address of an archive where something else is asked for, which would be said again too.
bool is_misplaced_address(const Slot& slot) {
  return slot.name != "--archive" && std::ranges::any_of(slot.values, [](const std::string& value) {
           return value.starts_with("postgresql://") || value.starts_with("postgres://");
         });
}

Exit run_parsed(const Prepared& prepared, Console& console) {
  for (const auto& slot : prepared.slots) {
    if (is_misplaced_address(*slot))
      return refuse_arguments(console, {ErrorKind::kInvalid, "an address is no " + slot->name, "",
                                        "give it behind --archive"});
  }
  return prepared.command.run(collect(prepared), console);
}

int run_command(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
                files::FileSystem& files, std::istream& in) {
  CLI::App app("Lays out forage variety trials, checks what tablets recorded and makes the tables.",
               "ligule-desk");
  app.set_version_flag("--version", std::string("ligule-desk ") + LIGULE_VERSION,
                       "Say which version this is");
  app.set_help_flag("-h,--help", "Say what can be asked for");
  app.require_subcommand(1);

  std::vector<Prepared> prepared;
  for (Command& command : commands()) {
    Prepared next;
    next.command = std::move(command);
    next.app = app.add_subcommand(next.command.name, next.command.help);
    for (const Option& option : next.command.options) declare(option, next);
    prepared.push_back(std::move(next));
  }

  try {
    // The library takes the words from the back.
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
  } catch (const CLI::Success& asked) {  // --help, --version
    return app.exit(asked, out, err);
  } catch (const CLI::ParseError& error) {
    err << without_address(flat(error.what())) << " (see ligule-desk --help)\n";
    return static_cast<int>(Exit::kCouldNot);
  }
  Console console{out, err, files, in};
  for (const Prepared& candidate : prepared) {
    if (candidate.app->parsed()) {
      return static_cast<int>(run_parsed(candidate, console));
    }
  }
  return static_cast<int>(Exit::kCouldNot);
}

}  // namespace

int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
        files::FileSystem& files) {
  std::istringstream nothing;
  return run(arguments, out, err, files, nothing);
}

int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
        files::FileSystem& files, std::istream& in) {
  try {
    return run_command(arguments, out, err, files, in);
  } catch (const std::bad_alloc&) {  // what was begun in a ledger is rolled back by now
    err << "there is not enough memory for this (close other programs, or take a machine with more "
           "memory)\n";
    return static_cast<int>(Exit::kCouldNot);
  }
}

}  // namespace ligule::desk
