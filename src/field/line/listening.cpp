#include "field/line/listening.hpp"

#include <utility>

namespace steelyard::field {
namespace {

/// A pattern that takes too long is not asked again at once, so that the rest of the program has its turn.
constexpr std::chrono::seconds rest_after_limit{1};

}  // namespace

LineListening::LineListening(const LineOptions& options, LineCallback callback, LineTimes times)
    : callback_(std::move(callback)),
      times_(times),
      pattern_(options),
      cutter_(options.end),
      steady_(options),
      pace_(times.pace) {}

void LineListening::opened(Instant now) {
  cutter_.start_again();
  steady_.start_again();
  pace_.start_again();
  last_miss_.clear();
  heard_without_load_.reset();
  last_heard_ = last_load_ = now;
}

void LineListening::closed(std::string what) {
  tell(LineTrouble::Kind::closed, std::move(what));
}

void LineListening::heard(std::string_view bytes, Instant now) {
  if (now - last_heard_ >= times_.pause) cutter_.paused();
  last_heard_ = now;
  if (!heard_without_load_) heard_without_load_ = now;
  cutter_.feed(bytes, [&](std::string_view line) { take_line(line, now); });
}

void LineListening::take_line(std::string_view line, Instant now) {
  if (now < deaf_until_) return;
  const LineResult result = pattern_.read(line);
  if (!result.figure) return missed(result.miss, now);
  trouble_.reset();
  last_miss_.clear();
  heard_without_load_.reset();
  last_load_ = now;
  const bool stable = steady_.stable(*result.figure, now);
  const LineLoad load{.load = result.figure->figure,
                      .unit = result.figure->unit,
                      .stable = stable,
                      .time = std::chrono::system_clock::now()};
  if (const auto told = pace_.offer(load, stable, now)) callback_(*told);
}

void LineListening::missed(const LineMiss& miss, Instant now) {
  last_miss_ = miss.what;
  if (miss.why == LineMiss::Why::no_match)
    return;  // a date, a heading: lines without a load are no fault by themselves
  steady_.start_again();
  if (miss.why == LineMiss::Why::limit) {
    deaf_until_ = now + rest_after_limit;
    return tell(LineTrouble::Kind::not_understood, miss.what);
  }
  // Where loads come as well, the line sends more than one figure, and one of them is enough.
  if (trouble_ || now - last_load_ >= times_.silence / 5) tell(LineTrouble::Kind::not_taken, miss.what);
}

bool LineListening::told_of_nothing_heard() const {
  return trouble_ &&
         (trouble_->kind == LineTrouble::Kind::silent || trouble_->kind == LineTrouble::Kind::closed);
}

std::string LineListening::not_understood_text() {
  if (cutter_.was_too_long() || last_miss_.empty())
    return "bytes are heard, but no line of 256 or fewer; look at --line-end, --line-speed and "
           "--line-framing";
  return last_miss_;
}

void LineListening::look(Instant now) {
  if (const auto load = pace_.take(now)) callback_(*load);
  using Kind = LineTrouble::Kind;
  const bool quiet = now - last_heard_ >= times_.silence;
  const bool in_vain = heard_without_load_ && now - *heard_without_load_ >= times_.silence;
  const auto seconds = std::chrono::duration_cast<std::chrono::seconds>(times_.silence).count();
  if (quiet) {
    heard_without_load_.reset();
    tell(Kind::silent, std::string("nothing heard for ") + std::to_string(seconds) +
                           " s; look whether the scale is on, sends, and is plugged in");
  } else if (trouble_ ? in_vain && told_of_nothing_heard() : now - last_load_ >= times_.silence) {
    tell(Kind::not_understood, not_understood_text());
  }
}

std::optional<LineListening::Instant> LineListening::next() const {
  std::optional<Instant> first = pace_.due();
  const auto also = [&](Instant at) {
    if (!first || at < *first) first = at;
  };
  const bool silent = trouble_ && trouble_->kind == LineTrouble::Kind::silent;
  if (!trouble_) also(last_load_ + times_.silence);
  if (!silent || heard_without_load_) also(last_heard_ + times_.silence);
  if (told_of_nothing_heard() && heard_without_load_) also(*heard_without_load_ + times_.silence);
  return first;
}

/// The same kind of trouble is told once, but for a device that cannot be opened now for another reason.
void LineListening::tell(LineTrouble::Kind kind, std::string what) {
  if (trouble_ && trouble_->kind == kind && (kind != LineTrouble::Kind::closed || trouble_->what == what))
    return;
  pace_.start_again();
  trouble_ = LineTrouble{.kind = kind, .what = std::move(what), .time = std::chrono::system_clock::now()};
  callback_(*trouble_);
}

}  // namespace steelyard::field
