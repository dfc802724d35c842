// steelyard field: the page for entering readings beside the rig, served until it is told to end.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/command.hpp"
#include "cli/options.hpp"
#include "field/http/server.hpp"
#include "field/line/options.hpp"

namespace steelyard::cli {

class CommandField : public Command {
 public:
  [[nodiscard]] About about() const override;
  Exit run(Streams& streams) override;

 protected:
  void describe(boost::program_options::options_description& options) override;
  void take(const std::vector<std::string>& words) override;

 private:
  void take_line();
  [[nodiscard]] std::string listening_at() const;
  [[nodiscard]] field::http::Options server_options() const;
  void announce(Streams& streams, unsigned port, const std::optional<std::string>& code) const;

  StoreOption store_;
  WordsOption words_;
  JsonOption json_;
  std::string listen_, port_text_, certificate_, key_;
  std::vector<std::string> hosts_;
  std::optional<field::LineOptions> line_;
  std::string line_device_, line_pattern_, line_speed_, line_framing_, line_unit_, line_end_, line_decimal_, line_stable_for_,
      line_within_;
  unsigned port_ = 0;
};

}  // namespace steelyard::cli
