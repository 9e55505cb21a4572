#include "structure/check.h"

#include <algorithm>
#include <array>
#include <map>

#include "structure/site.h"

namespace warmside::structure {

const char* name_of(Outcome outcome) {
    switch (outcome) {
        case Outcome::passes: return "passes";
        case Outcome::fails: return "fails";
        case Outcome::needs_engineer: return "needs an engineer";
        case Outcome::not_given: return "not given";
        case Outcome::reminder: return "reminder";
    }
    return "";
}

namespace {

/// The more it asks of the reader, the larger.
int weight(Outcome outcome) {
    switch (outcome) {
        case Outcome::fails: return 4;
        case Outcome::needs_engineer: return 3;
        case Outcome::not_given: return 2;
        case Outcome::reminder: return 1;
        case Outcome::passes: return 0;
    }
    return 0;
}

/// "header living room" and "header kitchen" are of one kind.
std::size_t kind_of(const Finding& finding) {
    static constexpr std::array<std::string_view, 17> kinds{"stud",
                                                            "header",
                                                            "jacks",
                                                            "full-height studs",
                                                            "kings",
                                                            "sheathing",
                                                            "bracing",
                                                            "joist",
                                                            "bearing beam",
                                                            "truss",
                                                            "rafter",
                                                            "hip rafter",
                                                            "ridge",
                                                            "ceiling joist",
                                                            "screws",
                                                            "inner furring",
                                                            ""};
    for (std::size_t i = 0; i < kinds.size(); ++i) {
        if (finding.subject.starts_with(kinds[i])) return i;
    }
    return kinds.size();
}

/// Findings without a number that say the same of several places become one.
std::vector<Finding> merged(std::vector<Finding> findings) {
    std::vector<Finding> out;
    std::map<std::string, std::size_t> seen;
    for (Finding& each : findings) {
        if (each.demand || each.ratio) {
            out.push_back(std::move(each));
            continue;
        }
        const auto key = each.subject + '\n' + each.rule + '\n' + each.words;
        const auto [at, added] = seen.emplace(key, out.size());
        if (added)
            out.push_back(std::move(each));
        else
            out[at->second].where += "; " + each.where;
    }
    return out;
}

std::vector<std::string> cautions(const assembly::House& house) {
    std::vector<std::string> out{
        "First-order engineering aid: local code and a licensed professional decide.",
        "Not covered: anchorage to the foundation, uplift and hold-downs, the lateral system as a whole, "
        "seismic "
        "loads, connections between members, drifting and unbalanced snow, foundations, fire.",
        "Braced lines also ask for blocks behind horizontal joints of the panels (else twice the length), 24 "
        "in "
        "returns or hold-downs at corners, the first panel within 10 ft of each end and gaps of at most 20 "
        "ft "
        "(IRC R602.10); raised heels of more than 15 1/4 in need blocking panels of their own.",
        "Posts beside an opening upstairs press on what stands below them; a header under them is not "
        "checked "
        "for that.",
        "Snow is the ground snow, taken as the roof's as the code's span tables do; loads are the house "
        "file's, "
        "none is guessed for a place.",
        "Lumber is dry, graded and stamped as the house file says; holes and notches within IRC R602.6: "
        "bored up "
        "to 60 % of the depth with 5/8 in left at the edge, above 40 % the stud is doubled, notched up to 25 "
        "%."};
    if (house.details.top_plates.value == 1)
        out.push_back(
            "A single top plate wants joists, rafters and trusses within 1 in of a stud and plates of steel "
            "over "
            "its joints (IRC R602.3.2, from memory).");
    if (!house.loads.seismic)
        out.push_back("No seismic design category is given: bracing is read for wind alone.");
    else if (house.loads.seismic->value > "B")
        out.push_back("Seismic design category " + house.loads.seismic->value +
                      ": the bracing lengths here are for wind alone, more may be needed.");
    return out;
}

}  // namespace

Outcome Structure::worst() const {
    const auto found = std::max_element(
        findings.begin(), findings.end(),
        [](const Finding& a, const Finding& b) { return weight(a.outcome) < weight(b.outcome); });
    return found == findings.end() ? Outcome::reminder : found->outcome;
}

std::size_t Structure::count(Outcome outcome) const {
    return static_cast<std::size_t>(std::count_if(
        findings.begin(), findings.end(), [&](const Finding& each) { return each.outcome == outcome; }));
}

Result<Structure> check(const assembly::House& house, const assembly::Assembly& wall,
                        const framing::Frame& frame) {
    const bool placed = std::any_of(frame.panels.begin(), frame.panels.end(),
                                    [](const framing::Panel& panel) { return !panel.members.empty(); });
    if (!placed)
        return fail(Code::missing, "no members are placed, so nothing can be checked", wall.origin.where);
    const Site site(house, wall);
    std::vector<Finding> findings;
    for (const framing::Panel& panel : frame.panels) {
        using Kind = framing::Panel::Kind;
        switch (panel.kind) {
            case Kind::wall:
                check_studs(site, panel, findings);
                check_openings(site, panel, findings);
                break;
            case Kind::gable_wall: check_studs(site, panel, findings); break;
            case Kind::floor:
            case Kind::ceiling:
            case Kind::roof: check_spans(site, panel, findings); break;
        }
    }
    check_bracing(site, frame, findings);
    check_cladding(site, wall, findings);
    check_inner_furring(site, wall, findings);
    Structure out{merged(std::move(findings)), cautions(house)};
    std::stable_sort(out.findings.begin(), out.findings.end(), [](const Finding& a, const Finding& b) {
        if (kind_of(a) != kind_of(b)) return kind_of(a) < kind_of(b);
        if (a.outcome != b.outcome) return weight(a.outcome) > weight(b.outcome);
        return a.ratio.value_or(0.0) > b.ratio.value_or(0.0);
    });
    return out;
}

}  // namespace warmside::structure
