#include "ui/kept_guitars.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>

#include "base/text.h"
#include "formats/guitar_toml.h"
#include "practice/history_file.h"

namespace gripline {

namespace {

namespace fs = std::filesystem;

const char* const kMend = "; set it up again with gripline guitar set-up, or delete it with gripline guitar delete";

Error system_error(const fs::path& path, const char* what) { return {path.string() + ": " + what + ": " + std::strerror(errno)}; }

Result<GuitarProfile> read_file(const fs::path& file) {
    std::error_code error;
    if (!fs::is_regular_file(file, error)) return Error{file.string() + ": is no file" + kMend};
    std::ifstream in(file, std::ios::binary);
    if (!in) return Error{file.string() + ": can't be opened; see that you may read it"};
    std::string text(kMostGuitar_bytes + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(std::max<std::streamsize>(in.gcount(), 0)));
    auto profile = parse_guitar(text);
    if (!profile) return Error{file.string() + ": " + profile.error().message + kMend};
    return profile;
}

/// The whole text, waited for until it is on the disk.
bool write_all(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(descriptor, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return ::fsync(descriptor) == 0;
}

}  // namespace

fs::path guitars_folder() {
    const fs::path history = history_path();
    return history.empty() ? fs::path() : history.parent_path() / "guitars";
}

std::string guitar_file_name(const std::string& name) {
    constexpr std::string_view kDigits = "0123456789abcdef";
    std::string out;
    for (const char c : name) {
        const auto byte = static_cast<unsigned char>(c);
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
        if (plain) out += c;
        else if (c == ' ') out += '+';
        else ((out += '%') += kDigits[byte >> 4U]) += kDigits[byte & 15U];
    }
    return out + ".toml";
}

std::vector<KeptGuitar> kept_guitars(const fs::path& folder) {
    std::vector<KeptGuitar> out;
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        if (at->path().extension() == ".toml") out.push_back({at->path(), read_file(at->path())});
    }
    std::sort(out.begin(), out.end(), [](const KeptGuitar& a, const KeptGuitar& b) { return a.file < b.file; });
    return out;
}

Result<std::optional<GuitarProfile>> load_guitar(const fs::path& folder, const std::string& name) {
    std::error_code error;
    const fs::path file = folder / guitar_file_name(name);
    if (folder.empty() || !fs::exists(fs::symlink_status(file, error))) return std::optional<GuitarProfile>();
    auto profile = read_file(file);
    if (!profile) return profile.error();
    if (profile->name != name) return Error{file.string() + ": holds the guitar " + gripline::quoted(profile->name) + ", not " + gripline::quoted(name) + kMend};
    return std::optional(std::move(*profile));
}

std::optional<Error> keep_guitar(const fs::path& folder, const GuitarProfile& profile) {
    if (folder.empty()) return Error{"the guitar is not kept: neither XDG_DATA_HOME nor HOME names a folder"};
    std::error_code error;
    fs::create_directories(folder.parent_path(), error);
    if (::mkdir(folder.c_str(), S_IRWXU) != 0 && errno != EEXIST) return system_error(folder, "the guitars' folder can't be made");
    const fs::path file = folder / guitar_file_name(profile.name);
    std::string fresh = file.string() + ".XXXXXX";
    const int descriptor = ::mkstemp(fresh.data());  // private from the beginning
    if (descriptor < 0) return system_error(folder, "the guitar is not kept");
    const bool whole = write_all(descriptor, guitar_toml(profile));
    const auto failed = whole ? std::nullopt : std::optional(system_error(fresh, "the guitar is not kept"));
    ::close(descriptor);
    if (!failed && ::rename(fresh.c_str(), file.c_str()) == 0) return std::nullopt;
    const Error what = failed ? *failed : system_error(file, "the guitar is not kept");
    ::unlink(fresh.c_str());
    return what;
}

Result<bool> delete_guitar(const fs::path& folder, const std::string& name) {
    if (folder.empty()) return false;
    const fs::path file = folder / guitar_file_name(name);
    if (::unlink(file.c_str()) == 0) return true;
    if (errno == ENOENT) return false;
    return system_error(file, "it can't be deleted");
}

std::shared_ptr<const KnownGuitar> known_guitar_named(const std::string& name, std::vector<std::string>& complaints) {
    if (name.empty()) return nullptr;
    const auto profile = load_guitar(guitars_folder(), name);
    if (!profile) complaints.push_back(profile.error().message + ". Going on without it");
    if (!profile || !*profile) return nullptr;
    return std::make_shared<const KnownGuitar>(known_guitar(**profile));
}

Result<std::shared_ptr<const KnownGuitar>> asked_guitar(const std::string& name) {
    if (name.empty()) return std::shared_ptr<const KnownGuitar>();
    const auto profile = load_guitar(guitars_folder(), name);
    if (!profile) return profile.error();
    if (*profile) return std::shared_ptr<const KnownGuitar>(std::make_shared<const KnownGuitar>(known_guitar(**profile)));
    std::string known;
    for (const KeptGuitar& kept : kept_guitars(guitars_folder()))
        if (kept.profile) known += (known.empty() ? "; set up are " : ", ") + gripline::quoted(kept.profile->name);
    return Error{"--guitar " + gripline::quoted(name) + ": no such guitar is set up" + (known.empty() ? "; gripline guitar set-up NAME gets to know one" : known)};
}

std::shared_ptr<const KnownGuitar> known_guitar_wished(const KeepingWishes& wishes, const Settings& settings, std::vector<std::string>& complaints) {
    return known_guitar_named(std::string(trimmed(wishes.guitar.value_or(settings.guitar))), complaints);
}

}  // namespace gripline
