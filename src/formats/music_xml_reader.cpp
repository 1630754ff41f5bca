#include "formats/music_xml_reader.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.h"
#include "formats/music_xml_harmony.h"
#include "formats/music_xml_parts.h"

namespace gripline {

namespace {

using Trouble = std::optional<Error>;

constexpr double kMostDivisions = 1e6, kLongestBar_quarters = 1e4;  // bounds of sense: the finest divisions in use are below 20,000
constexpr double kNoLength = 1e-9;
constexpr int kMostTimes = 99, kMostEnding = 9;  // as chart_text.cpp reads them

/// The measures of the first part that has chords; of the first part when none has.
Result<std::vector<XmlNode>> measures_of(XmlNode root) {
    const auto has_chord = [](XmlNode measure) { return static_cast<bool>(measure.child("harmony")); };
    std::vector<XmlNode> first;
    if (root.name() == "score-partwise") {
        for (XmlNode part = root.child("part"); part; part = part.next("part")) {
            std::vector<XmlNode> measures;
            for (XmlNode measure = part.child("measure"); measure; measure = measure.next("measure")) measures.push_back(measure);
            if (std::any_of(measures.begin(), measures.end(), has_chord)) return measures;
            if (first.empty()) first = measures;
        }
    } else if (root.name() == "score-timewise") {
        std::string id;
        for (XmlNode measure = root.child("measure"); measure && id.empty(); measure = measure.next("measure"))
            for (XmlNode part = measure.child("part"); part && id.empty(); part = part.next("part"))
                if (has_chord(part)) id = part.attribute("id");
        for (XmlNode measure = root.child("measure"); measure; measure = measure.next("measure"))
            for (XmlNode part = measure.child("part"); part; part = part.next("part"))
                if (part.attribute("id") == id) first.push_back(part);
    } else {
        return Error{"the outermost element is " + quoted(root.name()) + "; a score is score-partwise or score-timewise"};
    }
    if (first.empty()) return Error{"the score has no measures"};
    return first;
}

/// Reads one part from its first measure to its last.
class PartReader {
public:
    ChartBuilder builder;

    Trouble measure(XmlNode node) {
        const bool first = builder.chart.bars.empty();
        for (XmlNode attributes = node.child("attributes"); attributes; attributes = attributes.next("attributes"))
            if (auto bad = meter(attributes)) return bad;
        const auto length = length_of(node);
        if (!length) return length.error();
        const bool implicit = node.attribute("implicit") == "yes";
        const double whole = meter_.counts() * count_quarters();
        if (first && !pickup_seen_ && (implicit || node.attribute("number") == "0") && *length < whole - kNoLength) {
            pickup_seen_ = true;
            builder.remark("a pickup bar is left out");
            return pickup(node);
        }
        base_ = !first && implicit && last_length_ + *length <= whole + kNoLength ? last_length_ : 0.0;
        if (base_ > 0.0) {
            builder.remark("a bar that is split in two is read as one");
        } else {
            if (auto bad = builder.open_bar(meter_)) return bad;
            builder.bar().repeats_last = repeating_;
        }
        last_length_ = base_ + *length;
        now_ = base_;
        for (XmlNode each = node.child(); each; each = each.next())
            if (auto bad = element(each)) return bad;
        return std::nullopt;
    }

private:
    Meter meter_;
    double divisions_ = 1.0;
    double now_ = 0.0, base_ = 0.0, last_length_ = 0.0;  // quarters into the bar
    bool pickup_seen_ = false, tempo_seen_ = false, key_seen_ = false, key_told_ = false, jumps_told_ = false, repeating_ = false;
    std::optional<ChosenScale> scale_;  // waits for its chord

    [[nodiscard]] double count_quarters() const { return meter_.unit == 8 ? 0.5 : 1.0; }
    [[nodiscard]] Error here(const std::string& what) const {
        const std::size_t bars = builder.chart.bars.size();
        return {bars == 0 ? what : builder.place((now_) / count_quarters()) + what};
    }
    [[nodiscard]] Error in_bar(const std::string& what) const { return {"bar " + std::to_string(std::max<std::size_t>(1, builder.chart.bars.size())) + ": " + what}; }

    Trouble meter(XmlNode attributes) {
        const XmlNode time = attributes.child("time");
        if (!time) return std::nullopt;
        const Error next{"bar " + std::to_string(builder.chart.bars.size() + 1) + ": "};
        if (time.child("senza-misura")) return Error{next.message + "a bar without a meter; a chart's bars have one"};
        std::string text = time.child("beats").text() + "/" + time.child("beat-type").text();
        if (time.child("beats").next("beats")) text += "+...";
        const auto meter = Meter::parse(text);
        if (!meter) return Error{next.message + meter.error().message};
        meter_ = *meter;
        return std::nullopt;
    }

    /// What a pickup bar says of those that follow.
    Trouble pickup(XmlNode node) {
        for (XmlNode attributes = node.child("attributes"); attributes; attributes = attributes.next("attributes")) {
            if (auto bad = divisions(attributes)) return bad;
            key(attributes);
        }
        for (XmlNode each = node.child("direction"); each; each = each.next("direction")) direction_tempo(each);
        return std::nullopt;
    }

    Trouble divisions(XmlNode attributes) {
        const XmlNode node = attributes.child("divisions");
        if (!node) return std::nullopt;
        const auto number = number_of(node.text());
        if (!number || *number <= 0.0 || *number > kMostDivisions) return in_bar("divisions " + quoted(node.text()) + "; a number above 0, up to 1000000, is read");
        divisions_ = *number;
        return std::nullopt;
    }

    /// Quarters of a duration, 0 to kLongestBar_quarters.
    Result<double> duration(XmlNode node, double divisions) const {
        const std::string text = node.child("duration").text();
        const auto number = number_of(text);
        if (!number || *number < 0.0 || *number / divisions > kLongestBar_quarters) return in_bar("duration " + quoted(text) + "; a number from 0 on, that fits into a bar, is read");
        return *number / divisions;
    }

    /// How far the measure's notes reach.
    Result<double> length_of(XmlNode measure) const {
        double now = 0.0, most = 0.0, divisions = divisions_;
        for (XmlNode each = measure.child(); each; each = each.next()) {
            if (each.name() == "attributes")
                if (const auto number = number_of(each.child("divisions").text()); number && *number > 0.0) divisions = *number;
            const bool back = each.name() == "backup", note = each.name() == "note" && !each.child("grace") && !each.child("chord");
            if (!note && !back && each.name() != "forward") continue;
            const auto quarters = duration(each, divisions);
            if (!quarters) return quarters.error();
            now = std::max(0.0, now + (back ? -*quarters : *quarters));
            if (now > kLongestBar_quarters) return in_bar("the bar is more than 10000 quarter notes long; this is no score");
            most = std::max(most, now);
        }
        return most;
    }

    Trouble element(XmlNode node) {
        const std::string_view name = node.name();
        if (name == "note" || name == "forward" || name == "backup") return move(node);
        if (name == "harmony") return harmony(node);
        if (name == "attributes") return attributes(node);
        if (name == "direction") return direction(node);
        if (name == "sound") sound(node);
        if (name == "barline") return bar_line(node);
        if (name == "print" && (node.attribute("new-system") == "yes" || node.attribute("new-page") == "yes") && base_ == 0.0) builder.bar().starts_row = true;
        return std::nullopt;
    }

    Trouble move(XmlNode node) {
        if (node.child("grace") || node.child("chord")) return std::nullopt;
        const auto quarters = duration(node, divisions_);
        if (!quarters) return quarters.error();
        now_ = std::max(base_, now_ + (node.name() == "backup" ? -*quarters : *quarters));
        return std::nullopt;
    }

    Trouble attributes(XmlNode node) {
        if (auto bad = divisions(node)) return bad;
        key(node);
        if (const auto shift = number_of(node.child("transpose").child("chromatic").text()); shift && std::fmod(*shift, 12.0) != 0.0)
            return in_bar("the part is written for a transposing instrument (" + node.child("transpose").child("chromatic").text() + " semitones); export the score at concert pitch");
        for (XmlNode style = node.child("measure-style"); style; style = style.next("measure-style"))
            if (const XmlNode repeat = style.child("measure-repeat")) {
                repeating_ = repeat.attribute("type") == "start" && repeat.text() == "1";
                builder.bar().repeats_last = repeating_;
            }
        return std::nullopt;
    }

    void key(XmlNode attributes) {
        const XmlNode node = attributes.child("key");
        if (!node) return;
        const auto fifths = number_of(node.child("fifths").text());
        const bool whole = fifths && std::abs(*fifths) < 100.0 && std::floor(*fifths) == *fifths;
        const std::string mode = node.child("mode").text();
        const auto read = whole ? music_xml::key_of_fifths(static_cast<int>(*fifths), mode == "minor" || mode == "aeolian" || mode == "dorian" || mode == "phrygian") : Result<Key>(Error{"a key without a number of fifths"});
        if (!read) {
            builder.remark("the key is left out: " + read.error().message);
        } else if (!key_seen_) {
            builder.chart.key = *read;
            key_seen_ = true;
        } else if (*read != *builder.chart.key && !key_told_) {
            key_told_ = true;
            builder.remark("a change of key is left out; a chart has one key");
        }
    }

    Trouble harmony(XmlNode node) {
        const auto offset = number_of(node.child("offset").text());
        const double counts = (now_ + (offset ? *offset / divisions_ : 0.0)) / count_quarters();
        if (!(std::abs(counts) < kLongestBar_quarters)) return here("offset " + quoted(node.child("offset").text()) + " leads out of the bar");
        const auto chord = music_xml::read_harmony(node);
        if (!chord) return Error{builder.place(counts) + chord.error().message};
        if (chord->more) builder.remark("a chord over a chord: only " + (chord->symbol ? chord->symbol->text : "N.C.") + " is read");
        if (auto bad = builder.put(counts, chord->symbol, scale_)) return bad;
        scale_.reset();
        return std::nullopt;
    }

    Trouble direction(XmlNode node) {
        for (XmlNode type = node.child("direction-type"); type; type = type.next("direction-type")) {
            if (const XmlNode mark = type.child("rehearsal")) builder.bar().section = clean_section(mark.text());
            if (type.child("segno") || type.child("coda")) jump();
            const std::string words = type.child("words").text();
            constexpr std::string_view kWalkOn = "walk on ";  // chart_music_xml.cpp writes it
            if (words.starts_with(kWalkOn))
                if (const auto scale = ChosenScale::parse(words.substr(kWalkOn.size()))) scale_ = *scale;
        }
        direction_tempo(node);
        if (const XmlNode each = node.child("sound")) sound(each);
        return std::nullopt;
    }

    /// From the mark that players read, else from what sounds.
    void direction_tempo(XmlNode node) {
        for (XmlNode type = node.child("direction-type"); type; type = type.next("direction-type")) {
            const double unit = music_xml::quarters_of_beat(type.child("metronome"));
            if (const auto number = number_of(type.child("metronome").child("per-minute").text()); number && unit > 0.0) tempo(*number * unit);
        }
        if (const auto number = number_of(node.child("sound").attribute("tempo"))) tempo(*number);
    }

    void sound(XmlNode node) {
        for (const char* sign : {"dacapo", "dalsegno", "segno", "coda", "tocoda", "fine"})
            if (node.has(sign)) jump();
        if (const auto number = number_of(node.attribute("tempo"))) tempo(*number);  // of a direction, seen already
    }

    void jump() {
        if (std::exchange(jumps_told_, true)) return;
        builder.remark("D.C., D.S., segno, coda and fine are left out; write such repeats out");
    }

    void tempo(double quarters_a_minute) {
        if (std::exchange(tempo_seen_, true)) return;
        const double tempo_bpm = quarters_a_minute / count_quarters();
        builder.chart.tempo_bpm = std::clamp(tempo_bpm, kLeastTempo_bpm, kMostTempo_bpm);
        if (builder.chart.tempo_bpm != tempo_bpm) builder.remark("the tempo is not within 40 to 300 counts a minute and was moved there");
    }

    Trouble bar_line(XmlNode node) {
        if (const XmlNode ending = node.child("ending"); ending && ending.attribute("type") == "start")
            if (auto bad = open_ending(ending.attribute("number"))) return bad;
        const XmlNode repeat = node.child("repeat");
        if (!repeat) return std::nullopt;
        if (repeat.attribute("direction") == "forward") {
            builder.bar().opens_repeat = true;
            return std::nullopt;
        }
        const auto times = repeat.has("times") ? number_of(repeat.attribute("times")) : std::optional<double>(2.0);
        if (!times || *times < 1.0 || *times > kMostTimes || std::floor(*times) != *times) return in_bar("a repeat played " + quoted(repeat.attribute("times")) + " times; 2 to 99 are read");
        if (*times >= 2.0) builder.bar().closes_repeat = static_cast<int>(*times);
        return std::nullopt;
    }

    Trouble open_ending(const std::string& numbers) {
        if (trimmed(numbers).empty()) {
            builder.remark("an ending without a number is left out");
            return std::nullopt;
        }
        std::vector<int> endings;
        for (std::size_t at = 0; at <= numbers.size();) {
            const std::size_t end = std::min(numbers.find(',', at), numbers.size());
            const auto number = number_of(trimmed(std::string_view(numbers).substr(at, end - at)));
            if (!number || *number < 1.0 || *number > kMostEnding || std::floor(*number) != *number) return in_bar("ending " + quoted(numbers) + "; endings 1 to 9 are read");
            endings.push_back(static_cast<int>(*number));
            at = end + 1;
        }
        builder.bar().endings = std::move(endings);
        return std::nullopt;
    }
};

void read_head(XmlNode root, Chart& chart) {
    chart.title = clean_text(root.child("work").child("work-title").text());
    if (chart.title.empty()) chart.title = clean_text(root.child("movement-title").text());
}

/// Comments, once the bars are there to hold them.
void read_comments(XmlNode root, Chart& chart) {
    constexpr std::string_view kAbove = "comment above bar ";  // chart_music_xml.cpp writes them
    for (XmlNode field = root.child("identification").child("miscellaneous").child("miscellaneous-field"); field; field = field.next("miscellaneous-field")) {
        const std::string name = field.attribute("name");
        if (name == "comment") chart.comments.push_back(clean_text(field.text()));
        if (!name.starts_with(kAbove)) continue;
        const auto bar = number_of(std::string_view(name).substr(kAbove.size()));
        if (!bar || *bar < 1.0 || *bar > static_cast<double>(chart.bars.size()) || std::floor(*bar) != *bar) continue;
        Bar& above = chart.bars[static_cast<std::size_t>(*bar) - 1];
        above.starts_row = true;  // comments stand between rows
        above.comments.push_back(clean_text(field.text()));
    }
}

}  // namespace

Result<ImportedChart> read_music_xml(std::string_view bytes) {
    const auto document = XmlDocument::parse(bytes);
    if (!document) return document.error();
    const XmlNode root = document->root();
    const auto measures = measures_of(root);
    if (!measures) return measures.error();
    PartReader reader;
    read_head(root, reader.builder.chart);
    for (const XmlNode measure : *measures)
        if (auto bad = reader.measure(measure)) return *bad;
    auto out = reader.builder.finish();
    if (out) read_comments(root, out->chart);
    return out;
}

}  // namespace gripline
