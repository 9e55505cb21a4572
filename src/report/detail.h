// A user's detail for people, for programs and as pictures.
#pragma once

#include "answer/detail.h"
#include "project/detail.h"
#include "report/heat_files.h"
#include "report/json.h"
#include "report/terminal.h"

namespace warmside::report {

/// Environments with flow, lowest surface temperature and its factor; coupling coefficients; probes; error.
[[nodiscard]] std::string detail_text(const project::Detail& detail, const answer::DetailAnswer& answer,
                                      const Style& style);

/// Schema 1, SI; docs/json.md.
[[nodiscard]] Json detail_json(const project::Detail& detail, const answer::DetailAnswer& answer);

/// Pictures of temperatures and heat flow, named after `stem`.
[[nodiscard]] Result<std::vector<OutFile>> detail_files(const project::Detail& detail,
                                                        const answer::DetailAnswer& answer,
                                                        std::string_view stem, const HeatWish& wish);

}  // namespace warmside::report
