// `warmside open`: one house file served as a live page on this machine only.
#pragma once

#include <string>

#include "base/result.h"
#include "base/stop.h"

namespace warmside::app {

struct WorkbenchOptions {
    int port = 0;          ///< 0: any free one
    bool announce = true;  ///< print the address on standard output
    bool json = false;     ///< print it as a JSON document
};

/// Serves until `stop`. Watches the file: each change on disk starts a new generation and stops the one
/// before; a file with problems shows them and leaves the figures of the last good one. Loopback only;
/// refuses a request whose Host or Origin is not this server (DNS rebinding). Problem: input_output when no
/// port can be had.
[[nodiscard]] Result<void> serve(const std::string& house_file, const WorkbenchOptions& options,
                                 StopSource& stop);

}  // namespace warmside::app
