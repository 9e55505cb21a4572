// Framing, structure and cost of a rung: as JSON, in words, as tables.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "report/json.h"
#include "report/terminal.h"

namespace warmside::report {

/// `framing_factor`, `boxes` and `structure` of a rung, null with `framed_absent` where there is none.
/// with_inputs  what each finding rests on too; `frame` has it, `answer` not, for its length
void add_frame(Json& out, const answer::RungAnswer& rung, bool with_inputs);
/// `cost` and `cost_step` of a rung, null with `cost_absent` where there is none.
void add_cost(Json& out, const answer::RungAnswer& rung);
/// `framing_factor` and `structure` whole: every panel with its members, every finding with its inputs.
[[nodiscard]] Json frame_json(const answer::Answer& answer, std::string_view rung = {});
/// The order, the cuts and the cost of a rung.
[[nodiscard]] Json takeoff_json(const answer::Answer& answer, std::string_view rung = {});

/// The rungs of the wall's ladder, in climbing order. `only` empty: all.
void each_wall_rung(const answer::Answer& answer, std::string_view only,
                    const std::function<void(const answer::RungAnswer&)>& task);

/// "24.1 % of the walls is wood: field 12.3, plates ..."; why not where nothing is framed.
[[nodiscard]] std::string framing_words(const answer::RungAnswer& rung);
/// "44 electrical boxes in outer walls, 41 of them receptacles; ..."; empty where there are none.
[[nodiscard]] std::string box_words(const answer::RungAnswer& rung);
/// What the share of wood is made of, in percent of the net wall: to stand beside the share itself.
[[nodiscard]] std::string framing_parts(const answer::RungAnswer& rung);
/// "32 checks pass; 4 need an engineer: ..."
[[nodiscard]] std::string structure_words(const answer::RungAnswer& rung);
/// "passes", "fails", "needs an engineer", "not given": the worst of what is judged; "not judged" where
/// nothing is.
[[nodiscard]] const char* structure_word(const structure::Structure& structure);
/// The finding's sentence, and what helps where it does not pass.
[[nodiscard]] std::string finding_words(const structure::Finding& finding);
/// Outcomes from the one that asks for most to the one that asks for nothing.
inline constexpr std::array outcomes{structure::Outcome::fails, structure::Outcome::needs_engineer,
                                     structure::Outcome::not_given, structure::Outcome::reminder,
                                     structure::Outcome::passes};
/// "walls $31,240; $21.40 a ft² ..."; why not where there is no cost.
[[nodiscard]] std::string cost_words(const answer::RungAnswer& rung, bool inch_pound_first);
/// "$21.40 a ft² ($230 a m²) of net wall; material ...": to stand beside the total.
[[nodiscard]] std::string cost_parts(const answer::RungAnswer& rung, bool inch_pound_first);
/// "$3,120 more than the rung below, $900 of it from ..."; empty for the lowest rung.
[[nodiscard]] std::string step_words(const answer::RungAnswer& rung);

/// What `warmside frame` prints: panels, members, findings.
[[nodiscard]] std::string frame_text(const answer::Answer& answer, const Style& style,
                                     std::string_view rung = {});
/// What `warmside takeoff` prints: the order, how the lumber is cut, the cost.
[[nodiscard]] std::string takeoff_text(const answer::Answer& answer, const Style& style,
                                       std::string_view rung = {});

/// Groups of a cost, materials first: ("insulation", 1250.0), ("labour: framing", ...).
[[nodiscard]] std::vector<std::pair<std::string, double>> cost_groups(const takeoff::Cost& cost);

/// Money with its currency and thousands: "$12,340", "1 250 EUR".
[[nodiscard]] std::string money(double value, std::string_view currency);

}  // namespace warmside::report
