#include "report/json.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "report/building.h"
#include "report/json_parts.h"
#include "report/words.h"

namespace warmside::report {
namespace {

constexpr const char* origin_kinds[] = {"house_file", "catalogue", "standard", "assumed", "computed"};

/// Figures that a left-out stage leaves at zero are unknown, not zero.
Json positive(double value) {
    return value > 0.0 && std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json stair_json(const thermal::Worth& worth) {
    Json out = Json::array();
    for (const auto& t : worth.stair) {
        Json row;
        row["name"] = t.name;
        row["words"] = t.words;
        row["r_change"] = maybe(t.r_change);
        row["r_after"] = t.r_change ? positive(t.r_after) : Json(nullptr);
        row["u_after"] = t.r_change ? positive(t.u_after) : Json(nullptr);
        out.push_back(std::move(row));
    }
    return out;
}

Json fastener_json(const thermal::FastenerWorth& f) {
    Json out;
    out["layer"] = f.layer + 1;
    out["per_area"] = f.per_area;
    out["chi"] = f.chi;
    out["iso_u"] = f.iso_u;
    return out;
}

void add_worth(Json& out, const thermal::Worth& w) {
    out["label_r"] = positive(w.label_r);
    out["clear_r"] = positive(w.clear_r);
    out["clear_u"] = positive(w.clear_u);
    out["clear_method"] = maybe(w.clear_method);
    const bool solved = w.clear_dimensions > 0;
    out["clear_dimensions"] = solved ? Json(w.clear_dimensions) : Json(nullptr);
    out["clear_error"] = solved ? Json(w.clear_error) : Json(nullptr);
    out["iso_clear_r"] = positive(w.iso_clear_r);
    out["iso_words"] = maybe(w.iso_words);
    out["parallel_r"] = positive(w.parallel_r);
    out["isothermal_r"] = positive(w.isothermal_r);
    out["handbook_words"] = maybe(w.handbook_words);
    out["built_r"] = maybe(w.built_r);
    out["face_r"] = positive(w.face_r);
    out["framing_fraction"] = positive(w.framing_fraction);
    out["published_fraction"] = maybe(w.published_fraction);
    out["field_share"] = maybe(w.field_share);
    out["field_u"] = positive(w.field_u);
    out["code_u"] = positive(w.code_u);
    out["code_u_published"] = maybe(w.code_u_published);
    out["code_note"] = maybe(w.code_note);
    out["stair"] = stair_json(w);
}

Json junction_json(const thermal::Junction& j) {
    Json out;
    out["kind"] = thermal::name_of(j.kind);
    out["name"] = j.name;
    out["length"] = j.length;
    out["psi_internal"] = j.psi_internal;
    out["psi_overall"] = j.psi_overall;
    out["psi_external"] = j.psi_external;
    out["psi_plain"] = maybe(j.psi_plain);
    out["coupling"] = j.coupling;
    out["error"] = j.error;
    out["factor"] = j.factor;
    out["factor_glazing"] = maybe(j.factor_glazing);
    out["humidity"] = j.humidity;
    out["notes"] = j.notes;
    return out;
}

void add_junctions(Json& out, const answer::RungAnswer& rung) {
    out["built_absent"] = maybe(rung.built_absent);
    out["junction_heat"] = rung.junctions.empty() ? Json(nullptr) : Json(rung.junction_heat);
    out["junction_area"] = rung.junctions.empty() ? Json(nullptr) : Json(rung.junction_area);
    out["junctions"] = Json::array();
    for (const auto& j : rung.junctions) out["junctions"].push_back(junction_json(j));
}

Json allowance_json(const std::optional<moisture::WettingAllowance>& w) {
    if (!w) return nullptr;
    Json out;
    out["dry"] = w->dry_bounded ? Json(w->dry) : Json(nullptr);
    out["not_wet"] = w->not_wet_bounded ? Json(w->not_wet) : Json(nullptr);
    out["assumed"] = w->assumed;
    out["most_tried"] = w->most_tried;
    return out;
}

Json monthly_json(const std::optional<moisture::MonthlyOpinion>& m) {
    if (!m) return nullptr;
    const auto month = [](int number) { return number > 0 ? Json(number) : Json(nullptr); };
    Json out;
    out["words"] = m->words;
    out["run"] = m->run;
    out["peak"] = m->peak;
    out["place"] = maybe(m->place);
    out["first_month"] = month(m->first_month);
    out["peak_month"] = month(m->peak_month);
    out["dry_month"] = month(m->dry_month);
    out["dries_out"] = m->dries_out;
    return out;
}

void add_causes(Json& out, const moisture::Verdict& v) {
    out["driver"] = maybe(v.driver_words);
    out["drivers"] = Json::array();
    for (const auto& d : v.drivers) {
        Json row;
        row["driver"] = moisture::name_of(d.driver);
        row["value_without"] = maybe(std::optional(d.value_without));
        row["dryness_without"] = moisture::name_of(d.dryness_without);
        out["drivers"].push_back(std::move(row));
    }
    out["value_without_drivers"] = maybe(v.without_drivers);
    out["allowance"] = allowance_json(v.allowance);
    out["changes"] = Json::array();
    for (const auto& c : v.changes) {
        Json row;
        row["what"] = c.what;
        row["dryness"] = moisture::name_of(c.dryness);
        row["criterion"] = c.criterion;
        row["place"] = c.place;
        row["value"] = maybe(std::optional(c.value));
        row["unit"] = c.unit;
        row["all_runs"] = c.all_runs;
        out["changes"].push_back(std::move(row));
    }
    out["monthly"] = monthly_json(v.monthly);
}

void add_verdict(Json& out, const answer::RungAnswer& rung) {
    const bool judged = rung.verdict.has_value();
    out["verdict"] = judged ? Json(moisture::name_of(rung.verdict->dryness)) : Json(nullptr);
    out["verdict_absent"] = maybe(rung.verdict_absent);
    out["reason"] = judged ? maybe(rung.verdict->reason) : Json(nullptr);
    out["margin"] = judged && std::isfinite(rung.verdict->deciding.margin)
                        ? Json(rung.verdict->deciding.margin)
                        : Json(nullptr);
    out["deciding"] = judged ? json_of(rung.verdict->deciding) : Json(nullptr);
    out["assumes"] = judged ? Json(rung.verdict->assumes) : Json::array();
    add_causes(out, judged ? *rung.verdict : moisture::Verdict{});
    out["findings"] = Json::array();
    if (!judged) return;
    for (const auto& f : rung.verdict->findings) out["findings"].push_back(json_of(f));
}

Json balance_json(const moisture::Balance& b) {
    Json out;
    out["water_in"] = b.water_in;
    out["water_out"] = b.water_out;
    out["water_stored"] = b.water_stored;
    out["water_error"] = b.water_error;
    out["energy_error"] = b.energy_error;
    out["rain_absorbed"] = b.rain_absorbed;
    out["rain_run_off"] = b.rain_run_off;
    out["leak"] = b.leak;
    return out;
}

Json head_of(const answer::RungAnswer& rung, assembly::Part part) {
    Json out;
    out["name"] = rung.name;
    out["title"] = rung.title;
    out["path"] = std::string("ladder/") + assembly::name_of(part) + "/" + rung.name;
    out["thickness"] = positive(rung.thickness);
    return out;
}

Json rung_json(const answer::RungAnswer& rung, assembly::Part part) {
    Json out = head_of(rung, part);
    add_worth(out, rung.worth);
    add_junctions(out, rung);
    add_frame(out, rung, false);
    add_cost(out, rung);
    add_verdict(out, rung);
    out["runs"] = rung.runs;
    out["carpet_run"] = maybe(rung.carpet_run);
    out["balance"] = rung.runs > 0 ? balance_json(rung.balance) : Json(nullptr);
    out["notes"] = all_notes(rung);
    for (const auto& note : rung.worth.notes) out["notes"].push_back(note);
    return out;
}

Json weather_json(const answer::Weather& w) {
    Json out;
    out["place"] = maybe(w.place);
    out["climate_zone"] = maybe(w.climate_zone);
    out["kind"] = maybe(w.kind);
    out["mean_temperature"] = positive(w.mean_temperature);
    out["coldest_month_temperature"] = positive(w.january);
    out["heating_degree_days"] = positive(w.heating_degree_days);
    out["wettest_face"] = maybe(w.wettest_face);
    out["notes"] = w.notes;
    return out;
}

Json areas_json(const std::optional<answer::Areas>& areas) {
    if (!areas) return nullptr;
    Json out;
    out["floor"] = areas->floor;
    out["wall_gross"] = areas->wall_gross;
    out["wall_net"] = areas->wall_net;
    out["window"] = areas->window;
    out["door"] = areas->door;
    out["roof"] = areas->roof;
    out["ceiling"] = areas->ceiling;
    out["volume"] = areas->volume;
    return out;
}

Json document_of(const answer::Answer& a) {
    Json out;
    out["schema"] = schema;
    out["house"] = a.house;
    out["place"] = maybe(a.place);
    return out;
}

template <class F>
Json ladders_of(const answer::Answer& a, std::string_view only, F&& rung_of) {
    Json ladders = Json::array();
    for (const auto& ladder : a.ladders) {
        Json rungs = Json::array();
        for (const auto& rung : ladder.rungs) {
            if (only.empty() || rung.name == only) rungs.push_back(rung_of(rung, ladder.part));
        }
        if (rungs.empty()) continue;
        Json row;
        row["part"] = assembly::name_of(ladder.part);
        row["rungs"] = std::move(rungs);
        ladders.push_back(std::move(row));
    }
    return ladders;
}

Json layer_json(const thermal::LayerWorth& l) {
    Json out;
    out["title"] = l.title;
    out["thickness"] = l.thickness;
    out["conductivity"] = positive(l.conductivity);
    out["mean_temperature"] = positive(l.mean_temperature);
    out["resistance"] = l.resistance;
    out["framing_resistance"] = maybe(l.framing_resistance);
    out["framing_share"] = l.framing_share;
    out["label"] = l.label;
    out["note"] = maybe(l.note);
    out["origin"] = json_of(l.origin);
    return out;
}

Json carpet_json(const moisture::Carpet& c) {
    if (c.columns <= 0) return nullptr;
    // Four decimals: what a reader of a picture's values can use, at a third of the size.
    const auto rounded = [](const std::vector<float>& values, double digits) {
        Json out = Json::array();
        for (const float v : values) out.push_back(std::round(static_cast<double>(v) * digits) / digits);
        return out;
    };
    Json out;
    out["columns"] = c.columns;
    out["rows"] = c.rows;
    out["depth"] = rounded(c.depth, 1e5);
    out["relative_humidity"] = rounded(c.relative_humidity, 1e4);
    out["temperature"] = rounded(c.temperature, 1e2);
    return out;
}

}  // namespace

Json json_of(const Origin& o) {
    Json out;
    out["kind"] = origin_kinds[static_cast<std::size_t>(o.kind)];
    out["source"] = maybe(o.source);
    out["evidence"] = o.evidence == Evidence::none ? Json(nullptr) : Json(name_of(o.evidence));
    out["file"] = maybe(o.where.file);
    out["line"] = o.where.line > 0 ? Json(o.where.line) : Json(nullptr);
    out["column"] = o.where.column > 0 ? Json(o.where.column) : Json(nullptr);
    return out;
}

Json json_of(const Problem& p) {
    Json out;
    out["code"] = name_of(p.code);
    out["severity"] = name_of(p.severity);
    out["what"] = p.what;
    out["found"] = maybe(p.found);
    out["expected"] = maybe(p.expected);
    out["suggestion"] = maybe(p.suggestion);
    out["file"] = maybe(p.where.file);
    out["line"] = p.where.line > 0 ? Json(p.where.line) : Json(nullptr);
    out["column"] = p.where.column > 0 ? Json(p.where.column) : Json(nullptr);
    return out;
}

Json json_of(const moisture::Finding& f) {
    Json out;
    out["criterion"] = f.criterion;
    out["source"] = maybe(f.source);
    out["dryness"] = moisture::name_of(f.dryness);
    out["run"] = maybe(f.run);
    out["place"] = maybe(f.place);
    out["layer"] = f.layer;
    out["value"] = std::isfinite(f.value) ? Json(f.value) : Json(nullptr);
    out["unit"] = f.unit.empty() ? "-" : f.unit;
    out["watch_limit"] = f.watch_limit;
    out["wet_limit"] = f.wet_limit;
    out["margin"] = std::isfinite(f.margin) ? Json(f.margin) : Json(nullptr);
    out["hour"] = f.hour;
    out["week"] = f.week;
    out["month"] = maybe(f.month);
    out["first_year"] = f.first_year;
    out["judged"] = f.judged;
    out["detail"] = maybe(f.detail);
    return out;
}

Json answer_json(const answer::Answer& a) {
    Json out = document_of(a);
    out["units_first"] = a.inch_pound_first ? "inch-pound" : "metric";
    out["key"] = a.key.hex();
    out["weather"] = weather_json(a.weather);
    out["areas"] = areas_json(a.areas);
    out["ladders"] = ladders_of(a, {}, rung_json);
    out["cautions"] = a.cautions;
    return out;
}

namespace {

Json daily_json(const std::optional<conduction::Periodic>& swing) {
    if (!swing) return nullptr;
    Json out;
    out["transmittance"] = std::abs(swing->periodic_transmittance);
    out["decrement"] = swing->decrement;
    out["time_shift"] = swing->time_shift;
    out["inside_admittance"] = std::abs(swing->inside_admittance);
    out["inside_capacity"] = swing->inside_capacity;
    out["outside_capacity"] = swing->outside_capacity;
    return out;
}

}  // namespace

Json heat_json(const answer::Answer& a, std::string_view rung) {
    Json out = document_of(a);
    out["ladders"] = ladders_of(a, rung, [](const answer::RungAnswer& it, assembly::Part part) {
        Json row = head_of(it, part);
        const auto& w = it.worth;
        add_worth(row, w);
        add_junctions(row, it);
        row["upper_r"] = positive(w.upper_r);
        row["lower_r"] = positive(w.lower_r);
        row["relative_error"] = w.relative_error;
        row["correction_u"] = w.correction_u;
        row["cell_u"] = positive(w.cell_u);
        row["cells"] = w.clear_cells;
        row["fastener_u"] = w.fastener_u;
        row["void_u"] = w.void_u;
        row["fasteners"] = Json::array();
        for (const auto& f : w.fasteners) row["fasteners"].push_back(fastener_json(f));
        row["framing_origin"] = json_of(w.framing_origin);
        row["layers"] = Json::array();
        for (const auto& l : w.layers) row["layers"].push_back(layer_json(l));
        row["bay_temperatures"] = w.bay_temperatures;
        row["daily"] = daily_json(w.daily);
        row["notes"] = w.notes;
        return row;
    });
    return out;
}

Json dry_json(const answer::Answer& a, std::string_view rung) {
    Json out = document_of(a);
    out["weather"] = weather_json(a.weather);
    out["ladders"] = ladders_of(a, rung, [](const answer::RungAnswer& it, assembly::Part part) {
        Json row = head_of(it, part);
        add_verdict(row, it);
        row["runs"] = it.runs;
        row["balance"] = it.runs > 0 ? balance_json(it.balance) : Json(nullptr);
        row["carpet_run"] = maybe(it.carpet_run);
        row["carpet"] = carpet_json(it.carpet);
        row["notes"] = all_notes(it);
        return row;
    });
    return out;
}

std::string dump(const Json& json) {
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string dump_line(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

bool contains(std::string_view text, std::string_view word) {
    const auto same = [](char a, char b) {
        return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
    };
    return word.empty() ||
           std::search(text.begin(), text.end(), word.begin(), word.end(), same) != text.end();
}

bool matches(const climate::PlaceRow& place, std::string_view word) {
    return contains(place.name, word) || contains(place.state, word) ||
           contains(climate::state_name(place.state), word) || contains(place.climate_zone, word);
}

}  // namespace warmside::report
