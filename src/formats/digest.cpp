#include "formats/digest.h"

#include <nettle/sha2.h>

#include <array>
#include <fstream>

namespace gripline {
namespace {

class Sha256 {
public:
    Sha256() { sha256_init(&state_); }
    void take(const char* bytes, std::size_t count) { sha256_update(&state_, count, reinterpret_cast<const std::uint8_t*>(bytes)); }
    std::string hex() {
        std::array<std::uint8_t, SHA256_DIGEST_SIZE> digest{};
        sha256_digest(&state_, digest.size(), digest.data());
        constexpr std::string_view kDigits = "0123456789abcdef";
        std::string out;
        for (const std::uint8_t byte : digest) {
            out += kDigits[byte >> 4U];
            out += kDigits[byte & 15U];
        }
        return out;
    }

private:
    sha256_ctx state_{};
};

}  // namespace

std::string sha256_hex(std::string_view bytes) {
    Sha256 sha;
    sha.take(bytes.data(), bytes.size());
    return sha.hex();
}

Result<std::string> sha256_of_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) return Error{path.string() + ": can't be opened; check its name and that you may read it"};
    Sha256 sha;
    std::array<char, 65536> block{};
    while (in.read(block.data(), block.size()) || in.gcount() > 0) sha.take(block.data(), static_cast<std::size_t>(in.gcount()));
    if (in.bad()) return Error{path.string() + ": can't be read to its end"};
    return sha.hex();
}

}  // namespace gripline
