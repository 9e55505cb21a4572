#include "rules/context.h"

#include <fmt/format.h>

namespace warmside::rules {

Outcome Context::settle(bool passes, Evidence evidence) const {
    if (weaker(evidence, in.zone.origin.evidence) == Evidence::memory) return Outcome::unconfirmed;
    return passes ? Outcome::passes : Outcome::fails;
}

Evidence weaker(Evidence a, Evidence b) {
    return b == Evidence::memory ? b : a;
}

Finding resting_on(const Cell& cell, Subject subject, std::string part, std::string rule) {
    Finding out{.subject = subject,
                .part = std::move(part),
                .rule = std::move(rule),
                .citation = cell.citation,
                .evidence = cell.origin.evidence,
                .origin = cell.origin};
    if (!cell.note.empty()) out.notes.push_back(cell.note);
    return out;
}

Finding not_covered(const Context& context, Subject subject, std::string part, std::string rule,
                    std::string why) {
    return {.subject = subject,
            .part = std::move(part),
            .rule = std::move(rule),
            .citation = fmt::format("edition {}", context.tables().edition),
            .outcome = Outcome::not_covered,
            .words = std::move(why)};
}

}  // namespace warmside::rules
