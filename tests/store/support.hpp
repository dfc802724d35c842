// What the store's tests share: a folder of their own, sessions, a raw SQLite handle, a caller without
// rights.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "rig/session.hpp"
#include "store/opening.hpp"
#include "store/store.hpp"

struct sqlite3;

namespace steelyard::test {

/// A new empty folder, removed with all it holds. Others may enter it, so that a caller without rights can.
class Folder {
 public:
  Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder();
  [[nodiscard]] std::filesystem::path operator/(std::string_view name) const { return path_ / name; }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  [[nodiscard]] std::vector<std::string> names() const;

 private:
  std::filesystem::path path_;
};

/// The file as another program sees it; every call must succeed unless it says otherwise.
class Raw {
 public:
  explicit Raw(const std::filesystem::path& path);
  void run(const std::string& sql) const;
  /// SQLite's message; empty when it did succeed.
  [[nodiscard]] std::string error_of(const std::string& sql) const;
  [[nodiscard]] std::string text(const std::string& sql) const;
  [[nodiscard]] double number(const std::string& sql) const;
  [[nodiscard]] long long integer(const std::string& sql) const;
  [[nodiscard]] std::vector<std::string> texts(const std::string& sql) const;
  [[nodiscard]] sqlite3* handle() const { return handle_.get(); }

 private:
  struct Close {
    void operator()(sqlite3* handle) const;
  };
  std::unique_ptr<sqlite3, Close> handle_;
};

/// Every row of every table, numbers to the last bit.
std::string content_of(const std::filesystem::path& path);
std::string bytes_of(const std::filesystem::path& path);
void write_bytes(const std::filesystem::path& path, std::string_view bytes);

/// 64 hexadecimal digits that stand for a content hash; the store itself computes none.
std::string hash_of(std::string_view seed);

/// A session in which every field that the contract knows is given.
rig::Session full_session(const std::string& id);
/// A vehicle alone with two readings and nothing that may be left out.
rig::Session small_session(const std::string& id);

rig::Reading reading(const std::string& id, const rig::Position& at, double kilograms);

/// Imports sessions, each with hash_of(its id), and commits.
void import_all(store::Store& store, const std::vector<rig::Session>& sessions);
std::filesystem::path make_store(const Folder& folder, const std::vector<rig::Session>& sessions);

/// The text of the Refused that `action` throws; a failed check, and empty, where it throws none.
std::string refusal_of(const std::function<void()>& action);

/// The same, asked by a process that permissions bind: root's do not.
std::string refusal_without_rights(const std::function<void()>& action);

bool holds(std::string_view text, std::string_view part);

}  // namespace steelyard::test
