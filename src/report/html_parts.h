// Pieces of the page, shared by the report and the live page.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "answer/answer.h"
#include "assembly/assembly.h"

namespace warmside::report {

/// What the pieces need to know about where they stand.
struct Context {
    const assembly::House& house;
    const answer::Answer& answer;
    bool live = false;  ///< figures may still come: empty carpets are fields to draw on
};

/// All of <main>, without its tags.
[[nodiscard]] std::string main_of(const Context& context);
/// One ladder as a table: rungs across, questions down.
[[nodiscard]] std::string ladder_table(const Context& context, const answer::LadderAnswer& ladder);
/// Details of each rung, weather, areas, sources.
[[nodiscard]] std::string notes_of(const Context& context);
/// The cells of a rung that its verdict fills: id and inner HTML.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> verdict_cells(
    const Context& context, const answer::LadderAnswer& ladder, const answer::RungAnswer& rung);
/// A row of a ladder's table: its first cell as it is, then one for each rung, with the id
/// `<id>-<part>-<rung>`.
[[nodiscard]] std::string row(std::string_view th, const answer::LadderAnswer& ladder,
                              const std::function<std::string(const answer::RungAnswer&)>& cell,
                              std::string_view id = {});
/// Wood, structure and cost of a ladder of walls: the last rows of its table. Empty for other parts, and
/// where nothing is framed.
[[nodiscard]] std::string building_rows(const Context& context, const answer::LadderAnswer& ladder);
/// Findings with their inputs, cost, framing elevations of a rung, for its fold.
[[nodiscard]] std::string building_details(const Context& context, const answer::LadderAnswer& ladder,
                                           const answer::RungAnswer& rung);
/// A fold for each drawing of a framed rung; on the live page the drawing comes when the fold is opened.
[[nodiscard]] std::string elevations_of(const Context& context, const answer::RungAnswer& rung,
                                        std::string_view id);
/// The cells of a rung that its price fills: id and inner HTML.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> price_cells(const Context& context,
                                                                           const answer::LadderAnswer& ladder,
                                                                           const answer::RungAnswer& rung);
/// Temperatures of a wall rung's repeating cell and of its junction with the lowest f, solved anew; empty on
/// the live page and for a rung without junctions. `id` is unique in the page.
[[nodiscard]] std::string heat_pictures_of(const Context& context, const answer::RungAnswer& rung,
                                           std::string_view id);
/// <!doctype> to </html>: styles and fonts in place. `scripts` go to the end of the body, as they are.
[[nodiscard]] std::string document_of(std::string_view title, std::string_view body,
                                      std::string_view scripts);
/// A file of web/ or data/, which the build embeds.
[[nodiscard]] std::string_view asset(std::string_view path);

/// Sheet width of a rung's column: fewer rungs, wider columns.
[[nodiscard]] double column_width(std::size_t rungs);
/// "wall-w1": part and name as an id.
[[nodiscard]] std::string id_of(assembly::Part part, std::string_view rung);

}  // namespace warmside::report
