#include "sync/desk/typing.h"

#include <algorithm>
#include <istream>

#include "storage/trial/utf8.h"
#include "sync/gather/paper_values.h"
#include "sync/gather/typed_line.h"

namespace ligule::desk {
namespace {

class Typing {
 public:
  Typing(gather::PaperSheet& sheet, const std::string& unit, Console& console)
      : sheet_(sheet), console_(console), columns_(sheet.typed_here()) {
    say_how(unit);
    offer_from(0);
  }

  TypingEnd run() {
    std::string text;
    while (true) {
      console_.out << (offered_.empty() ? "every plot has its values; done, or a plot and values"
                                        : "plot " + offered_)
                   << "> " << std::flush;
      if (!std::getline(console_.in, text)) {
        console_.out << '\n';
        return TypingEnd::kDone;
      }
      if (text.ends_with('\r')) text.pop_back();
      const auto typed = gather::parse_typed_line(with_valid_utf8(text), columns_, offered_);
      if (!typed) {
        tell("not taken", typed.error());
        continue;
      }
      if (typed->what == gather::Typed::kDone) return TypingEnd::kDone;
      if (typed->what == gather::Typed::kQuit) return TypingEnd::kQuit;
      act_on(*typed);
    }
  }

 private:
  void say_how(const std::string& unit) {
    bool noted = false;
    console_.out << "a line a plot, in the order of the sheet:\n";
    for (const SheetColumn& column : columns_) {
      const Scale& scale = *column.scales.front();
      noted = noted || scale.kind == ScaleKind::kText;
      if (scale.kind == ScaleKind::kText) continue;
      const bool takes = std::ranges::find(scale.units, unit) != scale.units.end();
      const std::string in = takes                 ? unit
                             : scale.units.empty() ? std::string()
                                                   : scale.units.front();
      console_.out << "  " << column.measure << ": " << gather::how_to_type(scale, in) << '\n';
    }
    if (noted) console_.out << "  ; and words: the note\n";
    help();
  }

  void help() {
    console_.out << "- what was left open, alone the whole plot; a plot number before the values: "
                    "that plot; to 107: go there;\n"
                    "back: take the last line back; done: keep all; quit: keep nothing\n";
  }

  void act_on(const gather::TypedLine& typed) {
    switch (typed.what) {
      case gather::Typed::kHelp:
        return help();
      case gather::Typed::kBack:
        return take_back();
      case gather::Typed::kGoTo:
        return go_to(typed.line.plot);
      case gather::Typed::kValues:
        return add(typed.line);
      default:
        return;  // an empty line asks again
    }
  }

  void tell(const char* what, const Error& error) {
    console_.out << "  " << what << ": " << one_line(error) << '\n';
  }

  void take_back() {
    if (const auto plot = sheet_.take_back()) {
      console_.out << "  plot " << *plot << " taken back\n";
      offered_ = *plot;
    } else {
      console_.out << "  there is no line to take back\n";
    }
  }

  void go_to(const std::string& plot) {
    const auto& path = sheet_.path();
    if (std::ranges::find(path, plot) == path.end())
      tell("not taken",
           {ErrorKind::kInvalid, "plot " + plot + " is not on this sheet", "", "mend the number"});
    else
      offered_ = plot;
  }

  void add(const gather::PaperLine& line) {
    const auto judged = sheet_.add(line);
    if (!judged) {
      for (const Error& fault : judged.error()) tell("not taken", fault);
      return;
    }
    console_.out << "  " << said(*judged) << '\n';
    for (const Error& question : judged->on_hold) tell("on hold", question);
    for (const Error& notice : judged->notices) tell("to look at", notice);
    const auto& path = sheet_.path();
    const auto at = std::ranges::find(path, line.plot);
    offer_from(static_cast<std::size_t>(at - path.begin()) + 1);
  }

  static std::string said(const gather::JudgedLine& line) {
    std::string values;
    for (const gather::PaperValue& value : line.values) {
      values.append(values.empty() ? "" : ", ").append(value.measure);
      values.append(" ").append(value.value.entered);
      if (!value.value.unit.empty()) values.append(" ").append(value.value.unit);
    }
    if (line.same > 0) values.append(values.empty() ? "" : ", ").append("there already");
    return "plot " + line.plot + ": " + (values.empty() ? "left open" : values);
  }

  // The next plot along the path that lacks something, from that place on, then from the start.
  void offer_from(std::size_t place) {
    const auto& path = sheet_.path();
    offered_.clear();
    for (std::size_t n = 0; n < path.size() && offered_.empty(); ++n) {
      const std::string& plot = path[(place + n) % path.size()];
      if (!sheet_.is_done(plot)) offered_ = plot;
    }
  }

  gather::PaperSheet& sheet_;
  Console& console_;
  std::vector<SheetColumn> columns_;
  std::string offered_;  // empty: every plot has its values
};

}  // namespace

TypingEnd type_sheet(gather::PaperSheet& sheet, const std::string& unit, Console& console) {
  return Typing(sheet, unit, console).run();
}

}  // namespace ligule::desk
