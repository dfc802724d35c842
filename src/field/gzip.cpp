#include "field/gzip.hpp"

#include <zlib.h>

#include <stdexcept>

namespace steelyard::field {

std::string gzip(std::string_view bytes) {
  constexpr int with_gzip_header = 15 + 16;  // zlib.h: the largest window, a gzip header in place of zlib's own
  z_stream stream{};
  if (deflateInit2(&stream, Z_BEST_COMPRESSION, Z_DEFLATED, with_gzip_header, 8, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::runtime_error("zlib cannot begin");
  std::string out(deflateBound(&stream, static_cast<uLong>(bytes.size())), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));  // zlib does not write there
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const int end = deflate(&stream, Z_FINISH);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  if (end != Z_STREAM_END) throw std::runtime_error("zlib cannot finish");
  return out;
}

}  // namespace steelyard::field
