// Zip archives for tests, made by libzip from names and contents.
#pragma once

#include <zip.h>

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace gripline::test {

/// The bytes of an archive with these files, compressed.
inline std::string zip_archive(const std::vector<std::pair<std::string, std::string>>& files) {
    zip_source_t* const source = zip_source_buffer_create(nullptr, 0, 0, nullptr);
    zip_source_keep(source);
    zip_t* const archive = zip_open_from_source(source, ZIP_TRUNCATE, nullptr);
    for (const auto& [name, text] : files) zip_file_add(archive, name.c_str(), zip_source_buffer(archive, text.data(), text.size(), 0), 0);
    if (zip_close(archive) != 0) throw std::runtime_error("libzip can't make the archive");
    std::string out;
    zip_source_open(source);
    char block[4096];
    for (zip_int64_t got = 0; (got = zip_source_read(source, block, sizeof block)) > 0;) out.append(block, static_cast<std::size_t>(got));
    zip_source_close(source);
    zip_source_free(source);
    return out;
}

}  // namespace gripline::test
