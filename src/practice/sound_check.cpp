#include "practice/sound_check.h"

#include <algorithm>
#include <cmath>
#include <span>

#include "practice/tuner.h"

namespace gripline {
namespace {

constexpr double kStill_s = 2.0;     // long enough for the meter's hum and silence (1.5 and 2 s)
constexpr double kLoudRoom_db = -30.0;  // louder than this is no room but a strum, or talk (judgement)
constexpr int kStrums = 3;

std::string whole(double number) { return std::to_string(std::lround(number)); }

}  // namespace

void SoundCheck::begin_anew(double now_s) {
    *this = SoundCheck(a4_hz_);
    still_from_s_ = now_s;
}

void SoundCheck::pass(double now_s, const InputCondition& input) {
    if (still_from_s_ < 0.0) still_from_s_ = now_s;
    if (!input.there) {
        begin_anew(now_s);
        trouble_ = "The input is lost: check cable and device.";
        return;
    }
    if (stage_ != CheckStage::still) {
        if (stage_ == CheckStage::strums && input.clipping) trouble_ = "The input clips: turn the guitar or the input down, and strum again.";
        return;
    }
    trouble_.clear();
    if (input.silent) trouble_ = "No signal at all: check cable, volume, mute and the choice of input.";
    else if (input.hum) trouble_ = "Mains hum: check the cable, move away from lamps, screens and power supplies.";
    else if (input.level_db > kLoudRoom_db) trouble_ = "It is too loud to begin: be still for a moment.";
    if (!trouble_.empty()) {
        still_from_s_ = now_s;
        noise_db_ = -120.0;
        return;
    }
    noise_db_ = std::max(noise_db_, input.level_db);
    if (now_s - still_from_s_ >= kStill_s) stage_ = CheckStage::strums;
}

void SoundCheck::strum(double level_db, std::optional<double> tuning_cents) {
    if (stage_ != CheckStage::strums) return;
    if (level_db < kSoftestStrum_db) {
        trouble_ = "Too soft (" + whole(level_db) + " dB): turn the guitar or the input up to " + whole(kSoftestStrum_db) + " dB or more.";
        return;
    }
    if (level_db - noise_db_ < kLeastAboveNoise_db) {
        trouble_ = "Only " + whole(level_db - noise_db_) + " dB above the room's noise; " + whole(kLeastAboveNoise_db) + " are needed: play louder, or make the room quieter and wait.";
        noise_db_ = std::max(noise_db_ - 1.0, -120.0);  // a cough while being still must not keep a student out for ever
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
