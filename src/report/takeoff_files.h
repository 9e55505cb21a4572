// Order, cutting plans and sheet plans as files: CSV for scripts, one XLSX workbook for people.
#pragma once

#include <string>

#include "base/result.h"
#include "takeoff/quantities.h"

namespace warmside::report {

/// One row an item: kind, name, price key, net, waste, gross, unit, count, package, source of the waste. SI.
[[nodiscard]] std::string order_csv(const takeoff::Order& order);

/// One row a piece of a pattern: plan, pattern, how many sticks, stick length (m), piece length (m), how many
/// in a stick, what the piece is, rest of the stick (m).
[[nodiscard]] std::string cuts_csv(const takeoff::Order& order);

/// One row a placed piece: plan, sheet, its corner and size (m), turned, what it is.
[[nodiscard]] std::string sheets_csv(const takeoff::Order& order);

/// The same as a workbook with the sheets "Order", "Cutting plan" (each stick; inches where a length is whole
/// in 64ths, else mm), "Pieces", "Sheet plan" and "Notes". The bytes depend on the order alone: the date
/// inside is fixed.
///
/// title    of the document, "Heron Ridge house, w2"
/// Problem  input_output (no memory, no temporary file)
/// Source   Office Open XML by libxlsxwriter
[[nodiscard]] Result<std::string> takeoff_xlsx(const takeoff::Order& order, const std::string& title);

}  // namespace warmside::report
