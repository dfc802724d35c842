#include "cli/new_file.hpp"

#include "cli/command.hpp"

namespace fs = std::filesystem;

namespace steelyard::cli {

NewFile::NewFile(fs::path name, Existing existing) : name_(std::move(name)), replace_(existing == Existing::replaced) {
  std::error_code error;
  if (name_.empty()) throw Refusal("a file without a name cannot be made; give a name");
  if (!replace_ && fs::exists(fs::symlink_status(name_, error)))
    throw Refusal(name_.string() + ": is there already, and is not replaced; give another name or move it away");
  const fs::path beside = store::unfinished_name(name_);
  store::make_empty_file(beside, name_);
  unfinished_.path = beside;
  out_.open(beside, std::ios::binary | std::ios::trunc);
  check();
}

void NewFile::check() const {
  if (!out_) throw Refusal(name_.string() + ": could not be written whole; free some space or name another folder");
}

void NewFile::write(std::string_view bytes) {
  out_.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  check();
}

void NewFile::finish() {
  out_.close();
  check();
  store::sync_file(unfinished_.path, name_);
  store::put_in_place(unfinished_.path, name_, replace_);
}

void write_new_file(const fs::path& name, std::string_view bytes) {
  NewFile file(name);
  file.write(bytes);
  file.finish();
}

}  // namespace steelyard::cli
