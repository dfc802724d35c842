// The workbook layer: what it refuses, what it makes of texts, and that nothing half-written is left behind.
#include <signal.h>
#include <sys/resource.h>
#include <unistd.h>

#include <boost/test/unit_test.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>

#include "reports/workbook/readback.hpp"
#include "reports/workbook/text.hpp"
#include "reports/workbook/workbook.hpp"

namespace fs = std::filesystem;
using namespace steelyard::reports;

namespace {

/// A folder of its own for each test, gone afterwards.
struct Folder {
  fs::path path;
  Folder() {
    std::string name = (fs::temp_directory_path() / "steelyard-workbook-").string() + std::string(6, 'X');
    path = ::mkdtemp(name.data());
  }
  ~Folder() { fs::remove_all(path); }
  [[nodiscard]] std::size_t entries() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(path), fs::directory_iterator()));
  }
};

std::string bytes(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

void write_bytes(const fs::path& file, const std::string& content) {
  std::ofstream(file, std::ios::binary) << content;
}

/// 200 rows of two cells.
void write_small(const fs::path& to, std::string_view name = "a name") {
  Workbook book(to, {.title = "t", .subject = {}, .author = {}, .comments = {}, .created = 1791072000});
  Sheet sheet = book.add_sheet("One");
  for (int row = 0; row < 200; ++row) {
    sheet.text(row, 0, name, {});
    sheet.number(row, 1, row / 7.0, {});
  }
  book.close();
}

bool names_the_file(const WorkbookRefused& refused, const fs::path& file) {
  return std::string(refused.what()).find(file.string()) != std::string::npos;
}

/// Files larger than `most` bytes cannot be written while this lives: a full disk without a disk.
struct SmallFiles {
  rlimit before{};
  void (*handler)(int) = nullptr;
  explicit SmallFiles(rlim_t most) {
    handler = ::signal(SIGXFSZ, SIG_IGN);
    ::getrlimit(RLIMIT_FSIZE, &before);
    const rlimit small{most, before.rlim_max};
    ::setrlimit(RLIMIT_FSIZE, &small);
  }
  ~SmallFiles() {
    ::setrlimit(RLIMIT_FSIZE, &before);
    ::signal(SIGXFSZ, handler);
  }
};

}  // namespace

BOOST_AUTO_TEST_SUITE(workbook)

BOOST_AUTO_TEST_CASE(texts_are_made_presentable_and_visibly_so) {
  BOOST_TEST(presentable("plain, kg · ± ✓") == "plain, kg · ± ✓");
  BOOST_TEST(presentable("a\r\nb\tc") == "a\nb\tc");
  BOOST_TEST(presentable(std::string("\0\a\x1b\x7f", 4)) == "\u2400\u2407\u241B\u2421");
  // Not UTF-8: a lone lead, a lone continuation, an overlong form, a surrogate, beyond the last character.
  BOOST_TEST(presentable("\xc3") == "\uFFFD");
  BOOST_TEST(presentable("x\x80y") == "x\uFFFDy");
  BOOST_TEST(presentable("\xc0\xaf") == "\uFFFD\uFFFD");
  BOOST_TEST(presentable("\xe0\x80\xaf") == "\uFFFD\uFFFD\uFFFD");
  BOOST_TEST(presentable("\xed\xa0\x80") == "\uFFFD\uFFFD\uFFFD");
  BOOST_TEST(presentable("\xf4\x90\x80\x80") == "\uFFFD\uFFFD\uFFFD\uFFFD");
  // UTF-8, but no character of XML 1.0: U+FFFE; and those that turn the direction of what follows.
  BOOST_TEST(presentable("\xef\xbf\xbe") == "\uFFFD");
  BOOST_TEST(presentable("a\u202Eb\u2066c") == "a\uFFFDb\uFFFDc");
  BOOST_TEST(presentable("\u05E9\u05DC\u05D5\u05DD") == "\u05E9\u05DC\u05D5\u05DD");
}

BOOST_AUTO_TEST_CASE(long_texts_are_cut_with_a_mark) {
  BOOST_TEST(presentable(std::string(32767, 'x')) == std::string(32767, 'x'));
  BOOST_TEST(presentable(std::string(32768, 'x')) == std::string(32759, 'x') + " … [cut]");
  // A character outside the basic plane counts twice, and is never cut in two.
  std::string trucks;
  for (int i = 0; i < 10; ++i) trucks += "\U0001F69A";
  BOOST_TEST(presentable(trucks, 20) == trucks);
  BOOST_TEST(presentable(trucks, 19) == trucks.substr(0, 5 * 4) + " … [cut]");
}

BOOST_AUTO_TEST_CASE(the_file_formats_own_escape_form_is_escaped) {
  BOOST_TEST(escape_hex_form("_x0041_") == "_x005F_x0041_");
  BOOST_TEST(escape_hex_form("a _x00g1_ _x0041") == "a _x00g1_ _x0041");
}

BOOST_AUTO_TEST_CASE(figures_that_are_none_are_refused) {
  const Folder folder;
  Workbook book(folder.path / "a.xlsx", {});
  Sheet sheet = book.add_sheet("One");
  BOOST_CHECK_THROW(sheet.number(0, 0, std::nan(""), {}), std::invalid_argument);
  BOOST_CHECK_THROW(sheet.number(0, 0, std::numeric_limits<double>::infinity(), {}), std::invalid_argument);
  BOOST_CHECK_THROW(sheet.number(-1, 0, 1, {}), std::invalid_argument);
  BOOST_CHECK_THROW(sheet.number(0, 16384, 1, {}), std::invalid_argument);
  BOOST_CHECK_THROW(book.add_sheet("One"), std::invalid_argument);
  BOOST_CHECK_THROW(book.add_sheet("a/b"), std::invalid_argument);
  BOOST_CHECK_THROW(book.add_sheet(std::string(32, 'x')), std::invalid_argument);
}

BOOST_AUTO_TEST_CASE(places_that_cannot_be_written_are_refused_by_name) {
  const Folder folder;
  const fs::path missing = folder.path / "no such folder" / "a.xlsx";
  BOOST_CHECK_EXCEPTION(write_small(missing), WorkbookRefused,
                        [&](const auto& refused) { return names_the_file(refused, missing); });
  BOOST_CHECK_EXCEPTION(write_small(folder.path), WorkbookRefused,
                        [&](const auto& refused) { return names_the_file(refused, folder.path); });
  // The process file system takes no new files, not even from root.
  BOOST_CHECK_EXCEPTION(write_small("/proc/a.xlsx"), WorkbookRefused, [](const auto& refused) {
    return std::string(refused.what()).find("its folder cannot be written") != std::string::npos;
  });
  BOOST_TEST(folder.entries() == 0u);
}

BOOST_AUTO_TEST_CASE(a_workbook_never_closed_leaves_nothing) {
  const Folder folder;
  {
    Workbook book(folder.path / "a.xlsx", {});
    book.add_sheet("One").number(0, 0, 1, {});
    BOOST_TEST(folder.entries() == 1u);  // the unfinished file
  }
  BOOST_TEST(folder.entries() == 0u);
}

BOOST_AUTO_TEST_CASE(the_same_content_gives_the_same_bytes_and_replaces_the_old_file) {
  const Folder folder;
  const fs::path one = folder.path / "one.xlsx", two = folder.path / "two.xlsx";
  write_bytes(two, "an old file");
  write_small(one);
  write_small(two);
  BOOST_TEST(folder.entries() == 2u);
  BOOST_TEST((bytes(one) == bytes(two)));
  write_small(two, "another name");
  BOOST_TEST((bytes(one) != bytes(two)));
}

BOOST_AUTO_TEST_CASE(a_disk_that_fills_up_is_noticed_and_the_old_file_stays) {
  const Folder folder;
  const fs::path file = folder.path / "a.xlsx";
  write_bytes(file, "an old file");
  for (const rlim_t most : {rlim_t{0}, rlim_t{1000}, rlim_t{3000}, rlim_t{5000}, rlim_t{9000}}) {
    const SmallFiles small(most);
    BOOST_CHECK_EXCEPTION(write_small(file), WorkbookRefused,
                          [&](const auto& refused) { return names_the_file(refused, file); });
  }
  BOOST_TEST(bytes(file) == "an old file");
  BOOST_TEST(folder.entries() == 1u);
}

BOOST_AUTO_TEST_CASE(reading_back_finds_what_is_missing_or_changed) {
  const Folder folder;
  const fs::path file = folder.path / "a.xlsx", broken = folder.path / "b.xlsx";
  write_small(file);
  const std::string whole = bytes(file);
  BOOST_CHECK_NO_THROW(check_workbook(file, {{200, 400}}));
  BOOST_CHECK_THROW(check_workbook(file, {{201, 400}}), std::runtime_error);
  BOOST_CHECK_THROW(check_workbook(file, {{200, 399}}), std::runtime_error);
  BOOST_CHECK_THROW(check_workbook(file, {{200, 400}, {1, 1}}), std::runtime_error);
  BOOST_CHECK_THROW(check_workbook(folder.path / "none.xlsx", {}), std::runtime_error);
  for (const std::size_t length : {std::size_t{0}, std::size_t{10}, whole.size() / 2, whole.size() - 1}) {
    write_bytes(broken, whole.substr(0, length));
    BOOST_CHECK_THROW(check_workbook(broken, {{200, 400}}), std::runtime_error);
  }
  // One changed byte in the packed rows: the largest part is the sheet, so its middle is within it.
  const std::size_t sheet = whole.find("xl/worksheets/sheet1.xml");
  BOOST_REQUIRE(sheet != std::string::npos);
  std::string changed = whole;
  changed[sheet + 300] = static_cast<char>(changed[sheet + 300] ^ 0x10);
  write_bytes(broken, changed);
  BOOST_CHECK_THROW(check_workbook(broken, {{200, 400}}), std::runtime_error);
}

BOOST_AUTO_TEST_CASE(days_are_read_strictly) {
  BOOST_TEST(midnight_of("2026-10-04").value() == 1791072000);  // date -u -d 2026-10-04 +%s
  BOOST_TEST(midnight_of("2026-10-04T23:59:00+02:00").value() == 1791072000);
  for (const char* none :
       {"", "2026-10", "2026-13-01", "2026-02-30", "04.10.2026", "2026-1a-04", "20 6-10-04"})
    BOOST_TEST(!midnight_of(none).has_value(), none);
}

BOOST_AUTO_TEST_SUITE_END()
