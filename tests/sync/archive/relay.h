// A way to the test's server that can be cut: a socket of its own in front of the server's, which
// goes dead in both directions once so many bytes went one way.
#pragma once

#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cstring>
#include <string>
#include <thread>
#include <vector>

#include "tests/sync/archive/postgres.h"

namespace ligule::archive {

enum class Way { kToServer, kFromServer };

class Relay {
 public:
  // The socket lies in `folder`, under the name the library looks for.
  Relay(const std::string& folder, Way way, std::size_t bytes)
      : path_(folder + "/.s.PGSQL.5432"), way_(way), left_(bytes), listening_(made()) {
    const sockaddr_un name = named(path_);
    EXPECT_EQ(::bind(listening_, address(name), sizeof name), 0);
    EXPECT_EQ(::listen(listening_, 8), 0);
    accepting_ = std::thread([this] { accept_all(); });
  }
  Relay(const Relay&) = delete;
  Relay& operator=(const Relay&) = delete;
  Relay(Relay&&) = delete;
  Relay& operator=(Relay&&) = delete;
  ~Relay() {
    ::shutdown(listening_, SHUT_RDWR);
    accepting_.join();
    for (const int end : ends_) ::shutdown(end, SHUT_RDWR);
    for (std::thread& each : pumps_) each.join();
    for (const int end : ends_) ::close(end);
    ::close(listening_);
    ::unlink(path_.c_str());
  }

  [[nodiscard]] std::string url(const Database& database) const {
    std::string url = server();
    const std::string folder = path_.substr(0, path_.rfind('/'));
    url.replace(url.find('@') + 1, std::string::npos,
                "/" + database.name + "?host=" + folder + "&port=5432");
    return url;
  }
  // Bytes that went the way that is counted, until it was cut.
  [[nodiscard]] std::size_t passed() const { return passed_; }

 private:
  static int made() { return ::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0); }
  static sockaddr_un named(const std::string& path) {
    sockaddr_un name{};
    name.sun_family = AF_UNIX;
    EXPECT_LT(path.size(), sizeof name.sun_path);
    std::memcpy(&name.sun_path[0], path.c_str(), path.size() + 1);
    return name;
  }
  static const sockaddr* address(const sockaddr_un& name) {
    return reinterpret_cast<const sockaddr*>(&name);  // as the interface wants it
  }

  void accept_all() {
    const sockaddr_un server =
        named(archive::server("_SOCKETS") + "/.s.PGSQL." + archive::server("_PORT"));
    for (int client = ::accept(listening_, nullptr, nullptr); client >= 0;
         client = ::accept(listening_, nullptr, nullptr)) {
      const int behind = made();
      EXPECT_EQ(::connect(behind, address(server), sizeof server), 0);
      ends_.push_back(client);
      ends_.push_back(behind);
      pumps_.emplace_back([=, this] { pump(client, behind, way_ == Way::kToServer); });
      pumps_.emplace_back([=, this] { pump(behind, client, way_ == Way::kFromServer); });
    }
  }
  void pump(int from, int to, bool counted) {
    std::array<char, 4096> bytes{};
    for (;;) {
      const ssize_t got = ::read(from, bytes.data(), bytes.size());
      if (got <= 0) break;
      auto size = static_cast<std::size_t>(got);
      if (counted) {
        size = std::min(size, left_.load());
        left_ -= size;
        passed_ += size;
      }
      if (size > 0 && ::send(to, bytes.data(), size, MSG_NOSIGNAL) < 0) break;
      if (counted && left_ == 0) break;
    }
    ::shutdown(from, SHUT_RDWR);
    ::shutdown(to, SHUT_RDWR);
  }

  std::string path_;
  Way way_;
  std::atomic<std::size_t> left_;
  std::atomic<std::size_t> passed_{0};
  int listening_;
  std::vector<int> ends_;
  std::vector<std::thread> pumps_;
  std::thread accepting_;
};

}  // namespace ligule::archive
