// What stands beside an opening: jacks under the header as columns, kings under the wind of the opening.
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "structure/posts.h"
#include "structure/wind.h"

namespace warmside::structure {

namespace {

using framing::Role;

/// Uprights of one kind at one side of an opening; of both sides the weaker.
struct Uprights {
    int count = 0;
    Size size;
    double length = 0.0;  ///< m, the longest
};

struct Sides {
    Uprights kings, jacks;
    double header_breadth = 0.0;  ///< m, plies together
    double header_length = 0.0;   ///< m
    double header_bottom = 0.0;   ///< m, up the wall
    Size ply;
    double king_top = 0.0;
};

Sides sides_of(const framing::Panel& panel, const Core& core, int opening, double middle) {
    Sides out;
    std::array<int, 2> kings{}, jacks{};
    const auto add = [&](Uprights& each, const framing::Member& member) {
        each.size = size_of(member.section);
        each.length = std::max(each.length, member.length.metres());
    };
    for (const auto& member : panel.members) {
        if (member.opening != opening || !stands_in(core, member)) continue;
        const std::size_t side = (member.box.low[0] + member.box.high[0]).metres() / 2 < middle ? 0 : 1;
        if (member.role == Role::king) {
            ++kings[side];
            add(out.kings, member);
            out.king_top = std::max(out.king_top, member.box.high[1].metres());
        }
        if (member.role == Role::jack) {
            ++jacks[side];
            add(out.jacks, member);
        }
        if (member.role == Role::header) {
            out.ply = size_of(member.section);
            out.header_breadth += out.ply.breadth;
            out.header_length = std::max(out.header_length, member.length.metres());
            out.header_bottom = member.box.low[1].metres();
        }
    }
    out.kings.count = std::min(kings[0], kings[1]);
    out.jacks.count = std::min(jacks[0], jacks[1]);
    return out;
}

/// One opening with all that its checks share.
struct Beside {
    const Site& site;
    const framing::Panel& panel;
    const assembly::Opening& opening;
    double clear = 0.0;  ///< m, between the jambs
    LineLoad load;
    Sides sides;
    double spacing = 0.0;  ///< m, of the wall's studs
    Lumber stud;

    /// Half of what the header carries over its whole length.
    [[nodiscard]] PostLoad reaction() const { return over(load, std::max(sides.header_length, clear) / 2); }
    /// A header over the plates rests on the kings, not on jacks.
    [[nodiscard]] bool on_kings() const {
        constexpr double slack = 1e-6;
        return sides.jacks.count == 0 && sides.header_breadth > 0 &&
               sides.header_bottom + slack >= sides.king_top;
    }
    [[nodiscard]] Finding start(const char* kind, const char* rule, const char* citation) const {
        Finding f;
        f.subject = fmt::format("{} {}", kind, opening.name);
        f.where = panel.name;
        f.rule = rule;
        f.citation = citation;
        f.inputs = load_inputs(site, load);
        f.inputs.push_back(computed("clear width", clear, "m"));
        return f;
    }
};

PostLoad shared(PostLoad load, int posts) {
    load.dead /= posts;
    load.live /= posts;
    load.snow /= posts;
    load.roof_live /= posts;
    load.wind /= posts;
    return load;
}

void check_jacks(const Beside& b, std::vector<Finding>& out) {
    const auto& practice = b.site.house().practice;
    const Uprights& jacks = b.sides.jacks;
    Finding f = b.start("jacks", "jack studs as columns, and what they bear on",
                        "NDS 2018 3.7, 3.10.2; ASCE 7-16 2.4.1");
    const auto header = lumber_of(practice.species.value, practice.grade.value, b.sides.ply);
    const auto plate = lumber_of(practice.species.value, practice.grade.value, jacks.size);
    if (!header || !plate) {
        out.push_back(unnumbered(Outcome::needs_engineer, f.subject, f.where, f.rule, f.citation,
                                 "Header or plates have no recognised grade: an engineer decides."));
        return;
    }
    ColumnCase jack{.size = jacks.size, .lumber = b.stud, .length = jacks.length};
    const PostLoad each = shared(b.reaction(), jacks.count);
    const WorstCase worst = worst_of(jack, each, false);
    const double force = heaviest(each);
    const double end = std::min(b.sides.header_breadth, jacks.size.depth) * jacks.size.breadth;
    const double under_header = force / end / header->across;
    const double on_plate = force / jacks.size.area() / plate->across;
    f.inputs.push_back(computed("header's end on each jack", force, "N"));
    for (auto& more : column_inputs(jack, worst, false)) f.inputs.push_back(std::move(more));
    f.inputs.push_back({"strength across the grain", plate->across, "Pa", plate->origin});
    if (!worst.problem.empty()) {
        f.outcome = Outcome::fails;
        f.words = fmt::format("As columns: {} under {}.", worst.problem, worst.name);
    } else {
        judge(f, std::max({worst.ratio, under_header, on_plate}), 1.0, "-");
        f.words = fmt::format(
            "{} of {} at each end, of capacity: {:.2f} as columns under {}, {:.2f} where the header bears on "
            "them, {:.2f} on the bottom plate.",
            jacks.count, nominal_of(jacks.size), worst.ratio, worst.name, under_header, on_plate);
    }
    if (f.outcome == Outcome::fails) f.change = "another jack at each end";
    out.push_back(std::move(f));
}

/// From the middle of the opening to half way to the next stud.
double wind_width(const Beside& b) {
    const double breadth = b.sides.kings.size.breadth;
    return b.clear / 2 + (b.sides.kings.count + b.sides.jacks.count) * breadth +
           std::max(0.0, b.spacing - breadth) / 2;
}

void check_kings(const Beside& b, std::vector<Finding>& out) {
    const Uprights& kings = b.sides.kings;
    const bool windy = b.site.wind_given();
    Finding f =
        b.start("kings", windy ? "king studs as beam-columns, axial and wind" : "king studs as columns",
                "NDS 2018 3.7, 3.9.2; ASCE 7-16 2.4.1");
    ColumnCase king{.size = kings.size, .lumber = b.stud, .length = kings.length};
    PostLoad load = over(b.load, b.spacing / 2);
    if (b.on_kings()) {
        const PostLoad more = b.reaction();
        load.dead += more.dead;
        load.live += more.live;
        load.snow += more.snow;
        load.roof_live += more.roof_live;
    }
    WorstCase worst = worst_of(king, shared(load, kings.count), false);
    if (windy) {
        const double width = wind_width(b);
        const auto ultimate = governing_pressure(b.site, kings.length * std::max(width, kings.length / 3));
        if (!ultimate) {
            out.push_back(
                unnumbered(Outcome::needs_engineer, f.subject, f.where, f.rule, "IRC 2021 R301.2.1.1",
                           "Wind of 140 mph and more, or a roof above 35 ft: an engineer decides."));
            return;
        }
        load.wind = allowable(*ultimate) * width;
        const WorstCase bent = worst_of(king, shared(load, kings.count), true);
        if (!bent.problem.empty() || (worst.problem.empty() && bent.ratio > worst.ratio)) worst = bent;
        f.inputs.push_back(b.site.wind());
        f.inputs.push_back(
            {"wind on the wall, allowable stress", allowable(*ultimate), "Pa", limits().pressure});
        f.inputs.push_back(computed("width whose wind they take", width, "m"));
    }
    for (auto& more : column_inputs(king, worst, windy)) f.inputs.push_back(std::move(more));
    const std::string what = fmt::format("{} of {} at each side, {} long, jacks not counted", kings.count,
                                         nominal_of(kings.size), units::feet_inches(kings.length));
    if (!worst.problem.empty()) {
        f.outcome = Outcome::fails;
        f.words = fmt::format("{}: {} under {}.", what, worst.problem, worst.name);
    } else {
        judge(f, worst.ratio, 1.0, "-");
        f.words = fmt::format("{}: {:.2f} of capacity under {}.", what, worst.ratio, worst.name);
    }
    if (f.outcome == Outcome::fails) {
        f.words +=
            " The code's table of kings counts on the jacks beside them; where it allows them, the official "
            "decides.";
        f.change = "another king at each side";
    }
    out.push_back(std::move(f));
}

}  // namespace

void check_posts(const Site& site, const framing::Panel& panel, std::size_t index, double clear,
                 std::vector<Finding>& out) {
    const auto* face = site.face(panel);
    const auto& house = site.house();
    const auto& wall = site.built_as(panel);
    const auto core = core_of(wall);
    // Without a grade, snow or within the code's limits the findings of studs and headers say so already.
    if (!core || !ungraded(house, *core).empty() || !house.loads.ground_snow ||
        house.loads.ground_snow->value > limits().snow + 1e-6 || face->height.metres() > limits().storey)
        return;
    const auto& opening = face->openings[index];
    const double middle = (opening.left.metres() + (opening.left + opening.width).metres()) / 2;
    Beside b{site,
             panel,
             opening,
             clear,
             site.line_load(*face, wall),
             sides_of(panel, *core, static_cast<int>(index), middle),
             core->framing->spacing.metres(),
             *lumber_of(house.practice.species.value, house.practice.stud_grade.value, core->size)};
    if (b.sides.kings.count > 0) check_kings(b, out);
    if (b.sides.jacks.count > 0 && b.sides.header_breadth > 0) check_jacks(b, out);
}

}  // namespace warmside::structure
