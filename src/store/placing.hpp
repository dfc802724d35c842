// A file that has its name only when it is whole: written beside under another name, synced, then renamed.
#pragma once

#include <filesystem>
#include <string_view>

namespace steelyard::store {

std::filesystem::path folder_of(const std::filesystem::path& path);

/// A name for the unfinished file, beside `path` so that a rename is enough.
std::filesystem::path unfinished_name(const std::filesystem::path& path);

/// Makes an empty file that nobody else has; Refused, naming `asked`, where that cannot be.
void make_empty_file(const std::filesystem::path& path, const std::filesystem::path& asked);

/// Writes the file's bytes through to the disk.
void sync_file(const std::filesystem::path& path, const std::filesystem::path& asked);

/// Gives the finished file its name and writes the folder through to the disk. Refused where `path` is taken, unless
/// `replace`.
void put_in_place(const std::filesystem::path& unfinished, const std::filesystem::path& path, bool replace);

/// Removes the unfinished file, where it still is, and a journal beside it.
struct Unfinished {
  std::filesystem::path path;
  ~Unfinished();
};

}  // namespace steelyard::store
