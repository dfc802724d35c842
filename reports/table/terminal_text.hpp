// Text for a terminal, as the tables use it: the helpers are every report's and stand with the words. No units, no
// errors.
#pragma once

#include "reports/words/terminal_text.hpp"
