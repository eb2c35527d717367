#include <charconv>
#include <fstream>
#include <iterator>
#include <optional>

#include "app/program/drive.h"

namespace ligule::program {
namespace {

constexpr std::string_view kBlank = " \t\r";
constexpr std::int64_t kLongestWait = 366LL * 24 * 3600 * 1000;

// What is left of one line, and where it stands for messages.
struct Line {
  std::string_view rest;
  std::string where;

  void skip_blanks() {
    const std::size_t at = rest.find_first_not_of(kBlank);
    rest.remove_prefix(at == std::string_view::npos ? rest.size() : at);
  }
  std::string_view word() {
    skip_blanks();
    const std::string_view taken = rest.substr(0, rest.find_first_of(" \t\r#\""));
    rest.remove_prefix(taken.size());
    return taken;
  }
  [[nodiscard]] std::unexpected<Error> fault(std::string what, std::string mend) const {
    return fail(ErrorKind::kInvalid, std::move(what), where, std::move(mend));
  }
};

Result<std::string> quoted(Line& line) {
  line.skip_blanks();
  if (!line.rest.starts_with('"'))
    return line.fault("a text in double quotes is missing", "write it as \"...\"");
  std::string text;
  for (std::size_t i = 1; i < line.rest.size(); ++i) {
    const char c = line.rest[i];
    if (c == '"') {
      line.rest.remove_prefix(i + 1);
      if (text.empty()) return line.fault("the text is empty", "name what is meant");
      return text;
    }
    if (c != '\\') {
      text += c;
      continue;
    }
    ++i;
    const char escaped = i < line.rest.size() ? line.rest[i] : '\0';
    if (escaped == '"' || escaped == '\\')
      text += escaped;
    else if (escaped == 'n')
      text += '\n';
    else
      return line.fault("unknown escape in the text", "only \\\" \\\\ and \\n are known");
  }
  return line.fault("the text has no closing quote", "end it with \"");
}

Result<std::string> file_name(Line& line, std::string_view ending) {
  line.skip_blanks();
  std::string name;
  if (line.rest.starts_with('"')) {
    auto text = quoted(line);
    if (!text) return text;
    name = std::move(*text);
  } else {
    name = line.rest.substr(0, line.rest.find_first_of(" \t\r"));
    line.rest.remove_prefix(name.size());
  }
  if (name.size() <= ending.size() || !name.ends_with(ending))
    return line.fault("a file name ending in " + std::string(ending) + " is missing",
                      "write it after the word");
  return name;
}

Result<std::int64_t> milliseconds(Line& line) {
  const std::string_view word = line.word();
  std::int64_t ms = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), ms);
  if (word.empty() || error != std::errc() || end != word.data() + word.size() || ms < 0 ||
      ms > kLongestWait)
    return line.fault("wait needs whole milliseconds, 0 to a year",
                      "write for instance: wait 1500");
  return ms;
}

std::optional<Verb> swipe_verb(std::string_view word) {
  if (word == "left") return Verb::kSwipeLeft;
  if (word == "right") return Verb::kSwipeRight;
  if (word == "up") return Verb::kSwipeUp;
  if (word == "down") return Verb::kSwipeDown;
  return std::nullopt;
}

// The rest of the line after its first word.
Result<void> parse_arguments(std::string_view verb, Line& line, Action& action) {
  Result<std::string> text;
  if (verb == "tap" || verb == "type" || verb == "expect") {
    action.verb = verb == "tap" ? Verb::kTap : verb == "type" ? Verb::kType : Verb::kExpect;
    text = quoted(line);
  } else if (verb == "shot" || verb == "list") {
    action.verb = verb == "shot" ? Verb::kShot : Verb::kList;
    text = file_name(line, verb == "shot" ? ".png" : ".json");
  } else if (verb == "wait") {
    action.verb = Verb::kWait;
    const auto ms = milliseconds(line);
    if (!ms) return std::unexpected(ms.error());
    action.ms = *ms;
  } else if (verb == "swipe") {
    const auto direction = swipe_verb(line.word());
    if (!direction)
      return line.fault("swipe needs a direction", "write left, right, up or down after it");
    action.verb = *direction;
  } else if (verb == "quit") {
    action.verb = Verb::kQuit;
  } else {
    return line.fault("unknown action \"" + std::string(verb) + "\"",
                      "known are tap, type, swipe, wait, expect, shot, list, quit");
  }
  if (!text) return std::unexpected(text.error());
  action.text = std::move(*text);
  return {};
}

}  // namespace

Result<std::vector<Action>> parse_drive(std::string_view source, const std::string& name) {
  std::vector<Action> actions;
  int number = 0;
  while (!source.empty()) {
    ++number;
    const std::size_t end = source.find('\n');
    Line line{source.substr(0, end), name + " line " + std::to_string(number)};
    source.remove_prefix(end == std::string_view::npos ? source.size() : end + 1);
    line.skip_blanks();
    if (line.rest.empty() || line.rest.starts_with('#')) continue;
    Action action;
    action.line = number;
    if (auto parsed = parse_arguments(line.word(), line, action); !parsed)
      return std::unexpected(parsed.error());
    line.skip_blanks();
    if (!line.rest.empty() && !line.rest.starts_with('#'))
      return line.fault("something follows the action: " + std::string(line.rest),
                        "one action a line; a comment begins with #");
    actions.push_back(std::move(action));
  }
  return actions;
}

Result<std::vector<Action>> read_drive(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in)
    return fail(ErrorKind::kIo, "the drive file can't be read", file.string(),
                "check the name after --drive");
  const std::string source{std::istreambuf_iterator<char>(in), {}};
  return parse_drive(source, file.filename().string());
}

}  // namespace ligule::program
