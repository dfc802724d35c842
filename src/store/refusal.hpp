// What an SQLite result code means for the person at the keyboard: what is wrong with which file, and what to
// do.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace steelyard::store {

/// "FILE: what; remedy" for an extended result code that the file, the disk or another program causes; empty
/// for a code that only a fault of this program can cause. `detail` is SQLite's own message.
std::string refusal_text(const std::filesystem::path& path, int extended_code, std::string_view detail);

std::string about(const std::filesystem::path& path, std::string_view what);

}  // namespace steelyard::store
