// The store's settings by name: which there are, what values they take, and what stands.
//
// Errors: none here but those of the store. A value that an older program would not have taken is left out when read.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "assess/overload_bands.hpp"
#include "rig/provider.hpp"
#include "store/store.hpp"

namespace steelyard::cli {

struct SettingKind {
  std::string_view name;     // provider.name, words, …
  std::string_view meaning;  // one line
  bool for_a_client = false; // may be set for one client apart
  /// What is wrong with a value, with the remedy; empty where nothing is.
  std::string (*fault)(std::string_view value);
};

const std::vector<SettingKind>& setting_kinds();
const SettingKind* find_setting_kind(std::string_view name);

/// The settings that stand, asked by name.
class StoredSettings {
 public:
  StoredSettings() = default;  // of no store: nothing is set
  explicit StoredSettings(std::vector<store::Setting> settings) : settings_(std::move(settings)) {}

  [[nodiscard]] rig::Provider provider() const;
  /// None where none are set.
  [[nodiscard]] assess::OverloadBands bands() const;
  /// For that client, else for all, else nothing.
  [[nodiscard]] std::optional<std::string> value(std::string_view name, std::string_view client = {}) const;

 private:
  std::vector<store::Setting> settings_;
};

/// The settings of a store that may not be there: a sheet needs none.
StoredSettings settings_of(const std::filesystem::path& store);

}  // namespace steelyard::cli
