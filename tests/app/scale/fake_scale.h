// A simulated indicator at the other end of a pseudo terminal.
#pragma once

#include <pty.h>
#include <stdlib.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <thread>

namespace ligule::scale {

// The indicator: its end of the line, and a name that stays when the adapter comes back as another
// device.
class FakeScale {
 public:
  FakeScale() {
    std::string name = (std::filesystem::temp_directory_path() / "ligule-scale-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) std::abort();
    folder_ = name;
    plug();
  }
  FakeScale(const FakeScale&) = delete;
  FakeScale& operator=(const FakeScale&) = delete;
  FakeScale(FakeScale&&) = delete;
  FakeScale& operator=(FakeScale&&) = delete;
  ~FakeScale() {
    unplug();
    std::filesystem::remove_all(folder_);
  }

  void plug() {
    int device = -1;
    char name[128] = {};
    if (openpty(&end_, &device, name, nullptr, nullptr) != 0) std::abort();
    device_ = device;  // held open, so that writing before the program opens it is no error
    std::filesystem::create_symlink(name, path());
  }
  void unplug() {
    if (end_ < 0) return;
    std::filesystem::remove(path());
    close(device_);
    close(end_);
    end_ = -1;
  }
  void send(std::string_view bytes) const {
    while (!bytes.empty()) {
      const ssize_t sent = write(end_, bytes.data(), bytes.size());
      if (sent <= 0) return;
      bytes.remove_prefix(static_cast<std::size_t>(sent));
    }
  }
  // What the program sent; waits for something.
  [[nodiscard]] std::string heard() const {
    char buffer[64];
    const ssize_t size = read(end_, buffer, sizeof buffer);
    return size > 0 ? std::string(buffer, static_cast<std::size_t>(size)) : std::string();
  }
  [[nodiscard]] std::string path() const { return folder_ + "/scale"; }
  [[nodiscard]] const std::string& folder() const { return folder_; }

 private:
  std::string folder_;
  int end_ = -1, device_ = -1;
};

// True once it holds; false after a time no test machine needs.
inline bool comes(const std::function<bool()>& what) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(20);
  while (std::chrono::steady_clock::now() < end) {
    if (what()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  return false;
}

}  // namespace ligule::scale
