#include "audio/sound_card.h"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <functional>
#include <future>
#include <optional>
#include <thread>

#include "base/clock.h"

namespace gripline {
namespace {

constexpr int kPreferredRates_hz[] = {48000, 44100};
/// Room for sound waiting to be played: ten seconds at 48 kHz.
constexpr std::size_t kOutputRoom_frames = 480000;
constexpr double kFarewell_s = 1.5;

/// Keeps a stream that can't be closed, and with it the feed that its callback may still touch, until the program ends; never destroyed.
void leave_behind(std::unique_ptr<HostStream> stream) {
    static auto* const left = new std::vector<HostStream*>;
    static auto* const lock = new std::mutex;
    const std::lock_guard guard(*lock);
    left->push_back(stream.release());
}

std::chrono::duration<double> wait_for_s(double seconds) { return std::chrono::duration<double>(seconds); }

}  // namespace

SoundLine::SoundLine(StreamPlan plan_, bool system_default_, int only_channel)
    : plan(std::move(plan_)), system_default(system_default_),
      in(plan.direction == SoundDirection::input ? std::make_shared<InputFeed>(InputFeedConfig{.rate_hz = plan.rate_hz, .only_channel = only_channel}) : nullptr),
      out(plan.direction == SoundDirection::output ? std::make_shared<OutputFeed>(kOutputRoom_frames) : nullptr) {}

std::string SoundLine::trouble() const {
    const std::lock_guard lock(words_);
    return trouble_;
}

void SoundLine::set(SourceState state, const std::string& trouble) {
    const std::lock_guard lock(words_);
    trouble_ = trouble;
    state_.store(state, std::memory_order_release);
}

/// Shared by the card and its thread, so that a thread that hangs in the library can be left behind.
struct SoundCard::Inside {
    /// A line and its stream, seen by the card's thread only.
    struct Open {
        std::shared_ptr<SoundLine> line;
        std::unique_ptr<HostStream> stream;
        StreamWatch watch;
        std::optional<std::uint64_t> reopened_at_block{};  ///< the line stays lost until it has had another
    };

    std::unique_ptr<AudioHost> host;
    SoundCardConfig config;
    SteadyClock clock;
    std::vector<Device> found;
    std::vector<Open> lines;
    bool begun = false, dead = false;  // dead: the library must not be called again
    double retry_at_s = 0.0;

    std::mutex jobs_lock;
    std::condition_variable wake;
    std::deque<std::function<void()>> jobs;
    bool quitting = false;
    std::promise<void> gone;

    void run();
    void close_all();
    void drop_let_go();
    void look();
    [[nodiscard]] bool newly_lost(Open& open);
    void bring_back();
    [[nodiscard]] bool reopen(Open& open);
    Result<std::vector<Device>> begin_anew();
    Result<std::shared_ptr<SoundLine>> open(const LineChoice& choice, SoundDirection direction);
    [[nodiscard]] Result<std::unique_ptr<HostStream>> start(const StreamPlan& plan, const SoundLine& line);

    template <class T>
    Result<T> ask(const std::shared_ptr<Inside>& self, std::function<Result<T>(Inside&)> what);
};

void SoundCard::Inside::run() {
    for (;;) {
        std::function<void()> job;
        {
            std::unique_lock lock(jobs_lock);
            const auto called = [this] { return quitting || !jobs.empty(); };
            if (lines.empty()) wake.wait(lock, called);
            else wake.wait_for(lock, wait_for_s(config.look_s), called);
            if (quitting) break;
            if (!jobs.empty()) {
                job = std::move(jobs.front());
                jobs.pop_front();
            }
        }
        if (job) job();
        drop_let_go();
        look();
    }
    if (!dead) {
        lines.clear();
        if (begun) host->end();
    }
    gone.set_value();
}

void SoundCard::Inside::drop_let_go() {
    std::erase_if(lines, [](const Open& open) { return open.line->is_let_go(); });
}

void SoundCard::Inside::look() {
    if (dead) return;
    bool input_lost = false, output_lost = false, input_runs = false;
    for (Open& open : lines) {
        if (open.reopened_at_block && open.line->blocks() != *open.reopened_at_block) {
            open.reopened_at_block.reset();
            open.line->set(SourceState::running, "");
        }
        const bool awaited = open.reopened_at_block.has_value();
        const bool lost = (!awaited && open.line->state() == SourceState::lost) || newly_lost(open);
        if (awaited && !lost) continue;
        if (open.line->plan.direction == SoundDirection::output) output_lost = output_lost || lost;
        else (lost ? input_lost : input_runs) = true;
        if (dead) return;
    }
    // A lost output alone is not worth breaking off an input that runs.
    if ((input_lost || (output_lost && !input_runs)) && clock.now_s() >= retry_at_s) bring_back();
}

bool SoundCard::Inside::newly_lost(Open& open) {
    if (!open.watch.lost(clock.now_s(), open.line->blocks(), open.stream->active())) return false;
    const std::string name = open.line->plan.device.name;
    if (!open.stream->may_close()) {
        dead = true;
        for (Open& each : lines) {
            each.line->set(SourceState::lost, "the sound server behind " + name + " has gone: start it again, then quit and start gripline again");
            leave_behind(std::move(each.stream));
        }
        return true;
    }
    open.line->set(SourceState::lost, name + " gives no sound any more: check its cable and the sound server; looking for it again");
    retry_at_s = clock.now_s();
    return true;
}

void SoundCard::Inside::bring_back() {
    for (Open& open : lines) {
        if (open.line->state() != SourceState::lost) open.line->set(SourceState::lost, open.line->plan.device.name + " is being opened again");
        open.stream.reset();
        open.reopened_at_block.reset();
    }
    if (begin_anew())
        for (Open& open : lines)
            if (!reopen(open)) break;
    retry_at_s = clock.now_s() + config.retry_s;
}

bool SoundCard::Inside::reopen(Open& open) {
    StreamPlan plan = open.line->plan;
    const auto same = [&](const Device& d) { return d.name == plan.device.name && d.host_api == plan.device.host_api; };
    const auto at = std::find_if(found.begin(), found.end(), same);
    if (open.line->system_default) {
        const auto chosen = choose_device(found, "", plan.direction);
        if (chosen) plan.device = *chosen;
        else return false;
    } else if (at != found.end()) {
        plan.device = *at;
    } else {
        return false;
    }
    const int channels = plan.direction == SoundDirection::input ? plan.device.inputs : plan.device.outputs;
    plan.channels = std::min(plan.channels, std::max(1, channels));
    auto stream = start(plan, *open.line);
    if (!stream) {
        open.line->set(SourceState::lost, stream.error().message + "; trying again");
        return false;
    }
    open.stream = std::move(*stream);
    open.watch = StreamWatch(config.watch);
    open.watch.begin(clock.now_s(), open.line->blocks());
    open.reopened_at_block = open.line->blocks();  // lost until it sounds: an opened stream may stay silent
    return true;
}

Result<std::vector<Device>> SoundCard::Inside::begin_anew() {
    auto devices = host->begin();
    begun = devices.ok();
    found = begun ? *devices : std::vector<Device>{};
    return devices;
}

Result<std::unique_ptr<HostStream>> SoundCard::Inside::start(const StreamPlan& plan, const SoundLine& line) {
    if (line.in) line.in->forget_time();
    return line.in ? host->open(plan, line.in) : host->open(plan, line.out);
}

Result<std::shared_ptr<SoundLine>> SoundCard::Inside::open(const LineChoice& choice, SoundDirection direction) {
    if (lines.empty()) {
        const auto devices = begin_anew();
        if (!devices) return devices.error();
    }
    auto device = choose_device(found, choice.device, direction);
    if (!device) return device.error();
    const int channels = direction == SoundDirection::input ? device->inputs : device->outputs;
    if (choice.only_channel > channels)
        return Error{device->name + " has no channel " + std::to_string(choice.only_channel) + " (1 to " + std::to_string(channels) + ")"};
    StreamPlan plan{.device = *device, .direction = direction, .channels = std::max(std::min(channels, 2), choice.only_channel), .rate_hz = choice.rate_hz};
    if (choice.rate_hz == 0) {
        plan.rate_hz = static_cast<int>(device->default_rate_hz);
        for (const int rate_hz : kPreferredRates_hz) {
            StreamPlan wish = plan;
            wish.rate_hz = rate_hz;
            if (!host->takes_rate(wish)) continue;
            plan = wish;
            break;
        }
    }
    const auto line = std::make_shared<SoundLine>(plan, choice.device.empty(), choice.only_channel);
    auto stream = start(plan, *line);
    if (!stream) return stream.error();
    lines.push_back({line, std::move(*stream), StreamWatch(config.watch)});
    lines.back().watch.begin(clock.now_s(), 0);
    return line;
}

/// Has something done on the card's thread, and waits for the answer, but not for ever. An answer that comes too late is dropped.
template <class T>
Result<T> SoundCard::Inside::ask(const std::shared_ptr<Inside>& self, std::function<Result<T>(Inside&)> what) {
    const auto answer = std::make_shared<std::promise<Result<T>>>();
    auto coming = answer->get_future();
    {
        const std::lock_guard lock(jobs_lock);
        jobs.emplace_back([self = self.get(), answer, what = std::move(what)] {
            if (self->dead) answer->set_value(Error{"the sound server has gone: start it again, then quit and start gripline again"});
            else answer->set_value(what(*self));
        });
    }
    wake.notify_one();
    if (coming.wait_for(wait_for_s(config.answer_s)) != std::future_status::ready)
        return Error{"the sound system has not answered for " + std::to_string(static_cast<int>(config.answer_s)) + " s: restart the sound server, then gripline"};
    return coming.get();
}

SoundCard::SoundCard() : SoundCard(make_port_audio()) {}

SoundCard::SoundCard(std::unique_ptr<AudioHost> host, const SoundCardConfig& config) : inside_(std::make_shared<Inside>()) {
    inside_->host = std::move(host);
    inside_->config = config;
    std::thread([inside = inside_] { inside->run(); }).detach();  // ended by the destructor, or left behind when the library hangs
}

SoundCard::~SoundCard() {
    auto gone = inside_->gone.get_future();
    {
        const std::lock_guard lock(inside_->jobs_lock);
        inside_->quitting = true;
    }
    inside_->wake.notify_one();
    gone.wait_for(wait_for_s(kFarewell_s));
}

Result<std::vector<Device>> SoundCard::devices() {
    return inside_->ask<std::vector<Device>>(inside_, [](Inside& inside) -> Result<std::vector<Device>> {
        if (inside.lines.empty()) return inside.begin_anew();
        return inside.found;
    });
}

Result<std::shared_ptr<SoundLine>> SoundCard::open(const LineChoice& choice, SoundDirection direction) {
    return inside_->ask<std::shared_ptr<SoundLine>>(inside_, [choice, direction](Inside& inside) { return inside.open(choice, direction); });
}

}  // namespace gripline
