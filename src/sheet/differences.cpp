// Both canonical forms side by side; they hold what was given, so a default on one side shows as "nothing".
#include "sheet/json_text.hpp"
#include "sheet/sheet.hpp"

namespace steelyard::sheet {
namespace {

class Comparison {
 public:
  explicit Comparison(std::size_t most) : most_(most) {}

  void compare(const json* stored, const json* sheet, const std::string& path) {
    if (stored && sheet && *stored == *sheet) return;
    if (stored && sheet && stored->is_object() && sheet->is_object())
      return compare_objects(*stored, *sheet, path);
    if (stored && sheet && stored->is_array() && sheet->is_array())
      return compare_lists(*stored, *sheet, path);
    if (++found_ <= most_)
      lines_.push_back(path + ": " + said(stored) + " in the store, " + said(sheet) + " in the sheet");
  }

  std::vector<std::string> take() {
    if (found_ > most_) lines_.push_back("and " + std::to_string(found_ - most_) + " more");
    return std::move(lines_);
  }

 private:
  void compare_objects(const json& stored, const json& sheet, const std::string& path) {
    json keys = stored;  // the union of both sets of keys, sorted
    keys.update(sheet);
    for (const auto& [key, unused] : keys.items()) {
      std::string inner = path;
      append_key(inner, key);
      compare(member(stored, key), member(sheet, key), inner);
    }
  }

  void compare_lists(const json& stored, const json& sheet, const std::string& path) {
    for (std::size_t i = 0; i < std::max(stored.size(), sheet.size()); ++i) {
      std::string inner = path;
      append_index(inner, i);
      compare(i < stored.size() ? &stored[i] : nullptr, i < sheet.size() ? &sheet[i] : nullptr, inner);
    }
  }

  static const json* member(const json& object, const std::string& key) {
    const auto found = object.find(key);
    return found == object.end() ? nullptr : &*found;
  }

  static std::string said(const json* value) {
    if (!value) return "nothing";
    if (value->is_string()) return in_quotes(value->get_ref<const std::string&>());
    std::string text;
    append_json(text, *value);
    return shown(text);
  }

  std::size_t most_, found_ = 0;
  std::vector<std::string> lines_;
};

}  // namespace

std::vector<std::string> differences(const rig::Session& stored, const rig::Session& sheet,
                                     std::size_t most) {
  const json before = json::parse(write(stored)), after = json::parse(write(sheet));
  Comparison comparison(most);
  comparison.compare(&before, &after, "");
  return comparison.take();
}

}  // namespace steelyard::sheet
