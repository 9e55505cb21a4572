#include "app/hub.h"

#include <doctest/doctest.h>
#include <thread>

using namespace warmside::app;
using namespace std::chrono_literals;

TEST_CASE("a late listener gets the whole generation, in order") {
    Hub hub;
    hub.begin(1);
    hub.publish(1, "event: steady\ndata: {}\n\n");
    hub.publish(1, "");  // nothing to say
    hub.publish(1, "event: column\ndata: a\n\n");
    Hub::Cursor cursor;
    CHECK(*hub.next(cursor, 1ms) == "id: 1.0\nevent: steady\ndata: {}\n\n");
    CHECK(*hub.next(cursor, 1ms) == "id: 1.1\nevent: column\ndata: a\n\n");
    CHECK(hub.next(cursor, 1ms)->empty());
}

TEST_CASE("the latest edit wins: an older generation can no longer speak") {
    Hub hub;
    hub.begin(1);
    Hub::Cursor cursor;
    hub.publish(1, "event: steady\ndata: old\n\n");
    (void)hub.next(cursor, 1ms);
    hub.begin(2);
    hub.publish(1, "event: finished\ndata: old\n\n");
    hub.publish(2, "event: steady\ndata: new\n\n");
    CHECK(*hub.next(cursor, 1ms) == "id: 2.0\nevent: steady\ndata: new\n\n");
    hub.begin(1);  // never backwards
    hub.publish(1, "event: steady\ndata: old\n\n");
    CHECK(hub.next(cursor, 1ms)->empty());
}

TEST_CASE("a closed hub lets every listener go at once") {
    Hub hub;
    Hub::Cursor cursor;
    std::jthread closer([&] {
        std::this_thread::sleep_for(20ms);
        hub.close();
    });
    CHECK_FALSE(hub.next(cursor, 10s));
}
