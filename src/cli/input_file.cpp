#include "cli/input_file.hpp"

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstring>

#include "cli/command.hpp"
#include "sheet/csv_text.hpp"

namespace fs = std::filesystem;

namespace steelyard::cli {
namespace {

std::string ending(const fs::path& path) {
  std::string end = path.extension().string();
  std::transform(end.begin(), end.end(), end.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return end;
}

std::ifstream open(const fs::path& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found)
    throw Refusal(path.string() + ": there is no such file; check the name and the folder");
  if (status.type() == fs::file_type::directory)
    throw Refusal(path.string() + ": is a folder; name the sheets in it");
  errno = 0;
  std::ifstream in(path, std::ios::binary);
  if (!in) {
    const std::string why = error ? error.message() : std::strerror(errno);
    throw Refusal(path.string() + ": cannot be read: " + why);
  }
  return in;
}

/// The file's bytes; refused where there are more than `longest`.
std::string read_whole(const fs::path& path, std::size_t longest, const std::string& too_long) {
  std::ifstream in = open(path);
  const auto refuse_long = [&] {
    throw Refusal(path.string() + ": is longer than one " + too_long);
  };
  std::error_code error;
  const auto size = fs::file_size(path, error);
  if (!error && size > longest) refuse_long();
  std::string text;
  std::string piece(64 * 1024, '\0');
  // What is no regular file (a pipe) has no size, so the bound is kept while reading too.
  while (in.read(piece.data(), static_cast<std::streamsize>(piece.size())) || in.gcount() > 0) {
    text.append(piece, 0, static_cast<std::size_t>(in.gcount()));
    if (text.size() > longest) refuse_long();
  }
  if (in.bad()) throw Refusal(path.string() + ": could not be read to its end");
  return text;
}

}  // namespace

SheetKind sheet_kind(const fs::path& path) {
  const std::string end = ending(path);
  if (end == ".json") return SheetKind::one;
  if (end == ".jsonl") return SheetKind::fleet;
  throw Refusal(path.string() + ": a sheet's name ends in .json, a fleet's in .jsonl" +
                (end == ".csv" ? "; `steelyard import` takes .csv files, all of a weighing at once" : ""));
}

bool names_a_sheet(const std::string& word) {
  const std::string end = ending(word);
  return end == ".json" || end == ".jsonl";
}

bool names_csv(const std::string& word) {
  return ending(word) == ".csv";
}

std::string read_sheet_file(const fs::path& path) {
  std::string text = read_whole(path, sheet::longest_sheet,
                                "sheet may be (" + std::to_string(sheet::longest_sheet >> 20) +
                                    " MB); a fleet goes in a .jsonl file, one sheet a line");
  if (text.empty()) throw Refusal(path.string() + ": is empty; a sheet is one JSON object");
  return text;
}

std::string read_csv_file(const fs::path& path) {
  return read_whole(path, sheet::longest_csv,
                    "CSV file may be (" + std::to_string(sheet::longest_csv >> 20) +
                        " MB); part it in several, which are imported together");
}

std::string read_attached_file(const fs::path& path) {
  constexpr std::size_t longest = 24u << 20;
  std::ifstream in = open(path);
  std::string bytes(longest + 1, '\0');
  in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<std::size_t>(in.gcount()));
  if (in.bad()) throw Refusal(path.string() + ": could not be read to its end");
  if (bytes.size() > longest)
    throw Refusal(path.string() + ": is larger than 24 MiB; make the picture smaller and repeat");
  return bytes;
}

std::ifstream open_fleet_file(const fs::path& path) {
  std::ifstream in = open(path);
  if (in.peek() == std::ifstream::traits_type::eof())
    throw Refusal(path.string() + ": is empty; a fleet has one sheet a line");
  return in;
}

}  // namespace steelyard::cli
