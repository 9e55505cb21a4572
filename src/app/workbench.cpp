#include "app/workbench.h"

#include <algorithm>
#include <atomic>
#include <charconv>
#include <chrono>
#include <cstdio>
#include <fmt/format.h>
#include <functional>
#include <httplib.h>
#include <mutex>
#include <optional>
#include <thread>

#include "app/files.h"
#include "app/house.h"
#include "app/hub.h"
#include "report/elevations.h"
#include "report/json.h"
#include "report/live.h"

namespace warmside::app {

namespace {

using namespace std::chrono_literals;

/// Passes what the engine streams to the hub; forgets it when a newer edit has come.
class HubStream : public answer::Stream {
public:
    HubStream(Hub& hub, report::Feed& feed, unsigned long generation, std::function<void()> on_steady)
        : hub_(hub), feed_(feed), generation_(generation), on_steady_(std::move(on_steady)) {}
    void steady(const answer::RungAnswer& rung) override {
        const auto event = feed_.steady(rung);
        if (!event.empty()) on_steady_();
        hub_.publish(generation_, event);
    }
    void column(const std::string& rung, int column, std::span<const float> humidity) override {
        hub_.publish(generation_, feed_.column(rung, column, humidity));
    }
    void priced(const answer::RungAnswer& rung) override { hub_.publish(generation_, feed_.priced(rung)); }
    void finished(const answer::RungAnswer& rung) override {
        hub_.publish(generation_, feed_.finished(rung));
    }

private:
    Hub& hub_;
    report::Feed& feed_;
    unsigned long generation_;
    std::function<void()> on_steady_;  // before the page gets the steady figures of all rungs
};

/// What the page request hands out: the last complete answer, or the problems when there was never one.
class Page {
public:
    void set(std::string html) {
        const std::lock_guard lock(guard_);
        html_ = std::move(html);
    }
    [[nodiscard]] std::string get() {
        const std::lock_guard lock(guard_);
        return html_;
    }

private:
    std::mutex guard_;
    std::string html_;
};

/// Watches the house file and its weather file; one engine, one generation at a time, the latest edit wins.
class Workbench {
public:
    Workbench(std::string file, StopToken stop) : file_(std::move(file)), stop_(std::move(stop)) {}

    /// The first reading, so that a page is there before the first request.
    void open() {
        text_ = read_file(file_).value_or(std::string{});
        begin();
    }

    void watch() {
        while (!stop_.stopped()) {
            std::this_thread::sleep_for(60ms);
            auto text = read_file(file_);
            // An editor that replaces the file leaves a moment without one: the next look finds it.
            if (!text || *text == text_) continue;
            // One that writes in place leaves a moment with half of it: what counts stands still.
            std::this_thread::sleep_for(20ms);
            if (const auto again = read_file(file_); !again || *again != *text) continue;
            text_ = std::move(*text);
            begin();
        }
        finish();
    }

    Hub hub;
    Page page;
    report::Elevations elevations;

private:
    void begin() {
        finish();
        const auto generation = ++generation_;
        auto loaded = std::make_shared<LoadedHouse>(load_house(file_));
        if (!loaded->house) {
            hub.begin(generation);
            hub.publish(generation, report::problem_event(generation, loaded->problems));
            if (!ever_good_) page.set(report::live_page(loaded->problems));
            return;
        }
        if (!ever_good_) page.set(report::live_page(*loaded->house));
        ever_good_ = true;
        current_.emplace();
        worker_ = std::jthread(
            [this, loaded, generation, stop = current_->token()] { answer(loaded, generation, stop); });
    }

    void answer(const std::shared_ptr<const LoadedHouse>& loaded, unsigned long generation,
                const StopToken& stop) {
        const assembly::House& house = *loaded->house;
        answer::Ask ask;
        ask.weather = loaded->weather;
        ask.prices = loaded->prices;
        report::Feed feed(house, generation, ask.moisture.carpet_columns);
        hub.begin(generation);
        hub.publish(generation, feed.generation());
        HubStream stream(hub, feed, generation,
                         [&] { elevations.set({loaded, loaded->house.get()}, feed.known()); });
        const auto answer = engine_.answer(house, ask, {.stop = stop, .progress = nullptr}, &stream);
        if (answer) {
            hub.publish(generation, feed.finished(*answer));
            page.set(report::live_page(house, &*answer));
        } else if (answer.error().code != Code::stopped) {
            hub.publish(generation, report::problem_event(generation, std::span(&answer.error(), 1)));
        }
    }

    /// Stops the generation that runs, if one does, and waits for it: the engine serves one caller at a time.
    void finish() {
        if (current_) current_->stop();
        if (worker_.joinable()) worker_.join();
        current_.reset();
    }

    std::string file_, text_;
    StopToken stop_;
    answer::Engine engine_;
    std::optional<StopSource> current_;
    std::jthread worker_;
    unsigned long generation_ = 0;
    bool ever_good_ = false;
};

bool is_ours(const httplib::Request& request, int port) {
    const auto host = request.get_header_value("Host");
    const auto here = {fmt::format("127.0.0.1:{}", port), fmt::format("localhost:{}", port)};
    if (std::find(here.begin(), here.end(), host) == here.end()) return false;
    const auto origin = request.get_header_value("Origin");
    return origin.empty() || std::any_of(here.begin(), here.end(),
                                         [&](const auto& each) { return origin == "http://" + each; });
}

void route(httplib::Server& server, Workbench& bench, const std::atomic<int>& port) {
    server.new_task_queue = [] { return new httplib::ThreadPool(32); };
    server.set_pre_routing_handler([&port](const httplib::Request& request, httplib::Response& response) {
        if (is_ours(request, port)) return httplib::Server::HandlerResponse::Unhandled;
        response.status = 403;
        response.set_content("this page is served to this machine only\n", "text/plain");
        return httplib::Server::HandlerResponse::Handled;
    });
    server.set_default_headers({{"Content-Security-Policy",
                                 "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; "
                                 "img-src data:; font-src data:; "
                                 "connect-src 'self'"},
                                {"X-Content-Type-Options", "nosniff"},
                                {"Cache-Control", "no-store"}});
    server.Get("/", [&bench](const httplib::Request&, httplib::Response& response) {
        response.set_content(bench.page.get(), "text/html; charset=utf-8");
    });
    server.Get("/elevation", [&bench](const httplib::Request& request, httplib::Response& response) {
        const auto asked = request.get_param_value("panel");
        std::size_t panel = 0;
        const auto [end, error] = std::from_chars(asked.data(), asked.data() + asked.size(), panel);
        std::optional<std::string> drawing;
        if (error == std::errc{} && end == asked.data() + asked.size())
            drawing = bench.elevations.svg(request.get_param_value("rung"), panel,
                                           request.get_param_value("shown"));
        response.status = drawing ? 200 : 404;
        response.set_content(drawing.value_or("there is no such drawing\n"),
                             drawing ? "text/html; charset=utf-8" : "text/plain");
    });
    server.Get("/favicon.ico",
               [](const httplib::Request&, httplib::Response& response) { response.status = 204; });
    server.Get("/events", [&bench](const httplib::Request&, httplib::Response& response) {
        auto cursor = std::make_shared<Hub::Cursor>();
        response.set_chunked_content_provider(
            "text/event-stream", [&bench, cursor](std::size_t, httplib::DataSink& sink) {
                const auto text = bench.hub.next(*cursor, 20s);
                if (!text) {
                    sink.done();
                    return true;
                }
                const std::string_view out =
                    text->empty() ? std::string_view(": still here\n\n") : std::string_view(*text);
                return sink.write(out.data(), out.size());
            });
    });
}

}  // namespace

Result<void> serve(const std::string& house_file, const WorkbenchOptions& options, StopSource& stop) {
    if (const auto text = read_file(house_file); !text) return fail(Problem(text.error()));
    Workbench bench(house_file, stop.token());
    httplib::Server server;
    std::atomic<int> port{options.port};
    route(server, bench, port);
    if (options.port == 0) {
        port = server.bind_to_any_port("127.0.0.1");
    } else if (!server.bind_to_port("127.0.0.1", options.port)) {
        port = -1;
    }
    if (port < 0) {
        return fail(Code::input_output, options.port
                                            ? fmt::format("port {} is taken or not allowed", options.port)
                                            : std::string("no port can be had on this machine"));
    }
    const auto address = fmt::format("http://127.0.0.1:{}/", port.load());
    bench.open();
    if (options.announce) {
        if (options.json) {
            fmt::print("{}\n", report::dump_line({{"schema", report::schema}, {"address", address}}));
        } else {
            fmt::print("{}\nFollows {} until Ctrl-C.\n", address, house_file);
        }
        std::fflush(stdout);
    }
    std::jthread watcher([&] {
        bench.watch();
        bench.hub.close();
        server.stop();
    });
    server.listen_after_bind();
    stop.stop();
    return {};
}

}  // namespace warmside::app
