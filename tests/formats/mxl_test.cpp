// Compressed MusicXML: written and read back; archives that are damaged, hostile or no scores. Archives with flaws are made here byte by byte, or by libzip.
#include <doctest/doctest.h>

#include "formats/chart_music_xml.h"
#include "formats/music_xml_reader.h"
#include "formats/mxl.h"
#include "formats/round_trip.h"
#include "support/zip_archive.h"

using namespace gripline;
using test::zip_archive;

namespace {

std::string container(const std::string& path) { return "<container><rootfiles><rootfile full-path=\"" + path + "\"/></rootfiles></container>"; }
std::string read(const std::string& bytes) {
    const auto made = read_mxl(bytes);
    return made ? *made : made.error().message;
}

}  // namespace

TEST_CASE("a chart goes into an archive and out of it") {
    const Chart chart = *library_chart("slate-roofs");
    const std::string score = chart_music_xml(chart);
    const auto bytes = mxl_bytes(score);
    REQUIRE(bytes);
    CHECK(bytes->size() < score.size() / 4);
    CHECK(*read_mxl(*bytes) == score);
    CHECK(read_music_xml(*read_mxl(*bytes))->chart == chart);
    CHECK(*mxl_bytes(score) == *bytes);
    // MusicXML 4.0: the media type stands first and is not compressed, so that it can be seen at byte 38.
    CHECK(bytes->substr(30, 8) == "mimetype");
    CHECK(bytes->substr(38, 34) == "application/vnd.recordare.musicxml");
}

TEST_CASE("archives of other programs: the score under any name, other renderings beside it") {
    CHECK(read(zip_archive({{"META-INF/container.xml", container("deep/down/tune.xml")}, {"deep/down/tune.xml", "<a/>"}})) == "<a/>");
    const std::string two = "<container><rootfiles><rootfile full-path=\"x.pdf\" media-type=\"application/pdf\"/><rootfile full-path=\"x.xml\"/></rootfiles></container>";
    CHECK(read(zip_archive({{"x.pdf", "%PDF"}, {"x.xml", "<b/>"}, {"META-INF/container.xml", two}})) == "<b/>");
}

TEST_CASE("archives that can't be read are refused with what is wrong") {
    const std::string good = *mxl_bytes(chart_music_xml(*library_chart("blues")));
    std::string flipped = good;
    flipped[good.size() / 2] = static_cast<char>(flipped[good.size() / 2] ^ 0x55);
    std::vector<std::pair<std::string, std::string>> many;
    for (int i = 0; i < 1001; ++i) many.emplace_back(std::to_string(i), "");
    std::string encrypted = zip_archive({{"META-INF/container.xml", container("a.xml")}, {"a.xml", "<a/>"}});
    for (std::size_t at = encrypted.find("PK\3\4"); at != std::string::npos; at = encrypted.find("PK\3\4", at + 1)) encrypted[at + 6] = static_cast<char>(encrypted[at + 6] | 1);
    for (std::size_t at = encrypted.find("PK\1\2"); at != std::string::npos; at = encrypted.find("PK\1\2", at + 1)) encrypted[at + 8] = static_cast<char>(encrypted[at + 8] | 1);
    const std::pair<std::string, std::string> rows[] = {
        {"", "the file is empty"},
        {"no archive at all", "the archive can't be read, is this an .mxl file: "},
        {"<?xml version=\"1.0\"?><score-partwise/>", "the archive can't be read, is this an .mxl file: "},
        {good.substr(0, good.size() - 10), "the archive can't be read, is this an .mxl file: "},
        {good.substr(0, 100), "the archive can't be read, is this an .mxl file: "},
        {flipped, "\"score.musicxml\" in the archive is damaged: "},
        {encrypted, "\"META-INF/container.xml\" in the archive can't be read: "},
        {zip_archive({{"tune.xml", "<a/>"}}), "the archive has no META-INF/container.xml"},
        {zip_archive({{"META-INF/container.xml", "<container"}}), "META-INF/container.xml: line 1: the XML can't be read"},
        {zip_archive({{"META-INF/container.xml", "<container/>"}}), "META-INF/container.xml names no score"},
        {zip_archive({{"META-INF/container.xml", container("gone.xml")}}), "META-INF/container.xml names \"gone.xml\", but the archive has no such file"},
        {zip_archive({{"META-INF/container.xml", container("../../etc/hostname")}}), "META-INF/container.xml names \"../../etc/hostname\", but the archive has no such file"},
        {zip_archive({{"META-INF/container.xml", std::string(70000, ' ')}}), "\"META-INF/container.xml\" in the archive is more than 65536 bytes long when unpacked"},
        {zip_archive(many), "the archive has 1001 files, at most 1000 are read"},
        {std::string(17U << 20U, 'x'), "the file is 17825792 bytes long, at most 16777216 are read"},
    };
    for (const auto& [bytes, message] : rows) {
        CAPTURE(message);
        const std::string said = read(bytes);
        CHECK_MESSAGE(said.starts_with(message), said);
    }
}

TEST_CASE("a zip bomb is left off at the bound: 64 MiB of blanks in 64 KiB") {
    const std::string bomb = zip_archive({{"META-INF/container.xml", container("a.xml")}, {"a.xml", std::string(64U << 20U, ' ')}});
    CHECK(bomb.size() < 100000);
    CHECK(read(bomb).starts_with("\"a.xml\" in the archive is more than 16777216 bytes long when unpacked"));
}
