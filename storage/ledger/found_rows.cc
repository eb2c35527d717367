#include "storage/ledger/found_rows.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <span>

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

// The newest of each page: what the log has of it, else the file's.
class Pages {
 public:
  Pages(std::string_view file, std::string_view log) : file_(file) {
    for (std::size_t at = 0; at < file.size(); at += kPage) all_.push_back(file.substr(at, kPage));
    if (log.size() < kLogHead) return;
    const std::string_view salt = log.substr(kSaltAt, 8);
    for (std::size_t at = kLogHead; at + kFrameHead + kPage <= log.size();
         at += kFrameHead + kPage) {
      if (log.substr(at + kFrameSaltAt, 8) != salt) continue;  // of a log before this one
      const std::string_view page = log.substr(at + kFrameHead, kPage);
      in_log_[big_endian(log.substr(at, 4))] = page;
      all_.push_back(page);
    }
  }

  // Every version there is.
  [[nodiscard]] const std::vector<std::string_view>& all() const { return all_; }
  // By number, from 1; empty: there is none.
  [[nodiscard]] std::string_view page(std::uint64_t number) const {
    if (const auto found = in_log_.find(number); found != in_log_.end()) return found->second;
    if (number == 0 || number > file_.size() / kPage) return {};
    return file_.substr((number - 1) * kPage, kPage);
  }

 private:
  std::string_view file_;
  std::vector<std::string_view> all_;
  std::map<std::uint64_t, std::string_view> in_log_;
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

// All bytes of a row that begins in a page and may go on in others; empty: it leads nowhere.
std::string row_bytes(const Pages& pages, std::string_view page, std::size_t at, std::size_t total,
                      std::size_t most_here) {
  std::size_t here = total;
  if (total > most_here) {
    here = kLeastHere + (total - kLeastHere) % (kPage - 4);
    if (here > most_here) here = kLeastHere;
  }
  const bool goes_on = here < total;
  if (at + here + (goes_on ? 4 : 0) > page.size()) return {};
  std::string bytes(page.substr(at, here));
  std::uint64_t next = goes_on ? big_endian(page.substr(at + here, 4)) : 0;
  while (bytes.size() < total) {
    const std::string_view more = pages.page(next);
    if (more.size() < kPage) return {};
    next = big_endian(more.substr(0, 4));
    bytes.append(more.substr(4, total - bytes.size()));
  }
  return bytes;
}

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
  explicit Search(const Pages& pages) : pages_(pages) {}

  FoundRows run() && {
    for (const std::string_view page : pages_.all())
      for (std::size_t at = 0; at + 4 < page.size(); ++at) look(page, at);
    return std::move(found_);
  }

 private:
  // The tables are those of schema.cc; of `record` the row's number stands elsewhere, as NULL here.
  void look(std::string_view page, std::size_t at) {
    const auto first = static_cast<std::uint8_t>(page[at + 1]);
    const auto second = static_cast<std::uint8_t>(page[at + 2]);
    const bool record = first == kNull && second == kId;
    if (!record && first != kId) return;
    const auto shape = shape_at(page, at);
    if (!shape) return;
    const auto bytes = [&](std::size_t most_here) {
      return row_bytes(pages_, page, at, shape->total, most_here);
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

  const Pages& pages_;
  FoundRows found_;
};

}  // namespace

FoundRows found_rows(std::string_view file, std::string_view log) {
  const Pages pages(file, log);
  return Search(pages).run();
}

}  // namespace ligule::ledger
