// A file that is made anew: written beside under another name, written through to the disk, and given its name last; in
// place of another only where that is asked for. Errors: Refusal or store::Refused, naming the file; then nothing of it is left.
#pragma once

#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>

#include "store/placing.hpp"

namespace steelyard::cli {

class NewFile {
 public:
  enum class Existing { refused, replaced };
  /// Refused at once where `name` is taken, unless what is there is to be replaced.
  explicit NewFile(std::filesystem::path name, Existing existing = Existing::refused);
  void write(std::string_view bytes);
  /// Without it nothing is left.
  void finish();

 private:
  void check() const;
  std::filesystem::path name_;
  bool replace_ = false;
  store::Unfinished unfinished_;
  std::ofstream out_;
};

void write_new_file(const std::filesystem::path& name, std::string_view bytes);

}  // namespace steelyard::cli
