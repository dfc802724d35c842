// Sheets from files: what a path is, and its text within bounds.
//
// Errors: Refusal, whose message names the file and gives the remedy: not there, a folder, empty, longer than
// one sheet may be (told from its size, before anything is read), not readable. A fleet file may be of any
// length.
#pragma once

#include <filesystem>
#include <fstream>
#include <string>

namespace steelyard::cli {

enum class SheetKind { one, fleet };  // .json, .jsonl

/// By the name's ending; Refusal where it is neither.
SheetKind sheet_kind(const std::filesystem::path& path);

/// True where `word` is meant as a file's name and not as a session: it ends in .json or .jsonl.
bool names_a_sheet(const std::string& word);

/// True where the name ends in .csv: one of several files that make sessions together.
bool names_csv(const std::string& word);
std::string read_csv_file(const std::filesystem::path& path);

/// The text of a file that holds one sheet.
std::string read_sheet_file(const std::filesystem::path& path);

/// The bytes of a file to be attached; Refusal above 24 MiB.
std::string read_attached_file(const std::filesystem::path& path);

/// A fleet file, open for reading line by line.
std::ifstream open_fleet_file(const std::filesystem::path& path);

}  // namespace steelyard::cli
