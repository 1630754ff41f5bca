#include "formats/mxl.h"

#include <zip.h>

#include <algorithm>
#include <array>
#include <memory>

#include "base/text.h"
#include "formats/xml.h"

namespace gripline {

namespace {

// MusicXML 4.0, "Compressed .mxl files".
constexpr const char* kMediaType = "application/vnd.recordare.musicxml";
constexpr const char* kScoreType = "application/vnd.recordare.musicxml+xml";
constexpr const char* kContainer = "META-INF/container.xml";
constexpr const char* kScore = "score.musicxml";
constexpr std::size_t kMostContainer_bytes = 64U << 10U;
constexpr zip_uint64_t kDosDay = 0x5021, kDosTime = 0;  // 1 January 2020: the same score gives the same bytes

struct CloseSource {
    void operator()(zip_source_t* source) const { zip_source_free(source); }
};
struct Discard {
    void operator()(zip_t* archive) const { zip_discard(archive); }
};
struct CloseFile {
    void operator()(zip_file_t* file) const { zip_fclose(file); }
};
using Source = std::unique_ptr<zip_source_t, CloseSource>;
using Archive = std::unique_ptr<zip_t, Discard>;
using File = std::unique_ptr<zip_file_t, CloseFile>;

Error failed(const std::string& what, zip_error_t* error) { return {what + ": " + zip_error_strerror(error)}; }

bool add(zip_t* archive, const char* name, const std::string& text, zip_int32_t method) {
    zip_source_t* const source = zip_source_buffer(archive, text.data(), text.size(), 0);
    if (!source) return false;
    const zip_int64_t index = zip_file_add(archive, name, source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
        zip_source_free(source);
        return false;
    }
    const auto at = static_cast<zip_uint64_t>(index);
    return zip_set_file_compression(archive, at, method, 0) == 0 && zip_file_set_dostime(archive, at, static_cast<zip_uint16_t>(kDosTime), static_cast<zip_uint16_t>(kDosDay), 0) == 0;
}

std::string container_xml() {
    const XmlDocument document;
    document.top().add("container").add("rootfiles").add("rootfile").set("full-path", kScore).set("media-type", kScoreType);
    return document.text();
}

/// The whole of a file, unless it is longer than `most_bytes`: the head of an archive may lie, so what is unpacked is counted.
Result<std::string> unpacked(zip_t* archive, const std::string& name, std::size_t most_bytes) {
    const File file(zip_fopen(archive, name.c_str(), 0));
    if (!file) return Error{quoted(name) + " in the archive can't be read: " + zip_strerror(archive)};
    std::string out;
    std::array<char, 16384> block{};
    for (;;) {
        const zip_int64_t got = zip_fread(file.get(), block.data(), block.size());
        if (got < 0) return Error{quoted(name) + " in the archive is damaged: " + zip_file_strerror(file.get())};
        if (got == 0) return out;
        if (out.size() + static_cast<std::size_t>(got) > most_bytes) return Error{quoted(name) + " in the archive is more than " + std::to_string(most_bytes) + " bytes long when unpacked; that is no score"};
        out.append(block.data(), static_cast<std::size_t>(got));
    }
}

Result<std::string> score_name(zip_t* archive) {
    if (zip_name_locate(archive, kContainer, 0) < 0) return Error{std::string("the archive has no ") + kContainer + "; this is no .mxl file"};
    const auto text = unpacked(archive, kContainer, kMostContainer_bytes);
    if (!text) return text.error();
    const auto document = XmlDocument::parse(*text);
    if (!document) return Error{std::string(kContainer) + ": " + document.error().message};
    for (XmlNode file = document->root().child("rootfiles").child("rootfile"); file; file = file.next("rootfile")) {
        const std::string type = file.attribute("media-type"), path = file.attribute("full-path");
        if (path.empty() || !(type.empty() || type == kScoreType)) continue;
        if (zip_name_locate(archive, path.c_str(), 0) < 0) return Error{std::string(kContainer) + " names " + quoted(path) + ", but the archive has no such file"};
        return path;
    }
    return Error{std::string(kContainer) + " names no score"};
}

}  // namespace

Result<std::string> mxl_bytes(const std::string& music_xml) {
    zip_error_t error;
    zip_error_init(&error);
    const Source source(zip_source_buffer_create(nullptr, 0, 0, &error));
    if (!source) return failed("the archive can't be made", &error);
    zip_source_keep(source.get());  // the archive frees one hold of it, we the other
    Archive archive(zip_open_from_source(source.get(), ZIP_TRUNCATE, &error));
    if (!archive) {
        zip_source_free(source.get());
        return failed("the archive can't be made", &error);
    }
    const std::string type = kMediaType, container = container_xml();
    const bool added = add(archive.get(), "mimetype", type, ZIP_CM_STORE) && add(archive.get(), kContainer, container, ZIP_CM_DEFLATE) && add(archive.get(), kScore, music_xml, ZIP_CM_DEFLATE);
    if (!added || zip_close(archive.get()) < 0) return Error{std::string("the archive can't be made: ") + zip_strerror(archive.get())};
    static_cast<void>(archive.release());  // closed, and so freed
    if (zip_source_open(source.get()) < 0) return failed("the archive can't be read back", zip_source_error(source.get()));
    std::string out;
    std::array<char, 16384> block{};
    for (zip_int64_t got = 0; (got = zip_source_read(source.get(), block.data(), block.size())) > 0;) out.append(block.data(), static_cast<std::size_t>(got));
    zip_source_close(source.get());
    return out;
}

Result<std::string> read_mxl(std::string_view bytes) {
    if (bytes.empty()) return Error{"the file is empty"};
    if (bytes.size() > kMostMxl_bytes) return Error{"the file is " + std::to_string(bytes.size()) + " bytes long, at most " + std::to_string(kMostMxl_bytes) + " are read"};
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* const source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
    if (!source) return failed("the archive can't be read", &error);
    const Archive archive(zip_open_from_source(source, ZIP_RDONLY, &error));
    if (!archive) {
        zip_source_free(source);
        return failed("the archive can't be read, is this an .mxl file", &error);
    }
    if (const zip_int64_t files = zip_get_num_entries(archive.get(), 0); files > kMostMxlFiles)
        return Error{"the archive has " + std::to_string(files) + " files, at most " + std::to_string(kMostMxlFiles) + " are read; this is no .mxl file"};
    const auto name = score_name(archive.get());
    if (!name) return name.error();
    return unpacked(archive.get(), *name, kMostUnpacked_bytes);
}

}  // namespace gripline
