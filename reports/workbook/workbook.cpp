#include "reports/workbook/workbook.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <system_error>

#include "reports/workbook/readback.hpp"
#include "reports/workbook/state.hpp"
#include "reports/workbook/text.hpp"

namespace steelyard::reports {
namespace {

constexpr std::time_t turn_of_the_year_2000 = 946684800;

/// A new empty file beside the output, so that the rename at the end stays within one file system.
std::filesystem::path claim_temporary(const Workbook::State& state);

/// The library's own words for an error, without their full stop.
std::string words_of(lxw_error error) {
  std::string words = lxw_strerror(error);
  if (words.ends_with('.')) words.pop_back();
  return words;
}

std::string reason(int code) {
  return std::error_code(code, std::generic_category()).message();
}

/// Has the disk keep a file or a folder: 0, or the error's code.
int keep_on_disk(const std::filesystem::path& path, int flags) {
  const int file = ::open(path.c_str(), flags | O_CLOEXEC);
  if (file < 0) return errno;
  const int code = ::fsync(file) == 0 ? 0 : errno;
  ::close(file);
  return code;
}

std::uint8_t border(Rule rule) {
  switch (rule) {
    case Rule::hair:
      return LXW_BORDER_HAIR;
    case Rule::thin:
      return LXW_BORDER_THIN;
    case Rule::medium:
      return LXW_BORDER_MEDIUM;
    case Rule::none:
      break;
  }
  return LXW_BORDER_NONE;
}

std::uint8_t across(Align align) {
  if (align == Align::right) return LXW_ALIGN_RIGHT;
  return align == Align::centre ? LXW_ALIGN_CENTER : LXW_ALIGN_LEFT;
}

std::uint8_t upright(Upright align) {
  if (align == Upright::bottom) return LXW_ALIGN_VERTICAL_BOTTOM;
  return align == Upright::middle ? LXW_ALIGN_VERTICAL_CENTER : LXW_ALIGN_VERTICAL_TOP;
}

}  // namespace

Workbook::State::~State() {
  if (book) lxw_workbook_free(book);
  std::error_code ignored;
  if (!temporary.empty()) std::filesystem::remove(temporary, ignored);
}

void Workbook::State::refuse(const std::string& why) const {
  throw WorkbookRefused("the workbook " + to.string() + " was not written: " + why);
}

void Workbook::State::check(lxw_error error, std::string_view doing) const {
  if (error != LXW_NO_ERROR) refuse(std::string(doing) + ": " + words_of(error));
}

lxw_format* Workbook::State::format(const Style& style) {
  const auto known = formats.find(style);
  if (known != formats.end()) return known->second;
  lxw_format* made = workbook_add_format(book);
  if (!made) refuse("out of memory");
  format_set_font_name(made, "Arial");
  format_set_font_size(made, style.size);
  format_set_font_color(made, style.ink == 0 ? static_cast<lxw_color_t>(LXW_COLOR_BLACK) : style.ink);
  if (style.bold) format_set_bold(made);
  if (style.italic) format_set_italic(made);
  if (style.struck) format_set_font_strikeout(made);
  if (style.wrap) format_set_text_wrap(made);
  format_set_align(made, across(style.align));
  format_set_align(made, upright(style.upright));
  if (style.indent > 0) format_set_indent(made, static_cast<std::uint8_t>(style.indent));
  if (style.fill) {
    format_set_pattern(made, LXW_PATTERN_SOLID);
    format_set_bg_color(made, *style.fill == 0 ? static_cast<lxw_color_t>(LXW_COLOR_BLACK) : *style.fill);
  }
  format_set_top(made, border(style.above));
  format_set_bottom(made, border(style.below));
  if (style.above != Rule::none) format_set_top_color(made, style.rule_colour);
  if (style.below != Rule::none) format_set_bottom_color(made, style.rule_colour);
  if (!style.number_format.empty()) format_set_num_format(made, style.number_format.c_str());
  formats.emplace(style, made);
  return made;
}

namespace {

std::filesystem::path claim_temporary(const Workbook::State& state) {
  for (int attempt = 0; attempt < 1000; ++attempt) {
    const std::string name =
        ".steelyard-" + std::to_string(::getpid()) + '-' + std::to_string(attempt) + ".part";
    const std::filesystem::path path = std::filesystem::path(state.folder) / name;
    const int file = ::open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
    if (file >= 0) {
      ::close(file);
      return path;
    }
    if (errno != EEXIST)
      state.refuse("its folder cannot be written (" + reason(errno) + "); name another, or make it writable");
  }
  state.refuse("its folder is full of unfinished .steelyard-….part files; remove them");
}

}  // namespace

Workbook::Workbook(std::filesystem::path to, const Properties& properties, Growth growth)
    : state_(std::make_unique<State>()) {
  State& state = *state_;
  state.to = std::move(to);
  state.folder = state.to.has_parent_path() ? state.to.parent_path().string() : std::string(".");
  std::error_code ignored;
  if (!state.to.has_filename() || std::filesystem::is_directory(state.to, ignored))
    state.refuse("this is a folder; add a file name that ends in .xlsx");
  if (!std::filesystem::is_directory(state.folder, ignored))
    state.refuse("its folder is not there; make the folder first, or name another");
  state.temporary = claim_temporary(state);

  state.growth = growth;
  lxw_workbook_options options{};
  options.tmpdir = state.folder.data();
  options.constant_memory = growth == Growth::row_by_row ? LXW_TRUE : LXW_FALSE;
  state.book = workbook_new_opt(state.temporary.c_str(), &options);
  if (!state.book) state.refuse("out of memory");

  // The standard font gives column widths their unit. The library's own is not on every machine, and its
  // stand-ins are up to a third wider; Arial's stand-ins are as wide as Arial. The first format of the file
  // is the standard one.
  lxw_format* standard = STAILQ_FIRST(state.book->formats);
  format_set_font_name(standard, "Arial");
  format_set_font_size(standard, 10);

  std::string title = presentable(properties.title, 255), subject = presentable(properties.subject, 255);
  std::string author = presentable(properties.author, 255), comments = presentable(properties.comments, 255);
  lxw_doc_properties document{};
  document.title = title.data();
  document.subject = subject.data();
  document.author = author.data();
  document.comments = comments.data();
  document.created = properties.created != 0 ? properties.created : turn_of_the_year_2000;
  state.check(workbook_set_properties(state.book, &document), "setting the properties");
}

Workbook::~Workbook() = default;

Sheet Workbook::add_sheet(std::string_view name) {
  const std::string text = presentable(name, 31);
  if (text != name || workbook_validate_sheet_name(state_->book, text.c_str()) != LXW_NO_ERROR)
    throw std::invalid_argument("add_sheet: not a sheet's name, or there already: " + text);
  Sheet::State& sheet = state_->sheets.emplace_back();
  sheet.book = state_.get();
  sheet.name = text;
  sheet.sheet = workbook_add_worksheet(state_->book, text.c_str());
  if (!sheet.sheet) state_->refuse("out of memory");
  return Sheet(&sheet);
}

void Workbook::close() {
  State& state = *state_;
  if (!state.book) throw std::logic_error("Workbook::close: closed already");
  lxw_workbook* book = std::exchange(state.book, nullptr);  // workbook_close frees it, whatever comes of it
  const lxw_error result = workbook_close(book);
  if (result != LXW_NO_ERROR) state.refuse(words_of(result) + "; is the disk full? Nothing was left behind");
  std::vector<SheetCount> expected;
  for (const Sheet::State& sheet : state.sheets) expected.push_back(sheet.count());
  try {
    check_workbook(state.temporary, expected);
  } catch (const std::runtime_error& error) {
    state.refuse(std::string(error.what()) + "; is the disk full? Nothing was left behind");
  }
  if (const int code = keep_on_disk(state.temporary, O_RDONLY))
    state.refuse("the disk did not keep it: " + reason(code));
  std::error_code error;
  std::filesystem::rename(state.temporary, state.to, error);
  if (error) state.refuse("it cannot be given its name: " + error.message());
  state.temporary.clear();
  // Some file systems cannot sync a folder (EINVAL); the file itself is kept already.
  if (const int code = keep_on_disk(state.folder, O_RDONLY | O_DIRECTORY); code != 0 && code != EINVAL)
    throw WorkbookRefused("the workbook " + state.to.string() +
                          " is written, but the disk may lose its name: " + reason(code));
}

std::optional<std::time_t> midnight_of(std::string_view date) {
  const auto digits = [date](std::size_t at, std::size_t count) {
    int value = 0;
    for (const char c : date.substr(at, count))
      value = c >= '0' && c <= '9' && value >= 0 ? value * 10 + (c - '0') : -1;
    return value;
  };
  if (date.size() < 10 || date[4] != '-' || date[7] != '-') return std::nullopt;
  const int year = digits(0, 4), month = digits(5, 2), day = digits(8, 2);
  if (year < 0 || month < 0 || day < 0) return std::nullopt;
  const std::chrono::year_month_day calendar{std::chrono::year(year),
                                             std::chrono::month(static_cast<unsigned>(month)),
                                             std::chrono::day(static_cast<unsigned>(day))};
  if (!calendar.ok()) return std::nullopt;
  return std::chrono::system_clock::to_time_t(std::chrono::sys_days(calendar));
}

}  // namespace steelyard::reports
