// Total UA, 2024 total conductance with F P: the whole envelope against the tables on the same areas.
#include <fmt/format.h>

#include <algorithm>

#include "rules/change.h"
#include "rules/context.h"

namespace warmside::rules {

namespace {

// In zones 0 to 2 the reference's F equals the house's (2024).
constexpr int same_f_below = 3;

class Sum {
public:
    explicit Sum(const Context& context) : context_(context) {}

    void add(const Surface& surface) {
        const Cell* cell = context_.find("u", surface.row);
        if (!cell || !cell->asked) return miss("no U row for " + surface.part);
        if (surface.area <= 0.0) return miss("no area of " + surface.part);
        double u = surface.code_u.value_or(0.0);
        if (!surface.code_u) {
            if (!r_row_passes(context_, surface)) return miss("no code U of " + surface.part);
            u = cell->value;
            assumed_.push_back(surface.part);
        }
        take(surface.area, u, *cell);
    }
    void add(const Glazing& glazing) {
        const bool skylight = glazing.kind == Glazing::Kind::skylight;
        const Cell* cell = context_.find("u", skylight ? "skylight" : "window");
        if (!cell || !cell->asked) return miss("no U row for windows");
        if (glazing.u <= 0.0 || glazing.area <= 0.0) return miss("no U of " + glazing.name);
        take(glazing.area, glazing.u, *cell);
    }
    void add(const Slab& slab) {
        const Cell* cell = context_.find("f", slab.heated ? "heated slab" : "slab");
        if (!cell) return;
        if (slab.perimeter <= 0.0) return miss("no perimeter of " + slab.part);
        double f = slab.f.value_or(0.0);
        if (!slab.f) {
            if (!slab_row_passes(context_, slab)) return miss("no F of " + slab.part);
            f = cell->value;
            assumed_.push_back(slab.part);
        }
        take(slab.perimeter, f, *cell);
        if (context_.zone().number < same_f_below) total_.asked += slab.perimeter * (f - cell->value);
    }
    [[nodiscard]] const std::vector<std::string>& missing() const { return missing_; }
    [[nodiscard]] const std::vector<std::string>& assumed() const { return assumed_; }
    [[nodiscard]] const Total& total() const { return total_; }
    [[nodiscard]] Evidence evidence() const { return evidence_; }

private:
    void take(double size, double figure, const Cell& cell) {
        total_.proposed += size * figure;
        total_.asked += size * cell.value;
        evidence_ = weaker(evidence_, cell.origin.evidence);
    }
    void miss(std::string what) { missing_.push_back(std::move(what)); }

    const Context& context_;
    Total total_;
    std::vector<std::string> missing_, assumed_;
    Evidence evidence_ = Evidence::seen;
};

Sum sum_of(const Context& context) {
    Sum out(context);
    for (const Surface& each : context.in.surfaces) out.add(each);
    for (const Glazing& each : context.in.glazing) out.add(each);
    for (const Slab& each : context.in.slabs) out.add(each);
    return out;
}

/// What the largest opaque surface would have to gain.
std::string change_of(const Context& context, const Total& total) {
    const Surface* largest = nullptr;
    for (const Surface& each : context.in.surfaces) {
        if (each.code_u && each.assembly && (!largest || each.area > largest->area)) largest = &each;
    }
    if (!largest) return {};
    const double u = *largest->code_u - (total.proposed - total.asked) / largest->area;
    if (u <= 0.0) return fmt::format("more than {} alone can give", largest->part);
    const auto more = least_added(*largest, u);
    if (!more) return {};
    return fmt::format("{}: {}", largest->part, words_of_added(largest->assembly, *more));
}

/// Means that a trade-off may not pass; false where one is passed.
bool caps(const Context& context, Finding& f) {
    bool good = true;
    const auto mean = [&](bool skylights, double Glazing::* figure,
                          bool glass_only) -> std::optional<double> {
        double area = 0.0, sum = 0.0;
        for (const Glazing& each : context.in.glazing) {
            if ((each.kind == Glazing::Kind::skylight) != skylights) continue;
            if (glass_only && each.kind == Glazing::Kind::door) continue;
            area += each.area;
            sum += each.area * each.*figure;
        }
        return area > 0.0 ? std::optional(sum / area) : std::nullopt;
    };
    const auto hold = [&](const Cell* cell, std::optional<double> value, Amount (*amount)(double),
                          std::string_view what) {
        if (!cell || !cell->asked || !value) return;
        f.evidence = weaker(f.evidence, cell->origin.evidence);
        if (at_most(*value, cell->value)) return;
        good = false;
        f.notes.push_back(fmt::format("{} average {}, above the cap of {} ({}).", what, amount(*value).text,
                                      amount(cell->value).text, cell->citation));
    };
    hold(context.find("cap", "window"), mean(false, &Glazing::u, false), u_amount, "Windows and doors");
    hold(context.find("cap", "skylight"), mean(true, &Glazing::u, false), u_amount, "Skylights");
    hold(context.find("cap shgc", "window"), mean(false, &Glazing::solar_gain, true), gain_amount, "Windows");
    return good;
}

std::string kind_of(const Cell& cell) {
    return cell.words == "TC" ? "total conductance, UA and F P" : "total UA";
}

}  // namespace

std::optional<Total> total_conductance(const Context& context, Findings& out) {
    const Cell* rule = context.find("total", "total UA");
    if (context.in.surfaces.empty()) return std::nullopt;
    if (!rule) {
        out.push_back(
            not_covered(context, Subject::total, "house", "total UA",
                        fmt::format("The edition has no tables for zone {}.", name_of(context.zone()))));
        return std::nullopt;
    }
    const Sum sum = sum_of(context);
    Finding f = resting_on(*rule, Subject::total, "house", kind_of(*rule));
    if (!sum.missing().empty()) {
        f.outcome = Outcome::not_covered;
        f.words = fmt::format("Not summed: {}.", fmt::join(sum.missing(), "; "));
        out.push_back(std::move(f));
        return std::nullopt;
    }
    const Total total = sum.total();
    f.evidence = weaker(f.evidence, sum.evidence());
    f.required = ua_amount(total.asked);
    f.provided = ua_amount(total.proposed);
    const bool capped = caps(context, f);
    const bool within = at_most(total.proposed, total.asked);
    f.outcome = context.settle(within && capped, f.evidence);
    f.words = fmt::format("Asked on the same areas: at most {}. There: {}, {:.1f} % {}.", f.required->text,
                          f.provided->text, 100.0 * std::abs(total.ratio() - 1.0), within ? "less" : "more");
    if (!within) f.change = change_of(context, total);
    if (!capped) f.change += fmt::format("{}windows within the caps", f.change.empty() ? "" : "; ");
    for (const std::string& part : sum.assumed())
        f.notes.push_back(
            fmt::format("{}: its R row passes, so it stands at the table's figure on both sides.", part));
    if (!context.in.slabs.empty() && rule->words != "TC")
        f.notes.emplace_back("The edge of the slab is not in this sum: it meets its own R row.");
    f.notes.emplace_back("SHGC, air leakage and the mandatory items hold besides.");
    out.push_back(std::move(f));
    return total;
}

}  // namespace warmside::rules
