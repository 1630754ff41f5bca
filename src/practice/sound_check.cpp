#include "practice/sound_check.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

#include "practice/tuner.h"

namespace gripline {
namespace {

constexpr double kStill_s = 2.0;        // long enough for the meter's hum (1.5 s)
constexpr double kLevelEvery_s = 0.05;  // as long as the sound behind one level (InputState::level_db)
constexpr double kLoudRoom_db = -30.0;  // louder than this is no room but a strum, or talk (judgement)
/// A strum rings down by some 15 dB a second (input_meter.cpp), so levels of two seconds with one in them span 30 dB; of a steady room they lie within 4 dB (judgement).
constexpr double kStillSpan_db = 10.0;
/// The room is what a fifth of the still time is softer than: a cough, a chair or the end of a ring is not the room.
constexpr double kRoomShare = 0.2;
constexpr double kPatience_s = 12.0;    // a room that is never still, such as one with talk in it, is taken as it is after so long (judgement)
constexpr int kStrums = 3;
constexpr const char* kNotStill = "Something still sounds: be still until the strings are.";
constexpr const char* kNoSignal = "No signal: if that stays when you strum, check cable, volume, mute and the input's switches.";

std::string whole(double number) { return std::to_string(std::lround(number)); }

}  // namespace

void SoundCheck::begin_anew(double now_s) {
    *this = SoundCheck(a4_hz_);
    begun_s_ = still_from_s_ = now_s;
}

void SoundCheck::note_level(double now_s, double level_db) {
    if (!levels_.empty() && now_s - levels_.back().at_s < kLevelEvery_s) return;
    levels_.push_back({now_s, level_db});
    while (now_s - levels_.front().at_s > kStill_s) levels_.pop_front();
}

double SoundCheck::room_db() const {
    std::vector<double> levels;
    for (const Level& level : levels_) levels.push_back(level.level_db);
    const auto at = levels.begin() + static_cast<std::ptrdiff_t>(kRoomShare * static_cast<double>(levels.size()));
    std::nth_element(levels.begin(), at, levels.end());
    return *at;
}

bool SoundCheck::still(double now_s) const {
    if (now_s - still_from_s_ < kStill_s) return false;
    const auto loudest = std::max_element(levels_.begin(), levels_.end(), [](const Level& a, const Level& b) { return a.level_db < b.level_db; });
    return loudest->level_db - room_db() <= kStillSpan_db || now_s - begun_s_ >= kPatience_s;
}

void SoundCheck::pass(double now_s, const InputCondition& input) {
    if (begun_s_ < 0.0) begun_s_ = still_from_s_ = now_s;
    if (!input.there) {
        begin_anew(now_s);
        trouble_ = "The input is lost: check cable and device.";
        return;
    }
    note_level(now_s, input.level_db);
    if (stage_ != CheckStage::still) {
        noise_db_ = std::min(noise_db_, room_db());  // a strum in it makes no room softer than it is
        if (stage_ == CheckStage::strums && input.clipping) trouble_ = "The input clips: turn the guitar or the input down, and strum again.";
        else if (stage_ == CheckStage::strums && input.silent) trouble_ = kNoSignal;
        else if (trouble_ == kNoSignal) trouble_.clear();
        return;
    }
    trouble_.clear();
    if (input.hum) trouble_ = "Mains hum: check the cable, move away from lamps, screens and power supplies.";
    else if (input.level_db > kLoudRoom_db) trouble_ = "It is too loud to begin: be still for a moment.";
    if (!trouble_.empty()) {
        still_from_s_ = now_s;
        levels_.clear();
        return;
    }
    if (still(now_s)) {
        noise_db_ = room_db();
        stage_ = CheckStage::strums;
    } else if (now_s - still_from_s_ >= kStill_s) {
        trouble_ = kNotStill;
    }
}

void SoundCheck::strum(double level_db, std::optional<double> tuning_cents) {
    if (stage_ != CheckStage::strums) return;
    if (level_db < kSoftestStrum_db) {
        trouble_ = "Too soft (" + whole(level_db) + " dB): turn the guitar or the input up to " + whole(kSoftestStrum_db) + " dB or more.";
        return;
    }
    if (level_db - noise_db_ < kLeastAboveNoise_db) {
        trouble_ = "Only " + whole(std::floor(level_db - noise_db_)) + " dB above the room's noise; " + whole(kLeastAboveNoise_db) +
                   " are needed: play louder, or be still for two seconds with all strings muted and strum again; a quieter room helps. The key c begins the check anew.";
        return;
    }
    trouble_.clear();
    loudest_db_ = std::max(loudest_db_, level_db);
    if (tuning_cents) tunings_[tuned_++] = against_concert_pitch(*tuning_cents, a4_hz_);
    if (++strums_ < kStrums) return;
    const std::span tunings(tunings_, static_cast<std::size_t>(tuned_));
    std::sort(tunings.begin(), tunings.end());
    tuning_cents_ = tuned_ > 0 ? tunings[tunings.size() / 2] : 0.0;
    const bool agree = tuned_ == kStrums && tunings.back() - tunings.front() <= 2.0 * kStrumsAgree_cents;
    if (agree && std::abs(tuning_cents_) > kTooFarOut_cents) {
        const std::string words = out_of_tune_words(tuning_cents_) + " (gripline tune helps), then strum three times again.";
        strums_ = tuned_ = 0;
        trouble_ = words;
        return;
    }
    stage_ = CheckStage::good;
}

std::string SoundCheck::words() const {
    switch (stage_) {
        case CheckStage::still: return "Be still for a moment: the room is listened to.";
        case CheckStage::strums: return "Strum any chord, as loud as you will play: " + std::to_string(strums_) + " of " + std::to_string(kStrums) + ".";
        default: return "The sound is good.";
    }
}

}  // namespace gripline
