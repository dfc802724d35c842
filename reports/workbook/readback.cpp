#include "reports/workbook/readback.hpp"

// Asks zlib for pointers to const input.
#define ZLIB_CONST
#include <zlib.h>

#include <cstdint>
#include <fstream>
#include <iterator>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>

namespace steelyard::reports {
namespace {

[[noreturn]] void damaged(const std::string& what) {
  throw std::runtime_error("the written file is damaged: " + what);
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  if (in.bad() || bytes.empty()) damaged("it cannot be read back");
  return bytes;
}

std::uint32_t little_endian(std::string_view bytes, std::size_t at, std::size_t width) {
  if (bytes.size() < at + width) damaged("it ends too early");
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < width; ++i)
    value |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at + i])) << (8 * i);
  return value;
}

std::string inflated(std::string_view packed, std::size_t size, const std::string& name) {
  std::string out(size, '\0');
  z_stream stream{};
  if (inflateInit2(&stream, -MAX_WBITS) != Z_OK) damaged(name + " cannot be unpacked");
  stream.next_in = reinterpret_cast<const Bytef*>(packed.data());
  stream.avail_in = static_cast<uInt>(packed.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const int result = inflate(&stream, Z_FINISH);
  inflateEnd(&stream);
  if (result != Z_STREAM_END || stream.total_out != size) damaged(name + " cannot be unpacked");
  return out;
}

/// One part from its central directory record at `at`; moves `at` to the next record.
std::pair<std::string, std::string> part_at(std::string_view zip, std::size_t& at) {
  if (little_endian(zip, at, 4) != 0x02014b50) damaged("its list of parts is broken");
  const auto method = little_endian(zip, at + 10, 2);
  const auto crc = little_endian(zip, at + 16, 4);
  const std::size_t packed = little_endian(zip, at + 20, 4), size = little_endian(zip, at + 24, 4);
  const std::size_t name_length = little_endian(zip, at + 28, 2);
  const std::size_t local = little_endian(zip, at + 42, 4);
  const std::string name(zip.substr(at + 46, name_length));
  at += 46 + name_length + little_endian(zip, at + 30, 2) + little_endian(zip, at + 32, 2);
  const std::size_t data = local + 30 + little_endian(zip, local + 26, 2) + little_endian(zip, local + 28, 2);
  if (data + packed > zip.size()) damaged(name + " is cut off");
  const std::string_view body = zip.substr(data, packed);
  if (method != 0 && method != 8) damaged(name + " is packed in an unknown way");
  std::string content = method == 0 ? std::string(body) : inflated(body, size, name);
  const auto found =
      crc32(0, reinterpret_cast<const Bytef*>(content.data()), static_cast<uInt>(content.size()));
  if (found != crc || content.size() != size) damaged(name + " does not match its checksum");
  return {name, std::move(content)};
}

std::map<std::string, std::string> parts_of(std::string_view zip) {
  // The library writes no archive comment, so the end record is the last 22 bytes.
  if (zip.size() < 22 || little_endian(zip, zip.size() - 22, 4) != 0x06054b50)
    damaged("it has no end record");
  const std::size_t count = little_endian(zip, zip.size() - 12, 2);
  std::size_t at = little_endian(zip, zip.size() - 6, 4);
  std::map<std::string, std::string> parts;
  for (std::size_t i = 0; i < count; ++i) parts.insert(part_at(zip, at));
  return parts;
}

std::size_t occurrences(std::string_view text, std::string_view what) {
  std::size_t count = 0;
  for (auto at = text.find(what); at != text.npos; at = text.find(what, at + what.size())) ++count;
  return count;
}

const std::string& whole_part(const std::map<std::string, std::string>& parts, const std::string& name,
                              std::string_view end) {
  const auto part = parts.find(name);
  if (part == parts.end()) damaged(name + " is missing");
  const auto last = part->second.find_last_not_of("\r\n ");
  if (last == std::string::npos || !std::string_view(part->second).substr(0, last + 1).ends_with(end))
    damaged(name + " is not whole");
  return part->second;
}

}  // namespace

void check_workbook(const std::filesystem::path& file, const std::vector<SheetCount>& expected) {
  const std::string zip = bytes_of(file);
  const auto parts = parts_of(zip);
  whole_part(parts, "[Content_Types].xml", "</Types>");
  whole_part(parts, "xl/workbook.xml", "</workbook>");
  whole_part(parts, "xl/styles.xml", "</styleSheet>");
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const std::string name = "xl/worksheets/sheet" + std::to_string(i + 1) + ".xml";
    const std::string& xml = whole_part(parts, name, "</worksheet>");
    const std::size_t rows = occurrences(xml, "<row "), cells = occurrences(xml, "<c r=");
    if (rows != expected[i].rows || cells != expected[i].cells)
      damaged(name + " has " + std::to_string(rows) + " rows and " + std::to_string(cells) + " cells where " +
              std::to_string(expected[i].rows) + " and " + std::to_string(expected[i].cells) +
              " were written");
  }
  if (parts.contains("xl/sharedStrings.xml")) {
    const std::string& strings = whole_part(parts, "xl/sharedStrings.xml", "</sst>");
    const std::string unique = "uniqueCount=\"" + std::to_string(occurrences(strings, "<si>")) + '"';
    if (strings.find(unique) == std::string::npos) damaged("texts are missing");
  }
}

}  // namespace steelyard::reports
