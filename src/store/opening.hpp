// Opening and making the file: everything that is not a sound store of a version we know is refused by name,
// before anything is written to it.
#pragma once

#include <chrono>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>

#include "store/migrations.hpp"
#include "store/store.hpp"

namespace steelyard::store {

/// What the program leaves as it is and the tests set.
struct Settings {
  std::chrono::milliseconds patience{5000};  // wait for another program's lock
  std::optional<int> most_pages;             // size of the file, in pages: a full disk
  std::span<const Migration> migrations = released_migrations();
  bool older_too = false;  // read_only opens a store of an older version as it is
};

std::unique_ptr<Connection> open_store(const std::filesystem::path& path, Access access,
                                       const Settings& settings);
std::unique_ptr<Connection> create_store(const std::filesystem::path& path, const Settings& settings);

/// The way to a Store with other settings than the program's.
struct Opener {
  static Store open(const std::filesystem::path& path, Access access, const Settings& settings);
  static Store create(const std::filesystem::path& path, const Settings& settings);
  static Connection& connection_of(Store& store);
};

}  // namespace steelyard::store
