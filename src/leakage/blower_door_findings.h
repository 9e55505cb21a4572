// What a standard has to say of a test. Inner part of blower_door.
#pragma once

#include "leakage/blower_door.h"

namespace warmside::leakage {

/// Worst first; in the order of the test among equals.
/// stated  volume and areas of the model, to compare with those of the readings
[[nodiscard]] std::vector<TestFinding> findings_of(const TestReadings& readings, const TestRules& rules,
                                                   const TestResult& result, const TestedHouse& stated);

}  // namespace warmside::leakage
