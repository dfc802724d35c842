#include "cli/settings.hpp"

#include <algorithm>

#include "cli/bands_text.hpp"

namespace steelyard::cli {
namespace {

std::string any_line(std::string_view value) {
  constexpr std::size_t longest = 500;
  if (value.size() > longest) return "it must be at most 500 bytes; shorten it";
  if (value.find('\n') != value.npos) return "it must be one line";
  return {};
}

std::string words_fault(std::string_view value) {
  for (const std::string_view known : {"au", "uk", "us", "za", "plain"})
    if (value == known) return {};
  return "it must be au, uk, us, za or plain";
}

std::string paper_fault(std::string_view value) {
  return value == "a4" || value == "letter" ? "" : "it must be a4 or letter";
}

std::string bands_fault(std::string_view value) {
  return read_bands(value).fault;
}

}  // namespace

const std::vector<SettingKind>& setting_kinds() {
  static const std::vector<SettingKind> all{
      {"provider.name", "who weighs and issues the reports", false, any_line},
      {"provider.address", "where", false, any_line},
      {"provider.contact", "telephone, e-mail", false, any_line},
      {"provider.identity", "business or licence number", false, any_line},
      {"words", "the region's words and units: au, uk, us, za, plain", true, words_fault},
      {"paper", "a4 or letter", true, paper_fault},
      {"overload_bands", "by which an audit sorts what is over", false, bands_fault},
  };
  return all;
}

const SettingKind* find_setting_kind(std::string_view name) {
  const auto& all = setting_kinds();
  const auto found = std::find_if(all.begin(), all.end(), [name](const auto& kind) { return kind.name == name; });
  return found == all.end() ? nullptr : &*found;
}

std::optional<std::string> StoredSettings::value(std::string_view name, std::string_view client) const {
  const auto* kind = find_setting_kind(name);
  const auto of = [&](std::string_view whose) -> const store::Setting* {
    for (const store::Setting& one : settings_)
      if (one.name == name && one.client == whose && kind && kind->fault(one.value).empty()) return &one;
    return nullptr;
  };
  const store::Setting* found = client.empty() ? nullptr : of(client);
  if (!found) found = of({});
  if (!found) return std::nullopt;
  return found->value;
}

assess::OverloadBands StoredSettings::bands() const {
  const auto text = value("overload_bands");
  return text ? read_bands(*text).bands : assess::OverloadBands{};
}

rig::Provider StoredSettings::provider() const {
  const auto text = [this](std::string_view name) { return value(name).value_or(""); };
  return {text("provider.name"), text("provider.address"), text("provider.contact"), text("provider.identity")};
}

StoredSettings settings_of(const std::filesystem::path& store) {
  std::error_code error;
  if (!std::filesystem::exists(store, error)) return {};
  try {
    return StoredSettings(store::Store::open(store, store::Access::read_only).settings());
  } catch (const store::Refused&) {
    return {};  // whoever needs the store itself is told why
  }
}

}  // namespace steelyard::cli
