#include "assembly/details.h"

namespace warmside::assembly {

const char* name_of(FramePlace place) {
    switch (place) {
        case FramePlace::sheathing: return "sheathing";
        case FramePlace::middle: return "middle";
        case FramePlace::inner: return "inner";
    }
    return "";
}

const char* name_of(HeaderPlace place) {
    return place == HeaderPlace::rim ? "rim" : "wall";
}

}  // namespace warmside::assembly
