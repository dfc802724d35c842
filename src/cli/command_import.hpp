// steelyard import: checks sheets and stores them; one transaction a file (one for all .csv files), every fault told with its place.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"

namespace steelyard::cli {

class CommandImport : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  /// False where the file was refused; nothing of it is stored then.
  bool import_file(Streams& streams, const std::string& name);
  /// The same of all .csv files at once, which belong together.
  bool import_csv(Streams& streams);
  StoreOption store_;
  JsonOption json_;
  std::vector<std::string> files_, csv_files_;
};

}  // namespace steelyard::cli
