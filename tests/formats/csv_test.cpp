// RFC 4180, section 2: the rules are numbered there.
#include "formats/csv.h"

#include <doctest/doctest.h>

#include <random>
#include <sstream>

using namespace gripline;

namespace {

using Rows = std::vector<std::vector<std::string>>;

/// All rows that can be read; broken ones as {"!"}.
Rows read(const std::string& text) {
    std::istringstream in(text);
    CsvReader reader(in);
    Rows out;
    for (;;) {
        auto row = reader.next();
        if (!row) {
            out.push_back({"!"});
        } else if (*row) {
            out.push_back((*row)->fields);
        } else {
            return out;
        }
    }
}

std::string error_of(const std::string& text) {
    std::istringstream in(text);
    CsvReader reader(in);
    for (;;) {
        auto row = reader.next();
        if (!row) return row.error().message;
        if (!*row) return "";
    }
}

}  // namespace

TEST_CASE("rules 1 and 2: records end in CRLF, the last may have no line break") {
    CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read("aaa,bbb\nzzz,yyy\n") == Rows{{"aaa", "bbb"}, {"zzz", "yyy"}});
}

TEST_CASE("rule 4: spaces are part of a field, empty fields count") {
    CHECK(read("a, b ,,\n") == Rows{{"a", " b ", "", ""}});
}

TEST_CASE("rules 5 to 7: quoted fields hold line breaks, commas and doubled quotes") {
    CHECK(read("\"aaa\",\"b \r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") == Rows{{"aaa", "b \r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(read("\"aaa\",\"b\"\"bb\",\"c,c\"") == Rows{{"aaa", "b\"bb", "c,c"}});
    CHECK(read("\"\"\n") == Rows{{""}});
}

TEST_CASE("a byte-order mark is skipped; an empty file has no rows") {
    CHECK(read("\xEF\xBB\xBF"
               "a,b\n") == Rows{{"a", "b"}});
    CHECK(read("").empty());
    CHECK(read("\n\r\n\n").empty());
}

TEST_CASE("a broken row is an error that names its line, and reading goes on behind it") {
    CHECK(read("a,b\n\"x\"y,z\nc,d\n") == Rows{{"a", "b"}, {"!"}, {"c", "d"}});
    CHECK(read("a,b\nx\"y,z\nc,d\n") == Rows{{"a", "b"}, {"!"}, {"c", "d"}});
    CHECK(read("a,b\n\"never closed\nc,d\n") == Rows{{"a", "b"}, {"!"}});
    CHECK(error_of("a,b\n\"never closed\nc,d\n") == "line 2: a quote is opened and never closed");
    CHECK(error_of("a\n\"two\nlines\"\nx\"\n").starts_with("line 4: "));
    CHECK(error_of("a,b\n" + std::string(kMaxCsvField + 1, 'z') + "\n").starts_with("line 2: a field is longer"));
    CHECK(error_of(std::string(kMaxCsvFields + 1, ',')).starts_with("line 1: more than"));
}

TEST_CASE("garbage is read to its end without a crash or a hang") {
    std::mt19937 random(4180);  // NOLINT: the same garbage every time
    const std::string alphabet = std::string("\",\r\n\0\xEF\xBB\xBF x1", 11);
    for (int round = 0; round < 3000; ++round) {
        std::string text;
        for (unsigned length = random() % 200; length > 0; --length)
            text += random() % 4 == 0 ? static_cast<char>(random() % 256) : alphabet[random() % alphabet.size()];
        const Rows rows = read(text);
        CHECK(rows.size() <= text.size());
    }
}
