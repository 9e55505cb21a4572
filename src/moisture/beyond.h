// What stands between an assembly's outer face and the weather: an attic, a crawl space, the ground, shade.
#pragma once

namespace warmside::moisture {

struct Beyond {};

}  // namespace warmside::moisture
