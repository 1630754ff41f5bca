#include "formats/cases.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <sstream>

using namespace gripline;

namespace {

std::vector<CaseRow> rows_of(const std::string& text) {
    std::istringstream in(text);
    auto rows = read_cases(in);
    REQUIRE_MESSAGE(rows.ok(), rows.error().message);
    return *rows;
}

std::string list_error(const std::string& text) {
    std::istringstream in(text);
    const auto rows = read_cases(in);
    return rows.ok() ? "" : rows.error().message;
}

/// The error of the one row below the heading.
std::string row_error(const std::string& heading, const std::string& row) {
    const auto rows = rows_of(heading + "\n" + row + "\n");
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].strum.has_value() == rows[0].error.empty());
    return rows[0].error;
}

}  // namespace

TEST_CASE("a list of grips is read; other columns and their order don't matter") {
    const auto rows = rows_of("grip,remark,from_s,take,case\r\n3x23xx,\"loud, clear\",0.25,takes/one.wav,first\r\n10-x-9-10-x-x,,0,takes/two.wav,second\r\n");
    REQUIRE(rows.size() == 2);
    REQUIRE(rows[0].strum);
    CHECK(rows[0].strum->name == "first");
    CHECK(rows[0].strum->take == "takes/one.wav");
    CHECK(rows[0].strum->from_s == doctest::Approx(0.25));
    CHECK(rows[0].strum->target.grip == Grip::parse("3x23xx").value());
    CHECK(rows[0].strum->target.a4_hz == 440.0);
    REQUIRE(rows[1].strum);
    CHECK(rows[1].strum->target.grip->text() == "10-x-9-10-x-x");
}

TEST_CASE("capo and concert pitch are taken from their columns, or stay at 0 and 440") {
    const auto rows = rows_of("case,take,from_s,grip,capo,a4_hz\na,t.wav,0,3x23xx,2,415\nb,t.wav,0,3x23xx,,\n");
    REQUIRE(rows[0].strum);
    CHECK(rows[0].strum->target.capo == 2);
    CHECK(rows[0].strum->target.a4_hz == 415.0);
    REQUIRE(rows[1].strum);
    CHECK(rows[1].strum->target.capo == 0);
    CHECK(rows[1].strum->target.a4_hz == 440.0);
}

TEST_CASE("a chord label and its bass are asked in any voicing; labels by Harte et al. 2005") {
    const auto rows = rows_of("case,take,from_s,chord,bass\na,t.wav,0,C:maj6,any\nb,t.wav,0,A:min,E\nc,t.wav,0,G:7/3,\nd,t.wav,0,Bb:dim7,\n");
    const auto classes = [&](std::size_t row) {
        std::vector<int> out;
        for (const PitchClass pitch_class : rows[row].strum->target.chord) out.push_back(pitch_class.value());
        std::sort(out.begin(), out.end());
        return out;
    };
    for (const CaseRow& row : rows) REQUIRE_MESSAGE(row.strum, row.error);
    CHECK_FALSE(rows[0].strum->target.grip);
    CHECK(classes(0) == std::vector<int>{0, 4, 7, 9});
    CHECK_FALSE(rows[0].strum->target.bass);
    CHECK(classes(1) == std::vector<int>{0, 4, 9});
    CHECK(rows[1].strum->target.bass == PitchClass(4));
    CHECK(classes(2) == std::vector<int>{2, 5, 7, 11});
    CHECK(rows[2].strum->target.bass == PitchClass(11));
    CHECK(classes(3) == std::vector<int>{1, 4, 7, 10});
    CHECK(row_error("case,take,from_s,chord,bass", "a,t.wav,0,C:nonsense,any").starts_with("line 2, column chord: unknown "));
    CHECK(row_error("case,take,from_s,chord,bass", "a,t.wav,0,N,any").starts_with("line 2, column chord: "));
    CHECK(row_error("case,take,from_s,chord,bass", "a,t.wav,0,C:maj,H").starts_with("line 2, column bass: \"H\": "));
    CHECK(row_error("case,take,from_s,grip,chord", "a,t.wav,0,3x23xx,C:maj").find("only one of the two") != std::string::npos);
}

TEST_CASE("other tunings are read, and the grip must have a place for each string") {
    const auto rows = rows_of("case,take,from_s,grip,tuning\na,t.wav,0,0x023xx,B1 E2 A2 D3 G3 B3 E4\nb,t.wav,0,0x023x,D2 A2 D3 G3 B3 E4\nc,t.wav,0,3x23xx,H2 H3\n");
    REQUIRE_MESSAGE(rows[0].strum, rows[0].error);
    CHECK(rows[0].strum->target.tuning.strings() == 7);
    REQUIRE_MESSAGE(rows[1].strum, rows[1].error);
    CHECK(rows[1].strum->target.tuning.open(StringNumber(6)) == MidiNote(38));
    CHECK(rows[2].error.starts_with("line 2, column tuning: ") == false);
    CHECK(rows[2].error.starts_with("line 4, column tuning: "));
}

TEST_CASE("rows that can't be read say line, column, value and what is allowed; the others stand") {
    const std::string heading = "case,take,from_s,grip,capo,a4_hz";
    struct Row {
        const char* text;
        const char* starts;
    };
    const Row must_fail[] = {
        {"a,,0,3x23xx,,", "line 2, column take: "},
        {"a,t.wav,soon,3x23xx,,", "line 2, column from_s: \"soon\": seconds from 0 to 86400"},
        {"a,t.wav,-1,3x23xx,,", "line 2, column from_s: "},
        {"a,t.wav,nan,3x23xx,,", "line 2, column from_s: "},
        {"a,t.wav,inf,3x23xx,,", "line 2, column from_s: "},
        {"a,t.wav,,3x23xx,,", "line 2, column from_s: "},
        {"a,t.wav,1e9,3x23xx,,", "line 2, column from_s: "},
        {"a,t.wav,0,,,", "line 2, column grip: "},
        {"a,t.wav,0,3x23x,,", "line 2, column grip: "},
        {"a,t.wav,0,3y23xx,,", "line 2, column grip: "},
        {"a,t.wav,0,99-x-1-1-x-x,,", "line 2, column grip: "},
        {"a,t.wav,0,xxxxxx,,", "line 2, column grip: \"xxxxxx\": every string is muted"},
        {"a,t.wav,0,3x23xx,13,", "line 2, column capo: "},
        {"a,t.wav,0,3x23xx,-1,", "line 2, column capo: "},
        {"a,t.wav,0,3x23xx,2.5,", "line 2, column capo: "},
        {"a,t.wav,0,3x23xx,,300", "line 2, column a4_hz: "},
        {"a,t.wav,0,3x23xx,,A", "line 2, column a4_hz: "},
        {"a", "line 2, column take: "},
    };
    for (const Row& row : must_fail) {
        CAPTURE(row.text);
        const std::string error = row_error(heading, row.text);
        CAPTURE(error);
        CHECK(error.starts_with(row.starts));
    }
    const auto rows = rows_of("case,take,from_s,grip\na,t.wav,0,3x23xx\nb,t.wav,0,zzz\nc\"x\nd,t.wav,0,3x23xx\n");
    REQUIRE(rows.size() == 4);
    CHECK(rows[0].strum);
    CHECK_FALSE(rows[1].strum);
    CHECK(rows[1].name == "b");
    CHECK_FALSE(rows[2].strum);
    CHECK(rows[3].strum);
}

TEST_CASE("a list without a heading, a column or a row is refused as a whole") {
    CHECK(list_error("").starts_with("the list is empty"));
    CHECK(list_error("case,take,from_s,grip\n") == "the list has a heading and no rows");
    CHECK(list_error("case;take;from_s;grip\na;t.wav;0;3x23xx\n").find("no column \"case\"") != std::string::npos);
    CHECK(list_error("case,take,from_s\na,t.wav,0\n").find("neither a column \"grip\"") != std::string::npos);
    CHECK(list_error("case,take,take,from_s,grip\n").find("\"take\" stands twice") != std::string::npos);
    CHECK(list_error(std::string("\x7f" "ELF\0\0\1\n\"", 9)).starts_with("line 1: "));
}

TEST_CASE("garbage in every column gives an error, never a crash") {
    std::mt19937 random(7);  // NOLINT: the same garbage every time
    const std::string alphabet = "0123456789xX-.:,/#bABCG mja7\xE2\x99\xAD";
    for (int round = 0; round < 2000; ++round) {
        CsvRow row;
        row.line = 2;
        for (int i = 0; i < 9; ++i) {
            std::string text;
            for (unsigned length = random() % 12; length > 0; --length)
                text += random() % 8 == 0 ? static_cast<char>(random() % 256) : alphabet[random() % alphabet.size()];
            row.fields.push_back(text);
        }
        const CaseRow out = read_case(row, {0, 1, 2, 3, 4, 5, 6, 7, 8});
        CHECK(out.strum.has_value() == out.error.empty());
        row.fields = {"a", "t.wav", "0", row.fields[3], "", "", "", "", ""};
        const CaseRow grip_only = read_case(row, {0, 1, 2, 3, 4, 5, 6, 7, 8});
        CHECK(grip_only.strum.has_value() == grip_only.error.empty());
        row.fields = {"a", "t.wav", "0", "", row.fields[3] + "C:", row.fields[3], "", "", ""};
        const CaseRow chord_only = read_case(row, {0, 1, 2, 3, 4, 5, 6, 7, 8});
        CHECK(chord_only.strum.has_value() == chord_only.error.empty());
    }
}
