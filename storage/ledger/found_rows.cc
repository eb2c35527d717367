#include "storage/ledger/found_rows.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "storage/ledger/log.h"

namespace ligule::ledger {
namespace {

// Every ledger is made with SQLite's own size of pages: what the file says of it may be damaged.
constexpr std::size_t kPage = 4096;
constexpr std::size_t kLogHead = 32;
constexpr std::size_t kFrameHead = 24;
constexpr std::size_t kSaltAt = 16;  // of the log's head; 8 bytes
constexpr std::size_t kFrameSaltAt = 8;
// A row is its body and less than this.
constexpr std::size_t kLongestRow = kLongestBody + 1024;
// How much of a row stands in its page before the rest goes to others (section 1.6).
constexpr std::size_t kMostInTable = kPage - 35;
constexpr std::size_t kMostInIndex = (kPage - 12) * 64 / 255 - 23;
constexpr std::size_t kLeastHere = (kPage - 12) * 32 / 255 - 23;
// Serial types (section 2.1).
constexpr std::uint64_t kNull = 0;
constexpr std::uint64_t kId = 12 + 2 * 16;
constexpr std::uint64_t kDigest = 12 + 2 * 32;

std::uint64_t big_endian(std::string_view bytes) {
  std::uint64_t value = 0;
  for (const char byte : bytes) value = (value << 8U) | static_cast<std::uint8_t>(byte);
  return value;
}

// Frames of one salt were written one after the other, until the log began anew.
using Salt = std::uint64_t;

// A version of a page, and the salt of those it belongs to.
struct Version {
  std::string_view bytes;
  Salt salt = 0;
};

class Pages {
 public:
  Pages(std::string_view file, std::string_view log)
      : file_(file), bytes_(file.size() + log.size()) {
    if (log.size() >= kLogHead) newest_ = big_endian(log.substr(kSaltAt, 8));
    all_.reserve(bytes_ / kPage + 1);
    for (std::size_t at = 0; at < file.size(); at += kPage)
      all_.push_back({file.substr(at, kPage), newest_});
    for (std::size_t at = kLogHead; at + kFrameHead + kPage <= log.size(); at += kFrameHead + kPage)
      add_frame(log.substr(at, kFrameHead + kPage));
  }

  // Every version there is: what is damaged in a log's head hides no frame, and one of a log before
  // may be the last that is left of a record.
  [[nodiscard]] const std::vector<Version>& all() const { return all_; }
  [[nodiscard]] std::size_t bytes() const { return bytes_; }

  // By number, from 1, as it stood with the frames of a salt: theirs, else what the log's head says
  // is the newest, else the file's, else any; empty: there is none.
  [[nodiscard]] std::string_view page(std::uint64_t number, Salt salt) const {
    for (const Salt of : {salt, newest_})
      if (const auto found = in_log_.find({of, number}); found != in_log_.end())
        return found->second;
    if (number > 0 && number <= file_.size() / kPage)
      return file_.substr((number - 1) * kPage, kPage);
    const auto found = of_any_salt_.find(number);
    return found == of_any_salt_.end() ? std::string_view() : found->second;
  }

 private:
  void add_frame(std::string_view frame) {
    const std::uint64_t number = big_endian(frame.substr(0, 4));
    const Salt salt = big_endian(frame.substr(kFrameSaltAt, 8));
    const std::string_view page = frame.substr(kFrameHead);
    in_log_[{salt, number}] = page;
    of_any_salt_[number] = page;
    all_.push_back({page, salt});
  }

  std::string_view file_;
  std::size_t bytes_;
  Salt newest_ = 0;
  std::vector<Version> all_;
  std::map<std::pair<Salt, std::uint64_t>, std::string_view> in_log_;
  std::map<std::uint64_t, std::string_view> of_any_salt_;
};

// A row's header: what its columns are, and how long they and the header are.
struct Shape {
  static constexpr std::size_t kMostColumns = 8;
  std::array<std::uint64_t, kMostColumns> types{};
  std::size_t columns = 0;
  std::size_t header = 0;
  std::size_t total = 0;  // with the header
};

std::size_t bytes_of(std::uint64_t type) {
  constexpr std::array<std::size_t, 12> kNumbers{0, 1, 2, 3, 4, 6, 8, 8, 0, 0, 0, 0};
  return type < kNumbers.size() ? kNumbers[type] : static_cast<std::size_t>((type - 12) / 2);
}

std::optional<Shape> shape_at(std::string_view page, std::size_t at) {
  Shape shape;
  shape.header = static_cast<std::uint8_t>(page[at]);
  if (shape.header < 4 || shape.header > 31 || at + shape.header > page.size()) return std::nullopt;
  shape.total = shape.header;
  std::size_t next = at + 1;
  while (next < at + shape.header) {
    if (shape.columns == Shape::kMostColumns) return std::nullopt;
    std::uint64_t type = 0;
    for (int length = 1;; ++length) {
      if (length > 5 || next == at + shape.header) return std::nullopt;
      const auto byte = static_cast<std::uint8_t>(page[next++]);
      type = (type << 7U) | (byte & 0x7fU);
      if ((byte & 0x80U) == 0) break;
    }
    shape.types[shape.columns++] = type;
    shape.total += bytes_of(type);
    if (shape.total > kLongestRow) return std::nullopt;
  }
  return shape;
}

// Where a row stands.
struct Place {
  const Version& page;
  std::size_t at = 0;
  std::size_t total = 0;  // bytes of the row
  std::size_t here = 0;   // of them in this page; the number of the next page follows

  [[nodiscard]] bool goes_on() const { return here < total; }
  // What tells it from other rows that begin in pages of its salt; empty: it leads out of the page.
  [[nodiscard]] std::string_view begin() const {
    const std::size_t size = here + (goes_on() ? 4 : 0);
    if (at + size > page.bytes.size()) return {};
    return page.bytes.substr(at, size);
  }
};

Place place_of(const Version& page, std::size_t at, std::size_t total, std::size_t most_here) {
  std::size_t here = total;
  if (total > most_here) {
    here = kLeastHere + (total - kLeastHere) % (kPage - 4);
    if (here > most_here) here = kLeastHere;
  }
  return {page, at, total, here};
}

// All bytes of a row that begins in a page and may go on in others; empty: it leads nowhere.
std::string row_bytes(const Pages& pages, const Place& place) {
  const std::string_view begin = place.begin();
  std::string bytes(begin.substr(0, place.here));
  std::uint64_t next = place.goes_on() ? big_endian(begin.substr(place.here)) : 0;
  std::set<std::uint64_t> been;
  while (bytes.size() < place.total) {
    const std::string_view more = pages.page(next, place.page.salt);
    if (more.size() < kPage || !been.insert(next).second) return {};
    next = big_endian(more.substr(0, 4));
    bytes.append(more.substr(4, place.total - bytes.size()));
  }
  return bytes;
}

// How much is read and kept of rows, as multiples of what is searched. No two records share a byte,
// so only a file that is made for it has more; a row is met in each frame of its page, but read
// once a salt.
constexpr std::size_t kMostRead = 64;
constexpr std::size_t kMostKept = 4;

// The bytes of rows, of each once.
class Rows {
 public:
  explicit Rows(const Pages& pages)
      : pages_(pages),
        left_to_read_(kMostRead * pages.bytes()),
        left_to_keep_(kMostKept * pages.bytes()) {}

  // Empty: it leads nowhere, was given before, or is too much.
  std::string read(const Place& place) {
    const std::string_view begin = place.begin();
    if (begin.empty() || place.total > left_to_read_ || place.total > left_to_keep_) return {};
    if (!begun_.insert(name_of(begin, place)).second) return {};
    left_to_read_ -= place.total;
    std::string bytes = row_bytes(pages_, place);
    if (bytes.empty()) return {};
    if (place.goes_on() && !whole_.insert(sha256(bytes)).second) return {};
    left_to_keep_ -= bytes.size();
    return bytes;
  }

 private:
  static Digest name_of(std::string_view begin, const Place& place) {
    const Digest name = sha256(begin);
    return place.goes_on() ? chained(name, std::to_string(place.page.salt)) : name;
  }

  const Pages& pages_;
  std::size_t left_to_read_;
  std::size_t left_to_keep_;
  std::set<Digest> begun_;
  std::set<Digest> whole_;
};

bool is_whole_number(std::uint64_t type) {
  return (type >= 1 && type <= 6) || type == 8 || type == 9;
}
bool is_text(std::uint64_t type) {
  return type >= 13 && type % 2 == 1;
}

// A row's columns, one after the other.
class Columns {
 public:
  Columns(const Shape& shape, std::string_view bytes)
      : shape_(shape), rest_(bytes.substr(shape.header)) {}

  void skip() { take(); }
  std::string text() { return std::string(take()); }
  std::int64_t number() {
    const std::uint64_t type = shape_.types[column_];
    const std::string_view bytes = take();
    if (bytes.empty()) return type == 9 ? 1 : 0;
    // Of two's complement the bits above are those of the sign.
    const std::uint64_t above = (bytes.front() & 0x80) != 0 ? ~std::uint64_t{0} : 0;
    const auto bits = 8U * static_cast<unsigned>(bytes.size());
    return static_cast<std::int64_t>((bits == 64 ? 0 : above << bits) | big_endian(bytes));
  }
  Uuid id() {
    Uuid id;
    std::ranges::copy(take(), id.bytes.begin());
    return id;
  }
  Digest digest() {
    Digest digest;
    std::ranges::copy(take(), digest.bytes.begin());
    return digest;
  }
  [[nodiscard]] bool is_null() const { return shape_.types[column_] == kNull; }

 private:
  std::string_view take() {
    const std::string_view bytes = rest_.substr(0, bytes_of(shape_.types[column_++]));
    rest_.remove_prefix(bytes.size());
    return bytes;
  }

  const Shape& shape_;
  std::string_view rest_;
  std::size_t column_ = 0;
};

class Search {
 public:
  explicit Search(const Pages& pages) : rows_(pages) {}

  FoundRows run(const Pages& pages) && {
    for (const Version& page : pages.all())
      for (std::size_t at = 0; at + 4 < page.bytes.size(); ++at) look(page, at);
    return std::move(found_);
  }

 private:
  // The tables are those of schema.cc; of `record` the row's number stands elsewhere, as NULL here.
  void look(const Version& page, std::size_t at) {
    const auto first = static_cast<std::uint8_t>(page.bytes[at + 1]);
    const auto second = static_cast<std::uint8_t>(page.bytes[at + 2]);
    const bool record = first == kNull && second == kId;
    if (!record && first != kId) return;
    const auto shape = shape_at(page.bytes, at);
    if (!shape) return;
    const auto bytes = [&](std::size_t most_here) {
      return rows_.read(place_of(page, at, shape->total, most_here));
    };
    const auto& types = shape->types;
    if (record && shape->columns == 8 && is_whole_number(types[2]) && types[3] == kId &&
        is_text(types[4]) && is_whole_number(types[5]) && is_text(types[6]) && types[7] == kDigest)
      add_record(*shape, bytes(kMostInTable));
    if (shape->columns == 3 && is_whole_number(types[1]) && types[2] == kDigest)
      add_start(*shape, bytes(kMostInIndex));
    if (shape->columns == 6 && is_text(types[1]) && types[2] == kDigest &&
        (types[3] == kNull || types[3] == kId) && is_whole_number(types[4]) &&
        is_whole_number(types[5]))
      add_stream(*shape, bytes(kMostInIndex));
  }

  void add_record(const Shape& shape, const std::string& bytes) {
    if (bytes.empty()) return;
    Columns in(shape, bytes);
    FoundRecord record;
    in.skip();
    record.stream = {in.id()};
    record.seq = in.number();
    for (int column = 0; column < 3; ++column) in.skip();  // id, kind, format: the body says them
    record.body = in.text();
    record.digest = in.digest();
    if (record.seq > 0) found_.records.push_back(std::move(record));
  }

  void add_start(const Shape& shape, const std::string& bytes) {
    if (bytes.empty()) return;
    Columns in(shape, bytes);
    FoundStart start;
    start.stream = {in.id()};
    start.first = in.number();
    start.before = in.digest();
    if (start.first > 0) found_.starts.push_back(start);
  }

  void add_stream(const Shape& shape, const std::string& bytes) {
    if (bytes.empty()) return;
    Columns in(shape, bytes);
    StreamInfo stream;
    stream.id = {in.id()};
    stream.device = in.text();
    stream.public_key = in.digest().bytes;
    if (in.is_null())
      in.skip();
    else
      stream.continues = StreamId{in.id()};
    stream.demo = in.number() != 0;
    stream.mine = in.number() != 0;
    if (is_cell_text(stream.device)) found_.streams.push_back(std::move(stream));
  }

  Rows rows_;
  FoundRows found_;
};

}  // namespace

FoundRows found_rows(std::string_view file, std::string_view log) {
  const Pages pages(file, log);
  return Search(pages).run(pages);
}

}  // namespace ligule::ledger
