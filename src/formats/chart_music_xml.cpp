#include "formats/chart_music_xml.h"

#include "formats/music_xml_parts.h"

namespace gripline {

namespace {

class ChartWriter {
public:
    explicit ChartWriter(const Chart& chart) : chart_(chart) {}

    std::string write() {
        const XmlDocument document(music_xml::kDoctype);
        const XmlNode score = music_xml::add_score(document, chart_.title);
        add_comments(score);
        const XmlNode part = music_xml::add_guitar(score);
        for (std::size_t i = 0; i < chart_.bars.size(); ++i) add_bar(part, i);
        return document.text();
    }

private:
    const Chart& chart_;
    const std::vector<int>* ending_ = nullptr;  // the one that was opened last
    std::size_t ending_end_ = 0;

    [[nodiscard]] const Bar& bar_at(std::size_t i) const { return chart_.bars[i]; }

    void add_comments(XmlNode score) const {
        XmlNode fields;
        const auto add = [&](const std::string& name, const std::vector<std::string>& comments) {
            for (const std::string& comment : comments) {
                if (!fields) fields = score.add("identification").add("miscellaneous");
                fields.add("miscellaneous-field", comment).set("name", name);
            }
        };
        for (std::size_t i = 0; i < chart_.bars.size(); ++i) add("comment above bar " + std::to_string(i + 1), bar_at(i).comments);
        add("comment", chart_.comments);
    }

    void add_bar(XmlNode part, std::size_t i) {
        const Bar& bar = bar_at(i);
        const XmlNode measure = part.add("measure").set("number", static_cast<int>(i) + 1);
        if (i > 0 && bar.starts_row) measure.add("print").set("new-system", "yes");
        add_left_line(measure, bar);
        add_attributes(measure, i);
        music_xml::add_section(measure, bar.section);
        if (i == 0) music_xml::add_tempo(measure, chart_);
        const int count = bar.meter.unit == 8 ? 1 : 2;  // eighths
        for (const PlacedChord& chord : bar.chords) {
            if (chord.scale) measure.add("direction").set("placement", "below").add("direction-type").add("words", "walk on " + chord.scale->text());
            music_xml::add_harmony(measure, chord, 0);
            add_rests(measure, chord.beats * count);
        }
        add_right_line(measure, i);
    }

    void add_attributes(XmlNode measure, std::size_t i) const {
        const Bar& bar = bar_at(i);
        const bool new_meter = i == 0 || bar.meter != bar_at(i - 1).meter, repeated_before = i > 0 && bar_at(i - 1).repeats_last;
        if (!new_meter && bar.repeats_last == repeated_before) return;
        const XmlNode attributes = measure.add("attributes");
        if (i == 0) attributes.add("divisions", music_xml::kDivisions);
        if (i == 0 && chart_.key) music_xml::add_key(attributes, *chart_.key);
        if (new_meter) music_xml::add_time(attributes, bar.meter);
        if (i == 0) {
            const XmlNode clef = attributes.add("clef");
            clef.add("sign", "G");
            clef.add("line", 2);
            attributes.add("measure-style").add("slash").set("type", "start").set("use-stems", "no");
        }
        if (bar.repeats_last != repeated_before) {
            const XmlNode repeat = bar.repeats_last ? attributes.add("measure-style").add("measure-repeat", 1) : attributes.add("measure-style").add("measure-repeat");
            repeat.set("type", bar.repeats_last ? "start" : "stop");
        }
    }

    static std::string numbers(const std::vector<int>& endings) {
        std::string out;
        for (const int each : endings) out += (out.empty() ? "" : ", ") + std::to_string(each);
        return out;
    }

    static void add_left_line(XmlNode measure, const Bar& bar) {
        if (bar.endings.empty() && !bar.opens_repeat) return;
        const XmlNode line = measure.add("barline").set("location", "left");
        if (bar.opens_repeat) line.add("bar-style", "heavy-light");
        if (!bar.endings.empty()) line.add("ending").set("number", numbers(bar.endings)).set("type", "start");
        if (bar.opens_repeat) line.add("repeat").set("direction", "forward");
    }

    /// The bar whose right line ends the ending that starts at `first`: that of the closing sign, or itself when no sign closes it.
    [[nodiscard]] std::size_t ending_end(std::size_t first) const {
        for (std::size_t i = first; i < chart_.bars.size(); ++i) {
            if (i > first && (!bar_at(i).endings.empty() || bar_at(i).opens_repeat)) break;
            if (bar_at(i).closes_repeat > 0) return i;
        }
        return first;
    }

    void add_right_line(XmlNode measure, std::size_t i) {
        const Bar& bar = bar_at(i);
        if (!bar.endings.empty()) {
            ending_ = &bar.endings;
            ending_end_ = ending_end(i);
        }
        const bool ends = ending_ && ending_end_ == i, last = i + 1 == chart_.bars.size();
        if (!ends && !last && bar.closes_repeat == 0) return;
        const XmlNode line = measure.add("barline").set("location", "right");
        if (last || bar.closes_repeat > 0) line.add("bar-style", "light-heavy");
        if (ends) line.add("ending").set("number", numbers(*ending_)).set("type", bar.closes_repeat > 0 ? "stop" : "discontinue");
        if (bar.closes_repeat == 0) return;
        const XmlNode repeat = line.add("repeat").set("direction", "backward");
        if (bar.closes_repeat != 2) repeat.set("times", bar.closes_repeat);
    }

    static void add_rests(XmlNode measure, int eighths) {
        while (eighths > 0) {
            const music_xml::NoteValue& value = music_xml::longest_within(eighths);
            const XmlNode note = measure.add("note");
            note.add("rest");
            note.add("duration", value.eighths);
            note.add("voice", 1);
            note.add("type", value.type);
            if (value.dot) note.add("dot");
            eighths -= value.eighths;
        }
    }
};

}  // namespace

std::string chart_music_xml(const Chart& chart) { return ChartWriter(chart).write(); }

}  // namespace gripline
