// Proves: a record has exactly one body. What does not write back to the same bytes is refused.
#include "storage/trial/record_line.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <limits>
#include <random>
#include <set>

#include "storage/trial/number.h"
#include "storage/trial/utf8.h"

namespace ligule {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

Uuid uuid(char digit) {
  std::string text = "00000000-0000-7000-8000-000000000000";
  std::ranges::replace(text, '0', digit);
  text[14] = '7';
  return parse_uuid(text).value();
}

// A reading with every column filled.
Record full() {
  Record r;
  r.stream = {uuid('1')};
  r.seq = 7;
  r.id = {uuid('2')};
  r.kind = kind::kCorrection;
  r.at = stamp_at(UtcInstant(std::chrono::milliseconds(1'779'105'600'123)),
                  std::chrono::minutes(-240));
  r.person = PersonId{uuid('3')};
  r.trial = TrialId{uuid('4')};
  r.plan = std::string(64, 'a');
  r.subject = uuid('5');
  r.measure = "gross_weight";
  r.occasion = OccasionId{uuid('6')};
  r.part = 2;
  r.run = RecordId{uuid('7')};
  r.purpose = Purpose::kSurvey;
  r.state = ValueState::kOnHold;
  r.entered = "12.40";
  r.unit = "lb";
  r.value = 12.4;
  r.definition = std::string(64, 'b');
  r.targets = {{uuid('8')}, {uuid('9')}};
  r.reason = "typed \"42\", meant 12";
  r.answers = {{"heavy", "sure"}, {"bag", "other"}};
  r.blind = true;
  r.source = Source::kScale;
  r.raw = "ST,GS,+ 12.40lb";
  r.details = R"({"crew":"AB"})";
  return r;
}

Record least() {
  Record r;
  r.seq = 1;
  r.kind = kind::kStream;
  r.at.local_date = date::year{2026} / 5 / 18;
  return r;
}

TEST(RecordLine, HasTheColumnsInTheirOrder) {
  EXPECT_EQ(
      record_body(full()).value(),
      "11111111-1111-7111-8111-111111111111,7,22222222-2222-7222-8222-222222222222,correction,1,"
      "1779105600123,-240,2026-05-18,33333333-3333-7333-8333-333333333333,"
      "44444444-4444-7444-8444-444444444444,"
      "aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa,"
      "55555555-5555-7555-8555-555555555555,gross_weight,66666666-6666-7666-8666-666666666666,2,"
      "77777777-7777-7777-8777-777777777777,survey,on hold,12.40,lb,12.4,"
      "bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb,"
      "88888888-8888-7888-8888-888888888888 99999999-9999-7999-8999-999999999999,"
      "\"typed \"\"42\"\", meant 12\",heavy=sure;bag=other,1,scale,\"ST,GS,+ 12.40lb\","
      "\"{\"\"crew\"\":\"\"AB\"\"}\"");
}

TEST(RecordLine, FullAndLeastReadBack) {
  for (const Record& record : {full(), least()}) {
    const std::string body = record_body(record).value();
    EXPECT_EQ(parse_record(body).value(), record);
    const Envelope envelope = parse_envelope(body).value();
    EXPECT_EQ(envelope, (Envelope{record.stream, record.seq, record.id, record.kind, 1}));
  }
}

TEST(RecordLine, TwentyNineColumnNamesOnceEach) {
  EXPECT_EQ(std::set(kRecordColumns.begin(), kRecordColumns.end()).size(), 29U);
}

TEST(RecordBody, RefusesWhatCannotStandInALine) {
  const struct {
    std::function<void(Record&)> spoil;
    const char* column;
  } cases[] = {
      {[](Record& r) { r.seq = 0; }, "seq"},
      {[](Record& r) { r.seq = -4; }, "seq"},
      {[](Record& r) { r.kind = ""; }, "kind"},
      {[](Record& r) { r.kind = "a b"; }, "kind"},
      {[](Record& r) { r.format = 2; }, "format"},
      {[](Record& r) { r.format = 0; }, "format"},
      {[](Record& r) { r.at.local_date = date::year{2026} / 2 / 30; }, "local_date"},
      {[](Record& r) { r.at.local_date = date::year{0} / 1 / 1; }, "local_date"},
      {[](Record& r) { r.at.local_date = date::year{-1} / 1 / 1; }, "local_date"},
      {[](Record& r) { r.at.local_date = date::year{10000} / 1 / 1; }, "local_date"},
      {[](Record& r) { r.plan = "abc"; }, "plan"},
      {[](Record& r) { r.plan = std::string(64, 'A'); }, "plan"},
      {[](Record& r) { r.definition = std::string(63, 'a'); }, "definition"},
      {[](Record& r) { r.measure = "gross weight"; }, "measure"},
      {[](Record& r) { r.part = 0; }, "part"},
      {[](Record& r) { r.part = 10000; }, "part"},
      {[](Record& r) { r.value = std::numeric_limits<double>::quiet_NaN(); }, "value"},
      {[](Record& r) { r.value = std::numeric_limits<double>::infinity(); }, "value"},
      {[](Record& r) {
         r.answers = {{"a=b", "c"}};
       },
       "answers"},
      {[](Record& r) {
         r.answers = {{"a", ""}};
       },
       "answers"},
      {[](Record& r) { r.entered = "1\n2"; }, "entered"},
      {[](Record& r) { r.unit = "\x7f"; }, "unit"},
      {[](Record& r) { r.reason = "\xff"; }, "reason"},
      {[](Record& r) { r.raw = "\r"; }, "raw"},
      {[](Record& r) { r.details = std::string(1, '\0'); }, "details"},
  };
  for (const auto& c : cases) {
    Record record = full();
    c.spoil(record);
    const auto body = record_body(record);
    ASSERT_FALSE(body.has_value()) << c.column;
    EXPECT_EQ(body.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(body.error().where, "column " + std::string(c.column));
  }
}

// Replaces one cell of a full line.
std::string with_cell(std::string_view column, std::string cell) {
  auto cells = split_line(record_body(full()).value()).value();
  const auto at = std::ranges::find(kRecordColumns, column) - kRecordColumns.begin();
  cells[static_cast<std::size_t>(at)] = std::move(cell);
  return join_line(cells);
}

TEST(ParseRecord, RefusesEachBadCellAndNamesItsColumn) {
  const std::string id = uuid('a').text();
  const struct {
    const char* column;
    std::string cell;
  } cases[] = {{"stream", ""},
               {"stream", "x"},
               {"seq", ""},
               {"seq", "0"},
               {"seq", "-1"},
               {"seq", "x"},
               {"id", ""},
               {"kind", ""},
               {"kind", "a b"},
               {"format", ""},
               {"format", "0"},
               {"format", "1000001"},
               {"utc_ms", ""},
               {"utc_ms", "1.5"},
               {"offset_min", ""},
               {"offset_min", "+60"},
               {"local_date", ""},
               {"local_date", "2026-02-30"},
               {"person", "x"},
               {"trial", "x"},
               {"subject", "x"},
               {"occasion", "x"},
               {"part", ""},
               {"part", "x"},
               {"run", "x"},
               {"purpose", "Survey"},
               {"state", "held"},
               {"value", "1e3"},
               {"value", "nan"},
               {"targets", "x"},
               {"targets", id + "  " + id},
               {"source", "guessed"},
               {"plan", "x"},
               {"definition", "x"},
               {"measure", "a b"},
               {"answers", "a"},
               {"answers", "a=b;;c=d"}};
  for (const auto& c : cases) {
    const auto record = parse_record(with_cell(c.column, c.cell));
    ASSERT_FALSE(record.has_value()) << c.column << " " << c.cell;
    EXPECT_EQ(record.error().kind, ErrorKind::kInvalid) << c.column;
    EXPECT_EQ(record.error().where, "column " + std::string(c.column)) << c.cell;
  }
}

TEST(ParseRecord, RefusesASecondSpellingOfAGoodCell) {
  const std::string id = uuid('a').text();
  const struct {
    const char* column;
    std::string cell;
  } cases[] = {{"seq", "07"},           {"format", "01"},      {"utc_ms", "-0"},
               {"offset_min", "-0240"}, {"part", "02"},        {"part", "4294967298"},
               {"value", "12.40"},      {"value", "-0"},       {"value", "012.4"},
               {"targets", id + " "},   {"targets", " " + id}, {"answers", "a=b;"},
               {"blind", "2"},          {"blind", "true"}};
  for (const auto& c : cases) {
    const auto record = parse_record(with_cell(c.column, c.cell));
    ASSERT_FALSE(record.has_value()) << c.column << " " << c.cell;
    EXPECT_EQ(record.error().kind, ErrorKind::kInvalid) << c.column;
  }
}

TEST(ParseRecord, ANewerFormatIsNewerAndItsEnvelopeIsRead) {
  const std::string line = with_cell("format", "2") + ",one more column";
  const auto record = parse_record(line);
  ASSERT_FALSE(record.has_value());
  EXPECT_EQ(record.error().kind, ErrorKind::kNewerVersion);
  EXPECT_EQ(parse_envelope(line).value().format, 2);
}

TEST(ParseRecord, AnUnknownKindOfThisFormatIsRead) {
  EXPECT_EQ(parse_record(with_cell("kind", "weather")).value().kind, "weather");
}

TEST(ParseRecord, RefusesLinesOfAnotherLength) {
  const std::string body = record_body(full()).value();
  EXPECT_THAT(parse_record(body + ",").error().what, HasSubstr("29 columns"));
  auto cells = split_line(body).value();
  cells.pop_back();
  EXPECT_THAT(parse_record(join_line(cells)).error().what, HasSubstr("29 columns"));
  EXPECT_THAT(parse_envelope("a,b").error().what, HasSubstr("too few"));
  EXPECT_FALSE(parse_envelope("").has_value());
}

TEST(SplitLine, TakesOnlyWhatJoinLineWrites) {
  EXPECT_THAT(split_line("a,,\"b,c\",\"d\"\"e\"").value(), ElementsAre("a", "", "b,c", "d\"e"));
  EXPECT_THAT(split_line("").value(), ElementsAre(""));
  EXPECT_THAT(split_line(" a , b").value(), ElementsAre(" a ", " b"));
  for (const char* line : {"\"a\"", "a\"b", "\"a,b", "\"a,\"b", "\"\"", "a\n", "a\r\nb", "\xff",
                           "\"a,b\"\"", "\"a\"\"\",x\""}) {
    const auto cells = split_line(line);
    if (cells) {
      EXPECT_EQ(join_line(*cells), line);
    } else {
      EXPECT_EQ(cells.error().kind, ErrorKind::kInvalid) << line;
    }
  }
  for (const char* line : {"\"a\"", "a\"b", "\"a,b", "a\n", "\xff"})
    EXPECT_FALSE(split_line(line).has_value()) << line;
}

// Every text of up to `length` of these letters.
std::vector<std::string> all_texts(std::size_t length) {
  std::vector<std::string> texts{""};
  for (std::size_t at = 0; at < texts.size(); ++at) {
    if (texts[at].size() == length) continue;
    for (const char letter : {'a', ',', '"'}) texts.push_back(texts[at] + letter);
  }
  return texts;
}

// What join_line makes of every list of cells, as long as the line has no more than `length`
// letters.
std::set<std::string> all_lines(std::size_t length) {
  std::set<std::string> lines;
  const std::vector<std::string> cells = all_texts(length);
  std::vector<std::vector<std::string>> lists;
  lists.reserve(cells.size());
  for (const std::string& cell : cells) lists.push_back({cell});
  for (std::size_t at = 0; at < lists.size(); ++at) {
    const std::string line = join_line(lists[at]);
    if (line.size() > length) continue;
    lines.insert(line);
    for (const std::string& cell : cells) {
      if (line.size() + 1 + cell.size() > length) continue;
      lists.push_back(lists[at]);
      lists.back().push_back(cell);
    }
  }
  return lines;
}

TEST(SplitLine, TakesEveryLineThatJoinLineWritesAndNoOther) {
  constexpr std::size_t kLength = 7;
  const std::set<std::string> lines = all_lines(kLength);
  EXPECT_TRUE(lines.contains("a,\"\"\"\""));
  for (const std::string& line : all_texts(kLength)) {
    const auto cells = split_line(line);
    ASSERT_EQ(cells.has_value(), lines.contains(line)) << line;
    if (cells) {
      ASSERT_EQ(join_line(*cells), line);
    }
  }
}

TEST(CellText, ForbidsControlCharactersAndBrokenUtf8) {
  EXPECT_TRUE(is_cell_text(""));
  EXPECT_TRUE(is_cell_text("trébol, \"x\" 牧草"));
  for (const char* text : {"a\tb", "a\n", "\x1f", "\x7f", "\xc3"}) EXPECT_FALSE(is_cell_text(text));
}

// Texts are looked at eight bytes at a time: every byte, at every place, of texts of every length
// about that.
TEST(CellText, LooksAtEveryByteAtEveryPlace) {
  for (std::size_t length = 1; length <= 20; ++length)
    for (std::size_t at = 0; at < length; ++at)
      for (int byte = 0; byte < 256; ++byte) {
        std::string text(length, at % 2 == 0 ? 'x' : ' ');
        text[at] = static_cast<char>(byte);
        const bool sound = byte >= 0x20 && byte < 0x7f;  // alone, no byte above is UTF-8
        ASSERT_EQ(is_cell_text(text), sound) << length << " " << at << " " << byte;
        text.insert(at, "\xC3\xA9");
        ASSERT_EQ(is_cell_text(text), sound) << length << " " << at << " " << byte;
      }
}

TEST(Cleaned, MakesCellTextOfAnything) {
  EXPECT_EQ(cleaned("  wet\tlow\n end \r\n"), "wet low  end");
  EXPECT_EQ(cleaned("\xff"), "\xEF\xBF\xBD");
  EXPECT_EQ(cleaned(" \n "), "");
  std::mt19937 random(5);
  for (int i = 0; i < 2000; ++i) {
    std::string bytes(random() % 12, ' ');
    for (char& c : bytes) c = static_cast<char>(random());
    const std::string text = cleaned(bytes);
    EXPECT_TRUE(is_cell_text(text));
    EXPECT_EQ(cleaned(text), text);
  }
}

// Random records: any that can be written reads back the same, and any change of one byte of the
// line is either refused or another record whose own line it is.
class RandomRecords {
 public:
  explicit RandomRecords(unsigned seed) : random_(seed) {}

  Record next() {
    Record r;
    r.stream = {id()};
    r.seq = 1 + static_cast<std::int64_t>(random_() % 1'000'000);
    r.id = {id()};
    r.kind = pick({kind::kStream, kind::kReading, kind::kCorrection, kind::kEvent});
    r.at = stamp_at(UtcInstant(std::chrono::milliseconds(
                        static_cast<std::int64_t>(random_() % 4'000'000'000'000U))),
                    std::chrono::minutes(static_cast<int>(random_() % 1681) - 840));
    if (flip()) r.person = PersonId{id()};
    if (flip()) r.trial = TrialId{id()};
    if (flip()) r.plan = std::string(64, "0123456789abcdef"[random_() % 16]);
    if (flip()) r.subject = id();
    if (flip()) r.measure = "percent_stand";
    if (flip()) r.occasion = OccasionId{id()};
    r.part = 1 + static_cast<int>(random_() % 9999);
    if (flip()) r.run = RecordId{id()};
    if (flip()) r.purpose = static_cast<Purpose>(random_() % 4);
    if (flip()) r.state = static_cast<ValueState>(random_() % 5);
    r.entered = text();
    r.unit = pick({"", "kg", "lb", "%"});
    if (flip()) r.value = (static_cast<double>(random_()) - 9e18) / 1e15;
    if (flip()) r.definition = std::string(64, 'f');
    for (std::size_t n = random_() % 4; n > 0; --n) r.targets.push_back({id()});
    r.reason = text();
    for (std::size_t n = random_() % 3; n > 0; --n) r.answers.push_back({"rule.x", "yes-1"});
    if (flip()) r.blind = flip();
    if (flip()) r.source = static_cast<Source>(random_() % 5);
    r.raw = text();
    r.details = text();
    return r;
  }
  std::size_t below(std::size_t limit) { return random_() % limit; }

 private:
  bool flip() { return random_() % 2 == 0; }
  Uuid id() {
    Uuid made;
    for (auto& byte : made.bytes) byte = static_cast<std::uint8_t>(random_());
    return made;
  }
  std::string pick(std::vector<std::string_view> from) {
    return std::string(from[random_() % from.size()]);
  }
  std::string text() {
    static const std::vector<std::string> pieces{"a", " ", ",", "\"", "é", "牧",
                                                 "=", ";", "'", "0",  "\\"};
    std::string out;
    for (std::size_t n = random_() % 8; n > 0; --n) out += pieces[random_() % pieces.size()];
    return out;
  }

  std::mt19937_64 random_;
};

TEST(RecordLine, EveryRandomRecordReadsBackTheSame) {
  RandomRecords records(17);
  for (int i = 0; i < 3000; ++i) {
    const Record record = records.next();
    const auto body = record_body(record);
    ASSERT_TRUE(body.has_value()) << one_line(body.error());
    const auto again = parse_record(*body);
    ASSERT_TRUE(again.has_value()) << one_line(again.error()) << "\n" << *body;
    ASSERT_EQ(*again, record) << *body;
  }
}

TEST(RecordLine, AChangedLineIsRefusedOrIsTheLineOfAnotherRecord) {
  RandomRecords records(23);
  int refused = 0;
  int other = 0;
  for (int i = 0; i < 400; ++i) {
    const Record record = records.next();
    const std::string body = record_body(record).value();
    for (int change = 0; change < 25; ++change) {
      std::string changed = body;
      const std::size_t at = records.below(body.size());
      switch (records.below(3)) {
        case 0:
          changed[at] = static_cast<char>(records.below(256));
          break;
        case 1:
          changed.erase(at, 1);
          break;
        default:
          changed.insert(at, 1, ",\"0 a"[records.below(5)]);
      }
      if (changed == body) continue;
      const auto read = parse_record(changed);
      if (!read) {
        ++refused;
        continue;
      }
      ++other;
      ASSERT_NE(*read, record);
      ASSERT_EQ(record_body(*read).value(), changed);
    }
  }
  EXPECT_GT(refused, 1000);
  EXPECT_GT(other, 1000);
}

TEST(RecordNames, ReadBackAndNothingElse) {
  for (int i = 0; i < 4; ++i)
    EXPECT_EQ(parse_purpose(name_of(static_cast<Purpose>(i))), static_cast<Purpose>(i));
  for (int i = 0; i < 5; ++i) {
    EXPECT_EQ(parse_state(name_of(static_cast<ValueState>(i))), static_cast<ValueState>(i));
    EXPECT_EQ(parse_source(name_of(static_cast<Source>(i))), static_cast<Source>(i));
  }
  EXPECT_EQ(parse_purpose("").error().what, "'' is not a purpose");
  EXPECT_EQ(parse_state("Value").error().what, "'Value' is not a state of a value");
  EXPECT_EQ(parse_source("x").error().what, "'x' is not a source of a value");
}

TEST(Record, ClaimsAndReplacementsAreTheKindsTheyAre) {
  const auto of = [](std::string_view kind) {
    Record r;
    r.kind = kind;
    return std::pair(r.is_claim(), r.replaces());
  };
  EXPECT_EQ(of(kind::kReading), std::pair(true, false));
  EXPECT_EQ(of(kind::kCorrection), std::pair(true, true));
  EXPECT_EQ(of(kind::kSettlement), std::pair(true, true));
  EXPECT_EQ(of(kind::kWithdrawal), std::pair(false, true));
  for (const std::string_view other : {kind::kStream, kind::kPlan, kind::kPerson, kind::kEvent})
    EXPECT_EQ(of(other), std::pair(false, false)) << other;
}

}  // namespace
}  // namespace ligule
