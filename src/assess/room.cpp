#include "assess/room.hpp"

#include <algorithm>

#include "assess/room_response.hpp"

namespace steelyard::assess {
namespace {

/// A bound beyond this is what rounding makes of a limit that does not answer to the load at all.
constexpr double beyond_any_load = 1e6;  // kg

/// What is left of a limit after adding m, times c + d·m: now + per_kg·m. It ends where c + d·m does.
struct Slack {
  double now = 0, per_kg = 0;
  std::optional<double> end;

  Slack(const Response& at, double edge, bool minimum) {
    const double sign = minimum ? -1 : 1;
    now = sign * (edge * at.c - at.a);
    per_kg = sign * (edge * at.d - at.b);
    if (at.d < 0) end = -at.c / at.d;
  }

  /// Where it is used up; nothing: never.
  [[nodiscard]] std::optional<double> lasts() const {
    std::optional<double> out = end;
    if (per_kg < 0) out = std::min(out.value_or(beyond_any_load), std::max(0.0, now) / -per_kg);
    if (out && *out >= beyond_any_load) out.reset();
    return out;
  }

  /// From where on there is some, of a limit that is outside now; nothing: never.
  [[nodiscard]] std::optional<double> begins() const {
    if (per_kg <= 0) return std::nullopt;
    const double from = -now / per_kg;
    if (from >= end.value_or(beyond_any_load)) return std::nullopt;
    return from;
  }
};

void tighten(std::optional<Bound>& bound, const Bound& candidate, const Assessment& assessment) {
  const bool same = bound && candidate.kg == bound->kg;
  const bool governs = same && assessment.rows[candidate.row].governs && !assessment.rows[bound->row].governs;
  if (!bound || candidate.kg < bound->kg || governs) bound = candidate;
}

class Loading {
 public:
  Loading(const rig::Session& session, const reconcile::Findings& findings, const Assessment& assessment,
          const Place& place)
      : assessment_(assessment), addition_(session, findings, place) {
    room_.place = place;
  }

  Room room() {
    for (std::size_t i = 0; i < assessment_.rows.size(); ++i)
      if (assessment_.rows[i].travels) consider(i);
    conclude();
    return std::move(room_);
  }

 private:
  void consider(std::size_t index) {
    const Row& row = assessment_.rows[index];
    if (!row.value || !row.rating) {
      room_.left_out.push_back({row.limit, index, row.reason.value_or("not weighed")});
      return;
    }
    const bool outside = *row.margin < 0;
    const Told told = addition_.told(row);
    if (outside) breached(index, told);
    if (told.responses.empty()) {
      room_.left_out.push_back({row.limit, index, told.reason});
      return;
    }
    if (!row.advice) told_ratings_ = true;
    if (outside) return;
    for (const Response& response : told.responses) inside(index, response, told.supposed);
  }

  void inside(std::size_t index, const Response& response, bool supposed) {
    const Row& row = assessment_.rows[index];
    const auto lasts = Slack(response, *row.rating, row.minimum).lasts();
    if (lasts)
      tighten(row.advice ? room_.advice : within_, {*lasts, row.limit, index, supposed}, assessment_);
    if (row.advice) return;
    const double guarded = *row.rating + (row.minimum ? 2 : -2) * response.u;
    const Slack in_hand(response, guarded, row.minimum);
    const auto surely = row.outcome != Outcome::pass || in_hand.now < 0 ? 0.0 : in_hand.lasts();
    if (surely) tighten(room_.sure, {*surely, row.limit, index, supposed}, assessment_);
  }

  /// Whatever adding does to it, nothing may be added as things are.
  void breached(std::size_t index, const Told& told) {
    const Row& row = assessment_.rows[index];
    if (row.advice) return tighten(room_.advice, {0, row.limit, index, false}, assessment_);
    Outside& out = room_.outside.emplace_back();
    out.limit = row.limit;
    out.row = index;
    out.supposed = told.supposed;
    out.mends = !told.responses.empty();
    std::optional<double> from = 0.0;
    for (const Response& at : told.responses) {
      const Slack slack(at, *row.rating, row.minimum);
      if (slack.now >= 0) continue;
      const double rises = at.b * at.c - at.a * at.d;
      out.mends = out.mends && (row.minimum ? rises > 0 : rises < 0);
      const auto begins = slack.begins();
      from = from && begins ? std::optional(std::max(*from, *begins)) : std::nullopt;
    }
    if (out.mends) out.inside_from_kg = from;
  }

  void conclude() {
    room_.already_outside = !room_.outside.empty();
    if (room_.already_outside) {
      const auto worse = [this](const Outside& a, const Outside& b) {
        return assessment_.rows[a.row].outcome < assessment_.rows[b.row].outcome;
      };
      const Outside& worst = *std::max_element(room_.outside.begin(), room_.outside.end(), worse);
      room_.most = Bound{0, worst.limit, worst.row, false};
      room_.sure = room_.most;
      room_.mended = mended();
      return;
    }
    room_.most = within_;
    room_.unlimited = !within_ && told_ratings_;
    if (within_ || told_ratings_) return;
    room_.reason = room_.left_out.empty() ? "the sheet gives no rating for the rig as it travels"
                                          : "no rating could be looked at; " + room_.left_out.front().reason;
  }

  std::optional<Mended> mended() const {
    Mended out;
    for (const Outside& one : room_.outside) {
      if (!one.inside_from_kg) return std::nullopt;
      out.from_kg = std::max(out.from_kg, *one.inside_from_kg);
    }
    out.until = within_;
    if (out.until && out.until->kg < out.from_kg) return std::nullopt;
    return out;
  }

  const Assessment& assessment_;
  Addition addition_;
  Room room_;
  std::optional<Bound> within_;  // of the ratings that are not outside now
  bool told_ratings_ = false;
};

}  // namespace

std::vector<Room> room_to_load(const rig::Session& session, const reconcile::Findings& findings,
                               const Assessment& assessment, const std::vector<Place>& places) {
  std::vector<Room> out;
  out.reserve(places.size());
  for (const Place& place : places) {
    if (place.vehicle == rig::Vehicle::tow || session.rig.trailer) {
      out.push_back(Loading(session, findings, assessment, place).room());
      continue;
    }
    Room& room = out.emplace_back();
    room.place = place;
    room.reason = "the session has no trailer";
  }
  return out;
}

}  // namespace steelyard::assess
