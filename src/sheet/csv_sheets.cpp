#include "sheet/csv_sheets.hpp"

#include <algorithm>
#include <set>
#include <unordered_map>

#include "rig/words.hpp"
#include "sheet/csv_cells.hpp"
#include "sheet/csv_session.hpp"
#include "sheet/decode.hpp"

namespace steelyard::sheet {
namespace {

using ByName = std::unordered_map<std::string_view, std::vector<CsvRow>>;

class CsvReader {
 public:
  explicit CsvReader(const std::vector<CsvFile>& files) : files_(files) {}

  ReadCsv run(const CsvProgress& progress);

 private:
  bool open();
  bool needed_files_are_there();
  void index_sessions();
  void index_vehicles();
  void index_scales();
  void index_limits();
  void index_readings();
  void look_at_cells(const CsvRow& row);
  [[nodiscard]] CsvRow vehicle(const CsvRow& session, std::string_view column, rig::Vehicle wanted);
  [[nodiscard]] CsvSession rows_of(const CsvRow& session);
  [[nodiscard]] std::vector<CsvRow> scales_of(std::string_view name, const std::vector<CsvRow>& readings) const;
  std::optional<rig::Session> read_one(const CsvSession& rows);
  [[nodiscard]] std::vector<Fault> faults_in_words() const;
  [[nodiscard]] std::string place_in_words(const CellPlace& at) const;
  [[nodiscard]] std::string in_files(const CsvAssembly& assembly, const CellPlace& at, std::string what) const;

  template <class Each>
  void each_row(CsvKind kind, Each each) {
    for (const CsvSource& source : sources_)
      if (source.kind() == kind)
        for (const CsvTable::Row& row : source.rows()) each(CsvRow{&source, &row});
  }

  const std::vector<CsvFile>& files_;
  CellFaults all_;
  CsvFaults faults_{all_};
  std::deque<CsvSource> sources_;
  std::vector<CsvRow> sessions_;
  ByName session_, vehicle_, scales_of_session_, limits_of_vehicle_, limits_of_session_, readings_;
  std::vector<CsvRow> common_scales_;
  RowUnits units_;
};

bool CsvReader::open() {
  bool all = true;
  for (std::size_t i = 0; i < files_.size(); ++i) all = CsvSource::open(files_[i], i, faults_, sources_) && all;
  return all;
}

bool CsvReader::needed_files_are_there() {
  bool all = true;
  for (const CsvKind kind : {CsvKind::sessions, CsvKind::vehicles, CsvKind::readings}) {
    if (std::any_of(sources_.begin(), sources_.end(), [&](const auto& source) { return source.kind() == kind; }))
      continue;
    all = false;
    all_.add({files_.size(), 0, 0}, "there is no " + std::string(csv_name(kind)) +
                                        " file among these; name all files of an import in one command");
  }
  return all;
}

void CsvReader::index_sessions() {
  each_row(CsvKind::sessions, [&](const CsvRow& row) {
    const std::string_view name = row.source->text(*row.row, "session");
    const CellPlace at = row.source->place(*row.row, "session");
    if (name.empty()) return faults_.cell(at, "is missing; write a name for this session");
    auto& rows = session_[name];
    if (!rows.empty())
      return all_.add(at, in_quotes(name) + " is the name in row " + std::to_string(rows.front().row->number) +
                              " too; one row for each session");
    rows.push_back(row);
    sessions_.push_back(row);
  });
}

void CsvReader::index_vehicles() {
  each_row(CsvKind::vehicles, [&](const CsvRow& row) {
    const std::string_view name = row.source->text(*row.row, "vehicle");
    const std::string_view kind = trimmed(row.source->text(*row.row, "kind"));
    const CellPlace at = row.source->place(*row.row, "vehicle");
    if (name.empty()) return faults_.cell(at, "is missing; write a name for this vehicle");
    if (kind != rig::to_text(rig::Vehicle::tow) && kind != rig::to_text(rig::Vehicle::trailer))
      faults_.cell(row.source->place(*row.row, "kind"), "must be tow or trailer, is " + in_quotes(kind));
    auto& rows = vehicle_[name];
    if (!rows.empty())
      return all_.add(at, in_quotes(name) + " is the name in row " + std::to_string(rows.front().row->number) +
                              " too; give each vehicle its own");
    rows.push_back(row);
    look_at_cells(row);
  });
}

void CsvReader::index_scales() {
  std::unordered_map<std::string_view, CsvRow> common;
  each_row(CsvKind::scales, [&](const CsvRow& row) {
    look_at_cells(row);
    const std::string_view session = row.source->text(*row.row, "session");
    const std::string_view id = row.source->text(*row.row, "id");
    const CellPlace at = row.source->place(*row.row, "session");
    if (id.empty()) return faults_.cell(row.source->place(*row.row, "id"), "is missing; write the scale's name");
    if (!session.empty()) {
      if (!session_.contains(session))
        faults_.cell(at, in_quotes(session) + " is no session of the sessions file; write one, or leave it empty");
      scales_of_session_[session].push_back(row);
      return;
    }
    const auto [first, added] = common.emplace(id, row);
    if (added) return common_scales_.push_back(row);
    all_.add(row.source->place(*row.row, "id"),
             in_quotes(id) + " is the id in row " + std::to_string(first->second.row->number) +
                 " too; give each scale its own, or say of which session it is");
  });
}

void CsvReader::index_limits() {
  each_row(CsvKind::limits, [&](const CsvRow& row) {
    look_at_cells(row);
    const std::string_view session = row.source->text(*row.row, "session");
    const std::string_view vehicle = row.source->text(*row.row, "vehicle");
    const CellPlace at = row.source->place(*row.row, "vehicle");
    if (session.empty() == vehicle.empty())
      return faults_.cell(at, "either the vehicle or the session of a limit must be given, and one of them only");
    if (!vehicle.empty()) {
      if (!vehicle_.contains(vehicle)) faults_.cell(at, in_quotes(vehicle) + " is no vehicle of the vehicles file");
      limits_of_vehicle_[vehicle].push_back(row);
      return;
    }
    if (!session_.contains(session))
      faults_.cell(row.source->place(*row.row, "session"),
                   in_quotes(session) + " is no session of the sessions file");
    limits_of_session_[session].push_back(row);
  });
}

void CsvReader::index_readings() {
  each_row(CsvKind::readings, [&](const CsvRow& row) {
    const std::string_view name = row.source->text(*row.row, "session");
    const CellPlace at = row.source->place(*row.row, "session");
    if (name.empty()) return faults_.cell(at, "is missing; write the session's name in each row");
    auto& rows = readings_[name];
    if (rows.empty() && !session_.contains(name))
      faults_.cell(at, in_quotes(name) + " is no session of the sessions file; add it there, or mend the name");
    rows.push_back(row);
  });
}

/// Values that cannot be read are told even where no session uses the row.
void CsvReader::look_at_cells(const CsvRow& row) {
  json object = json::object();
  for (const CellOf of : {CellOf::object, CellOf::tow, CellOf::trailer})
    row.source->fill(object, *row.row, of, faults_);
}

CsvRow CsvReader::vehicle(const CsvRow& session, std::string_view column, rig::Vehicle wanted) {
  const std::string_view name = session.source->text(*session.row, column);
  const CellPlace at = session.source->place(*session.row, column);
  if (name.empty()) {
    if (wanted == rig::Vehicle::tow)
      faults_.cell(at, "is missing; write the name that the tow vehicle has in the vehicles file");
    return {};
  }
  const auto found = vehicle_.find(name);
  if (found == vehicle_.end()) {
    faults_.cell(at, in_quotes(name) + " is no vehicle of the vehicles file; add it there, or mend the name");
    return {};
  }
  const CsvRow row = found->second.front();
  const std::string_view kind = trimmed(row.source->text(*row.row, "kind"));
  if (kind == rig::to_text(wanted)) return row;
  faults_.cell(at, in_quotes(name) + " must be of kind " + std::string(rig::to_text(wanted)) +
                       " in the vehicles file, is " + in_quotes(kind));
  return {};
}

/// Those of the session itself, and of the others those that its readings name; in the order of the files.
std::vector<CsvRow> CsvReader::scales_of(std::string_view name, const std::vector<CsvRow>& readings) const {
  std::vector<CsvRow> scales;
  std::set<std::string_view> own;
  if (const auto found = scales_of_session_.find(name); found != scales_of_session_.end()) scales = found->second;
  for (const CsvRow& scale : scales) own.insert(scale.source->text(*scale.row, "id"));
  if (common_scales_.empty()) return scales;
  std::set<std::string_view> used;
  for (const CsvRow& reading : readings)
    for (const std::string_view id : parted(reading.source->text(*reading.row, "scale"))) used.insert(id);
  for (const CsvRow& scale : common_scales_)
    if (const auto id = scale.source->text(*scale.row, "id"); used.contains(id) && !own.contains(id))
      scales.push_back(scale);
  return scales;
}

CsvSession CsvReader::rows_of(const CsvRow& session) {
  const std::string_view name = session.source->text(*session.row, "session");
  CsvSession rows;
  rows.session = session;
  rows.tow_vehicle = vehicle(session, "tow_vehicle", rig::Vehicle::tow);
  rows.trailer = vehicle(session, "trailer", rig::Vehicle::trailer);
  if (const auto found = readings_.find(name); found != readings_.end()) rows.readings = found->second;
  if (rows.readings.empty())
    faults_.cell(session.source->place(*session.row, "session"),
                 in_quotes(name) + " has no row in the readings file; add its readings, or remove it here");
  rows.scales = scales_of(name, rows.readings);
  const auto add_limits = [&](const ByName& by_name, std::string_view key) {
    if (const auto found = by_name.find(key); !key.empty() && found != by_name.end())
      rows.limits.insert(rows.limits.end(), found->second.begin(), found->second.end());
  };
  add_limits(limits_of_vehicle_, session.source->text(*session.row, "tow_vehicle"));
  add_limits(limits_of_vehicle_, session.source->text(*session.row, "trailer"));
  add_limits(limits_of_session_, name);
  const auto in_order = [](const CsvRow& a, const CsvRow& b) {
    return std::pair(a.source->file(), a.row->number) < std::pair(b.source->file(), b.row->number);
  };
  std::sort(rows.limits.begin(), rows.limits.end(), in_order);
  std::sort(rows.scales.begin(), rows.scales.end(), in_order);
  return rows;
}

std::optional<rig::Session> CsvReader::read_one(const CsvSession& rows) {
  CsvAssembly assembly(rows, units_, faults_);
  Faults faults;
  auto session = read_tree(assembly.tree(), faults);
  for (const Fault& fault : faults.take()) {
    const auto [at, column] = assembly.where(fault.place);
    if (at.column != 0 && faults_.broken.contains(at)) continue;
    std::string what = in_files(assembly, at, fault.what);
    all_.add(at, column.empty() ? std::move(what) : "column " + column + ": " + what);
  }
  return session;
}

/// The rules speak of sheets; their places and a few of their words are said as of a spreadsheet.
std::string CsvReader::in_files(const CsvAssembly& assembly, const CellPlace& at, std::string what) const {
  for (const std::string_view list : {"states[", "scales[", "rig.limits["}) {
    for (std::size_t from = what.find(list); from != std::string::npos; from = what.find(list, from)) {
      const std::size_t end = std::min(
          what.find_first_not_of("abcdefghijklmnopqrstuvwxyz_0123456789.[]", from), what.size());
      const CellPlace other = assembly.where(std::string_view(what).substr(from, end - from)).at;
      const std::string words =
          other.file == at.file ? "row " + std::to_string(other.row) : place_in_words({other.file, other.row, 0});
      what.replace(from, end - from, words);
      from += words.size();
    }
  }
  constexpr std::pair<std::string_view, std::string_view> as_said[] = {
      {"\"hitched\": false", "no under hitched"},
      {"write true or false", "write yes or no"},
      {"\"support\": \"coupling\" on this state", "coupling as the support of this state"},
      {"\"support\": \"jockey\" on this state", "jockey as the support of this state"}};
  for (const auto& [sheet, said] : as_said)
    if (const std::size_t from = what.find(sheet); from != std::string::npos) what.replace(from, sheet.size(), said);
  return what;
}

std::string CsvReader::place_in_words(const CellPlace& at) const {
  if (at.file >= files_.size()) return {};
  std::string words = shown(files_[at.file].name, 200);
  if (at.row > 0) words += ", row " + std::to_string(at.row);
  if (at.column == 0) return words;
  words += ", column " + column_letters(at.column);
  for (const CsvSource& source : sources_)
    if (source.file() == at.file)
      if (const auto name = source.header_name(at.column); !name.empty()) words += " (" + shown(name) + ')';
  return words;
}

std::vector<Fault> CsvReader::faults_in_words() const {
  std::vector<Fault> faults;
  for (const CellFaults::One& one : all_.list()) faults.push_back({place_in_words(one.at), one.what});
  if (all_.beyond() > 0)
    faults.push_back({"", "and " + std::to_string(all_.beyond()) + " faults more; mend these first"});
  return faults;
}

ReadCsv CsvReader::run(const CsvProgress& progress) {
  ReadCsv read;
  if (open() && needed_files_are_there()) {
    index_sessions();
    index_vehicles();
    index_scales();
    index_limits();
    index_readings();
    for (std::size_t i = 0; i < sessions_.size(); ++i) {
      auto session = read_one(rows_of(sessions_[i]));
      if (session && all_.empty()) read.sessions.push_back(std::move(*session));
      if (progress) progress(i + 1, sessions_.size());
    }
  }
  if (!all_.empty()) read.sessions.clear();
  read.faults = faults_in_words();
  return read;
}

}  // namespace

ReadCsv read_csv(const std::vector<CsvFile>& files, const CsvProgress& progress) {
  return CsvReader(files).run(progress);
}

}  // namespace steelyard::sheet
