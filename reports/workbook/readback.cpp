#include "reports/workbook/readback.hpp"

// Asks zlib for pointers to const input.
#define ZLIB_CONST
#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>
#include <zlib.h>

#include <cstdint>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace steelyard::reports {
namespace {

[[noreturn]] void damaged(const std::string& what) {
  throw std::runtime_error("the written file is damaged: " + what);
}

std::uint32_t little_endian(std::string_view bytes, std::size_t at, std::size_t width) {
  if (bytes.size() < at + width) damaged("it ends too early");
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < width; ++i)
    value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + i])) << (8 * i);
  return value;
}

/// What is looked for in a part while its bytes pass by: how often each word stands in it, and how it ends.
class Reading {
 public:
  explicit Reading(std::vector<std::string_view> words) : words_(std::move(words)), counts_(words_.size()) {}

  void pass(std::string_view bytes) {
    size_ += bytes.size();
    crc_ = crc32(crc_, reinterpret_cast<const Bytef*>(bytes.data()), static_cast<uInt>(bytes.size()));
    // A word that two pieces share is found at their seam.
    const std::size_t kept = window_.size();
    window_ += bytes;
    for (std::size_t i = 0; i < words_.size(); ++i) {
      const std::size_t from = kept < words_[i].size() ? 0 : kept - words_[i].size() + 1;
      for (auto at = window_.find(words_[i], from); at != window_.npos; at = window_.find(words_[i], at + 1)) ++counts_[i];
    }
    if (window_.size() > longest_word) window_.erase(0, window_.size() - longest_word);
  }

  [[nodiscard]] std::size_t count(std::size_t word) const { return counts_[word]; }
  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] std::uint32_t crc() const { return static_cast<std::uint32_t>(crc_); }
  [[nodiscard]] bool ends_with(std::string_view end) const {
    const auto last = window_.find_last_not_of("\r\n ");
    return last != window_.npos && std::string_view(window_).substr(0, last + 1).ends_with(end);
  }

 private:
  static constexpr std::size_t longest_word = 64;
  std::vector<std::string_view> words_;
  std::vector<std::size_t> counts_;
  std::string window_;
  std::size_t size_ = 0;
  uLong crc_ = 0;
};

void inflate_into(Reading& reading, std::string_view packed, const std::string& name) {
  std::vector<char> piece(std::size_t{1} << 18);
  z_stream stream{};
  if (inflateInit2(&stream, -MAX_WBITS) != Z_OK) damaged(name + " cannot be unpacked");
  stream.next_in = reinterpret_cast<const Bytef*>(packed.data());
  stream.avail_in = static_cast<uInt>(packed.size());
  int result = Z_OK;
  while (result == Z_OK) {
    stream.next_out = reinterpret_cast<Bytef*>(piece.data());
    stream.avail_out = static_cast<uInt>(piece.size());
    result = inflate(&stream, Z_NO_FLUSH);
    reading.pass({piece.data(), piece.size() - stream.avail_out});
  }
  inflateEnd(&stream);
  if (result != Z_STREAM_END) damaged(name + " cannot be unpacked");
}

/// Where a part stands in the archive, from its record in the central directory.
struct Part {
  std::string name;
  std::uint32_t method = 0, crc = 0;
  std::size_t size = 0;
  std::string_view packed;
};

/// Moves `at` to the next record.
Part part_at(std::string_view zip, std::size_t& at) {
  if (little_endian(zip, at, 4) != 0x02014b50) damaged("its list of parts is broken");
  Part part{.name = {}, .method = little_endian(zip, at + 10, 2), .crc = little_endian(zip, at + 16, 4), .packed = {}};
  const std::size_t packed = little_endian(zip, at + 20, 4);
  part.size = little_endian(zip, at + 24, 4);
  const std::size_t name_length = little_endian(zip, at + 28, 2);
  const std::size_t local = little_endian(zip, at + 42, 4);
  if (at + 46 + name_length > zip.size()) damaged("its list of parts is broken");
  part.name = zip.substr(at + 46, name_length);
  at += 46 + name_length + little_endian(zip, at + 30, 2) + little_endian(zip, at + 32, 2);
  const std::size_t data = local + 30 + little_endian(zip, local + 26, 2) + little_endian(zip, local + 28, 2);
  if (data + packed > zip.size()) damaged(part.name + " is cut off");
  part.packed = zip.substr(data, packed);
  if (part.method != 0 && part.method != 8) damaged(part.name + " is packed in an unknown way");
  return part;
}

/// Every part is unpacked and its checksum looked at, whether or not anything is counted in it.
Reading read_part(const Part& part, std::vector<std::string_view> words = {}) {
  Reading reading(std::move(words));
  if (part.method == 0)
    reading.pass(part.packed);
  else
    inflate_into(reading, part.packed, part.name);
  if (reading.crc() != part.crc || reading.size() != part.size) damaged(part.name + " does not match its checksum");
  return reading;
}

std::map<std::string, Part> parts_of(std::string_view zip) {
  // The library writes no archive comment, so the end record is the last 22 bytes.
  if (zip.size() < 22 || little_endian(zip, zip.size() - 22, 4) != 0x06054b50)
    damaged("it has no end record");
  const std::size_t count = little_endian(zip, zip.size() - 12, 2);
  std::size_t at = little_endian(zip, zip.size() - 6, 4);
  std::map<std::string, Part> parts;
  for (std::size_t i = 0; i < count; ++i) {
    Part part = part_at(zip, at);
    std::string name = part.name;
    parts.emplace(std::move(name), std::move(part));
  }
  return parts;
}

/// Checks a part that has to be there, whole, and takes it off the list of those still to be read.
Reading whole_part(std::map<std::string, Part>& parts, const std::string& name, std::string_view end,
                   std::vector<std::string_view> words = {}) {
  const auto part = parts.find(name);
  if (part == parts.end()) damaged(name + " is missing");
  Reading reading = read_part(part->second, std::move(words));
  if (!reading.ends_with(end)) damaged(name + " is not whole");
  parts.erase(part);
  return reading;
}

void check_sheet(std::map<std::string, Part>& parts, std::size_t number, const SheetCount& expected) {
  const std::string name = "xl/worksheets/sheet" + std::to_string(number) + ".xml";
  const Reading sheet = whole_part(parts, name, "</worksheet>", {"<row ", "<c r="});
  if (sheet.count(0) != expected.rows || sheet.count(1) != expected.cells)
    damaged(name + " has " + std::to_string(sheet.count(0)) + " rows and " + std::to_string(sheet.count(1)) +
            " cells where " + std::to_string(expected.rows) + " and " + std::to_string(expected.cells) + " were written");
}

/// The file in memory as the system pages it in, so that a large one takes none of ours.
class Mapped {
 public:
  explicit Mapped(const std::filesystem::path& file) {
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
    std::error_code error;
    size_ = static_cast<std::size_t>(std::filesystem::file_size(file, error));
    if (descriptor >= 0 && !error && size_ > 0)
      data_ = ::mmap(nullptr, size_, PROT_READ, MAP_PRIVATE, descriptor, 0);
    if (descriptor >= 0) ::close(descriptor);
    if (data_ == MAP_FAILED) damaged("it cannot be read back");
  }
  Mapped(const Mapped&) = delete;
  Mapped& operator=(const Mapped&) = delete;
  ~Mapped() { ::munmap(data_, size_); }
  [[nodiscard]] std::string_view bytes() const { return {static_cast<const char*>(data_), size_}; }

 private:
  void* data_ = MAP_FAILED;
  std::size_t size_ = 0;
};

}  // namespace

void check_workbook(const std::filesystem::path& file, const std::vector<SheetCount>& expected) {
  const Mapped mapped(file);
  auto parts = parts_of(mapped.bytes());
  whole_part(parts, "[Content_Types].xml", "</Types>");
  whole_part(parts, "xl/workbook.xml", "</workbook>");
  whole_part(parts, "xl/styles.xml", "</styleSheet>");
  for (std::size_t i = 0; i < expected.size(); ++i) check_sheet(parts, i + 1, expected[i]);
  if (const auto found = parts.find("xl/sharedStrings.xml"); found != parts.end()) {
    const Part strings = found->second;
    const std::size_t texts = whole_part(parts, strings.name, "</sst>", {"<si>"}).count(0);
    const std::string unique = "uniqueCount=\"" + std::to_string(texts) + '"';
    if (read_part(strings, {unique}).count(0) != 1) damaged("texts are missing");
  }
  for (const auto& [name, part] : parts) read_part(part);
}

}  // namespace steelyard::reports
