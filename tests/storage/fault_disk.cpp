#include "tests/storage/fault_disk.h"

#include "tests/storage/support.h"

#include <sqlite3.h>

#include <algorithm>
#include <csignal>
#include <cstring>
#include <filesystem>
#include <map>
#include <optional>
#include <random>
#include <vector>

namespace rw::test {

namespace {

struct Change {
    std::int64_t offset = 0;
    std::optional<std::string> data; // none: cut off at offset
};
struct Image {
    std::optional<std::string> durable; // none: not on the disk for sure
    std::vector<Change> pending;
    bool deleted = false; // without the folder being synced
};
struct Disk {
    Fault fault;
    long steps = 0;
    bool happened = false, dead = false;
    std::map<std::string, Image> files;
};
Disk disk;

struct FaultFile {
    sqlite3_file base;
    std::string* path;
    sqlite3_file* real; // behind this struct
};

sqlite3_vfs* realVfs = nullptr;
FaultFile* own(sqlite3_file* file) { return reinterpret_cast<FaultFile*>(file); }

enum class Step { Go, Refuse, Tear };

// Counts one step; tells what to do with it.
Step step() {
    if (disk.dead) return Step::Refuse;
    ++disk.steps;
    if (disk.fault.kind == Fault::Kind::None || disk.steps < disk.fault.at) return Step::Go;
    const bool first = disk.steps == disk.fault.at;
    disk.happened = true;
    switch (disk.fault.kind) {
    case Fault::Kind::Kill:
        std::raise(SIGKILL);
        return Step::Refuse;
    case Fault::Kind::PowerCut:
        disk.dead = true;
        return Step::Tear;
    case Fault::Kind::FailOnce:
        return first ? Step::Refuse : Step::Go;
    case Fault::Kind::DiskFull:
        return Step::Refuse;
    case Fault::Kind::None:
        break;
    }
    return Step::Go;
}

int refusal(int otherwise) { return disk.fault.kind == Fault::Kind::DiskFull ? SQLITE_FULL : otherwise; }

void applyChange(std::string& content, const Change& change) {
    const auto offset = static_cast<std::size_t>(change.offset);
    if (!change.data) return content.resize(std::min(content.size(), offset));
    if (content.size() < offset + change.data->size()) content.resize(offset + change.data->size(), '\0');
    content.replace(offset, change.data->size(), *change.data);
}

int closeFile(sqlite3_file* file) {
    FaultFile* f = own(file);
    const int code = f->real->pMethods->xClose(f->real);
    delete f->path;
    return code;
}
int readFile(sqlite3_file* file, void* buffer, int amount, sqlite3_int64 offset) {
    return disk.dead ? SQLITE_IOERR_READ : own(file)->real->pMethods->xRead(own(file)->real, buffer, amount, offset);
}
int writeFile(sqlite3_file* file, const void* buffer, int amount, sqlite3_int64 offset) {
    FaultFile* f = own(file);
    const Step what = step();
    const Change change{offset, std::string(static_cast<const char*>(buffer), static_cast<std::size_t>(amount))};
    if (what == Step::Refuse) return refusal(SQLITE_IOERR_WRITE);
    disk.files[*f->path].pending.push_back(change);
    if (what == Step::Tear) return SQLITE_IOERR_WRITE;
    return f->real->pMethods->xWrite(f->real, buffer, amount, offset);
}
int truncateFile(sqlite3_file* file, sqlite3_int64 size) {
    FaultFile* f = own(file);
    const Step what = step();
    if (what == Step::Refuse) return SQLITE_IOERR_TRUNCATE;
    disk.files[*f->path].pending.push_back({size, {}});
    if (what == Step::Tear) return SQLITE_IOERR_TRUNCATE;
    return f->real->pMethods->xTruncate(f->real, size);
}
int syncFile(sqlite3_file* file, int) {
    FaultFile* f = own(file);
    if (step() != Step::Go) return SQLITE_IOERR_FSYNC;
    Image& image = disk.files[*f->path]; // the folder is synced with the first sync of a new file: os_unix.c, unixSync
    if (!image.durable) image.durable.emplace();
    for (const Change& change : image.pending)
        applyChange(*image.durable, change);
    image.pending.clear();
    return SQLITE_OK; // no need to wait for the real disk
}
int sizeFile(sqlite3_file* file, sqlite3_int64* size) {
    return disk.dead ? SQLITE_IOERR_FSTAT : own(file)->real->pMethods->xFileSize(own(file)->real, size);
}
int lockFile(sqlite3_file* file, int level) { return own(file)->real->pMethods->xLock(own(file)->real, level); }
int unlockFile(sqlite3_file* file, int level) { return own(file)->real->pMethods->xUnlock(own(file)->real, level); }
int reservedFile(sqlite3_file* file, int* out) {
    return own(file)->real->pMethods->xCheckReservedLock(own(file)->real, out);
}
int controlFile(sqlite3_file* file, int op, void* argument) {
    return own(file)->real->pMethods->xFileControl(own(file)->real, op, argument);
}
int sectorFile(sqlite3_file*) { return 512; }
int traitsFile(sqlite3_file*) { return 0; } // nothing is atomic, nothing survives by itself
int mapShared(sqlite3_file* file, int page, int size, int extend, void volatile** out) {
    return own(file)->real->pMethods->xShmMap(own(file)->real, page, size, extend, out);
}
int lockShared(sqlite3_file* file, int offset, int n, int flags) {
    return own(file)->real->pMethods->xShmLock(own(file)->real, offset, n, flags);
}
void barrierShared(sqlite3_file* file) { own(file)->real->pMethods->xShmBarrier(own(file)->real); }
int unmapShared(sqlite3_file* file, int remove) {
    return own(file)->real->pMethods->xShmUnmap(own(file)->real, remove);
}

const sqlite3_io_methods methods{2,          closeFile, readFile,   writeFile,     truncateFile, syncFile,
                                 sizeFile,   lockFile,  unlockFile, reservedFile,  controlFile,  sectorFile,
                                 traitsFile, mapShared, lockShared, barrierShared, unmapShared,  nullptr,
                                 nullptr};

int openFile(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* outFlags) {
    FaultFile* f = own(file);
    f->base.pMethods = nullptr;
    f->real = reinterpret_cast<sqlite3_file*>(f + 1);
    if (disk.dead) return SQLITE_CANTOPEN;
    const std::string path = name == nullptr ? "" : name;
    const bool there = name != nullptr && std::filesystem::exists(path);
    const int code = realVfs->xOpen(realVfs, name, f->real, flags, outFlags);
    if (code != SQLITE_OK) return code;
    f->path = new std::string(path);
    f->base.pMethods = &methods;
    const auto [entry, first] = disk.files.try_emplace(path);
    if (first && there) entry->second.durable = readBytes(path);
    if (!there) entry->second = Image{};
    return SQLITE_OK;
}
int deleteFile(sqlite3_vfs*, const char* name, int syncFolder) {
    if (step() != Step::Go) return SQLITE_IOERR_DELETE;
    const int code = realVfs->xDelete(realVfs, name, 0);
    if (syncFolder != 0)
        disk.files.erase(name);
    else
        disk.files[name].deleted = true;
    return code;
}
int accessFile(sqlite3_vfs*, const char* name, int flags, int* out) {
    return realVfs->xAccess(realVfs, name, flags, out);
}

} // namespace

void registerFaultDisk() {
    static sqlite3_vfs shim;
    if (realVfs != nullptr) return;
    realVfs = sqlite3_vfs_find(nullptr);
    shim = *realVfs;
    shim.zName = faultVfs;
    shim.szOsFile = static_cast<int>(sizeof(FaultFile)) + realVfs->szOsFile;
    shim.xOpen = openFile;
    shim.xDelete = deleteFile;
    shim.xAccess = accessFile;
    sqlite3_vfs_register(&shim, 0);
}

void plan(const Fault& fault) {
    disk = Disk{};
    disk.fault = fault;
}
long stepsSeen() { return disk.steps; }
bool faultHappened() { return disk.happened; }

void losePower() {
    std::mt19937 random(disk.fault.seed + static_cast<std::uint32_t>(disk.fault.at));
    constexpr std::size_t sector = 512;
    for (auto& [path, image] : disk.files) {
        if (path.empty() || path.ends_with("-shm")) continue;
        const bool found = image.durable || !image.pending.empty();
        if (!image.durable && (random() % 2 == 0 || !found)) { // never synced: perhaps the name never reached the disk
            std::filesystem::remove(path);
            continue;
        }
        if (image.deleted && random() % 2 == 0) continue; // the deletion reached the disk
        std::string content = image.durable.value_or("");
        for (Change& change : image.pending) {
            const auto lot = random() % 3;
            if (lot == 0) continue;
            if (lot == 1 && change.data && change.data->size() > sector)
                change.data->resize((random() % (change.data->size() / sector)) * sector);
            applyChange(content, change);
        }
        writeBytes(path, content);
    }
    for (const auto& [path, image] : disk.files)
        std::filesystem::remove(path + "-shm");
    disk = Disk{};
}

} // namespace rw::test
