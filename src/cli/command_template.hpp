// steelyard template: the workbook, or the CSV files, in which weighings are typed to be imported.
#pragma once

#include "cli/command.hpp"
#include "cli/options.hpp"

namespace steelyard::cli {

class CommandTemplate : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  [[nodiscard]] std::vector<std::string> write_csv() const;
  JsonOption json_;
  std::string to_, csv_to_, paper_;
};

}  // namespace steelyard::cli
