// An address as a QR code in letters, for a phone to read off a terminal.
//
// Source: ISO/IEC 18004, by libqrencode. Errors: none; what cannot be made is an empty text.
#pragma once

#include <string>
#include <string_view>

namespace steelyard::field {

/// Lines of half blocks (utf8) or of pairs of letters (ASCII), each ended by a line feed, 80 columns at most,
/// with a quiet zone of 4 modules (2 where 4 do not fit). `colour`, for terminals only: black on white by
/// escape sequences, whatever the terminal's own colours; without it dark modules are ink. Empty: the address
/// is too long to be shown, or empty.
std::string qr_text(std::string_view address, bool utf8, bool colour = false);

}  // namespace steelyard::field
