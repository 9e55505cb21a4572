// Small tools that the parts of frame_walls share: sections, adding members, splitting, free stretches.
#pragma once

#include <string>
#include <vector>

#include "framing/wall_build.h"

namespace warmside::framing {

/// Longest piece of a plate, batten or furring strip: 20 ft (longer lumber is hard to get; seen).
inline constexpr Exact longest_piece = Exact::sixty_fourths_of_inch(240 * 64);
/// Concealed spaces are stopped at floors and ceilings and every 10 ft (IRC R302.11, seen).
inline constexpr Exact fire_stop = Exact::sixty_fourths_of_inch(120 * 64);
/// Least distance between joints of two plates on each other: 24 in (IRC R602.3.2, seen in excerpt).
inline constexpr Exact plate_joint_offset = Exact::sixty_fourths_of_inch(24 * 64);

/// Nothing thinner is cut or placed: 1/2 in (common practice, no source). What is left is shimmed or foamed.
inline constexpr Exact least_piece = Exact::sixty_fourths_of_inch(32);

/// A stick named as the yard does where its size is a dressed inch size ("2x10"), else in mm ("48x235") or
/// inches ("1 1/2 in x 9 1/2 in").
[[nodiscard]] Section section_of(Exact thickness, Exact width);
/// The member of a framed layer.
[[nodiscard]] Section section_of(const assembly::Framing& framing);

/// Where members go: panel, layer and what they are made of.
struct Bench {
    const assembly::House& house;
    const Wall& wall;
    Panel& panel;
    Problems& notes;
    int layer = -1;
};

/// A stick of `panel`, from its intervals on u, v, w; its length is that of the box along `along`. Null, and
/// none is added, if an interval is empty.
Member* put(Panel& panel, Role role, const Section& section, std::string lumber, const Interval& u,
            const Interval& v, const Interval& w, int along, int layer = -1);
/// The same on a bench: in its panel and layer.
void place(const Bench& bench, Role role, const Section& section, std::string lumber, const Interval& u,
           const Interval& v, const Interval& w, int along, int opening = -1);

/// Adds a note unless the same stands there already.
void tell(Problems& notes, Problem note);

/// The house's species and a grade, "spruce-pine-fir No. 2"; "..., ungraded" for the grade "none".
[[nodiscard]] std::string graded_lumber(const assembly::House& house, const std::string& grade);
/// "spruce-pine-fir Stud": what studs, or plates, headers and blocks, are cut from.
[[nodiscard]] std::string stud_lumber(const assembly::House& house, const assembly::Framing& framing);
[[nodiscard]] std::string plate_lumber(const assembly::House& house, const assembly::Framing& framing);

/// Cuts a stretch in pieces of at most longest_piece at `joints` (sorted), away from each of `avoid` by
/// plate_joint_offset, as long as they can be. Where no joint serves, the piece ends at longest_piece.
[[nodiscard]] std::vector<Interval> pieces_of(const Interval& stretch, const std::vector<Exact>& joints,
                                              const std::vector<Exact>& avoid = {});

/// Parts of `stretch` that nothing of `taken` covers.
[[nodiscard]] std::vector<Interval> free_of(const Interval& stretch, std::vector<Interval> taken);

/// Stretches on u within `stretch` where, over the heights v and depths w, neither a member of `layer` nor an
/// opening lies.
[[nodiscard]] std::vector<Interval> free_bays(const Bench& bench, const Interval& stretch, const Interval& v,
                                              const Interval& w);

[[nodiscard]] inline Interval u_of(const Box& box) {
    return {box.low[0], box.high[0]};
}
[[nodiscard]] inline Interval v_of(const Box& box) {
    return {box.low[1], box.high[1]};
}
[[nodiscard]] inline Interval w_of(const Box& box) {
    return {box.low[2], box.high[2]};
}
[[nodiscard]] inline Interval u_of(const assembly::Opening& o) {
    return {o.left, o.left + o.width};
}
[[nodiscard]] inline Interval v_of(const assembly::Opening& o) {
    return {o.sill, o.sill + o.height};
}

}  // namespace warmside::framing
