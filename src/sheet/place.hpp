// Where in a sheet something stands: "states[1].readings[3].load".
//
// A Place points at its parent and costs nothing until its text is asked for, which only faults and extras
// do. A parent must outlive its children, so children can be made from named places only.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace steelyard::sheet {

class Place {
 public:
  constexpr Place() = default;  // the sheet itself; its text is empty

  constexpr Place operator[](std::string_view key) const& { return Place(this, key, 0, false); }
  constexpr Place operator[](std::size_t index) const& { return Place(this, {}, index, true); }
  void operator[](std::string_view key) const&& = delete;
  void operator[](std::size_t index) const&& = delete;

  [[nodiscard]] std::string text() const;

 private:
  constexpr Place(const Place* parent, std::string_view key, std::size_t index, bool is_index)
      : parent_(parent), key_(key), index_(index), is_index_(is_index) {}

  const Place* parent_ = nullptr;
  std::string_view key_;
  std::size_t index_ = 0;
  bool is_index_ = false;
};

/// `text` fit for a message: control characters and broken UTF-8 escaped, cut after `longest` bytes, no
/// quotes added.
std::string shown(std::string_view text, std::size_t longest = 60);

/// The same in double quotes.
std::string in_quotes(std::string_view text);

/// Appends one step of a path to `path`.
void append_key(std::string& path, std::string_view key);
void append_index(std::string& path, std::size_t index);

}  // namespace steelyard::sheet
